"""The rules of the trade as a page."""
