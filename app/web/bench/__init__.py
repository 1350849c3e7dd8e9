"""The page of a piece at the bench."""
