"""Buying: what open work takes, what is to be bought of it, and orders to suppliers."""
