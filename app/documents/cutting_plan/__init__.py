"""The printed cutting plan."""
