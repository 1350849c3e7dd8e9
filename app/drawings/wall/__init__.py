"""Pieces on a wall, with a thing beside or beneath them to scale."""
