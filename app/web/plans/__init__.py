"""Cutting plans: asked for, made, kept, ticked and booked."""
