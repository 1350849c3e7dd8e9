"""The page that describes the JSON."""
