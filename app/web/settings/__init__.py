"""The shop's settings, its cutters and the first run."""
