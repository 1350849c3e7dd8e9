"""Plain line drawings of how each step of the work is done, a few strokes each."""
