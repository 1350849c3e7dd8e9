"""Finding from anywhere."""
