"""Buying, and orders to suppliers."""
