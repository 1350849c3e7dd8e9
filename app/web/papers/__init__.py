"""Documents and window files as downloads."""
