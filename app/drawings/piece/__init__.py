"""The piece from the front: as it will look, and with its measures."""
