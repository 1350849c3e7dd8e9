"""Pieces of an order on a wall, for the customer to look at."""
