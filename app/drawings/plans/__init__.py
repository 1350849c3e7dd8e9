"""Cutting plans drawn: sticks and sheets as they are cut up."""
