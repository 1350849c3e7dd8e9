"""Dimension lines, running dimensions and the figures on them."""
