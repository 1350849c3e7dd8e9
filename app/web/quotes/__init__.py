"""The quote page."""
