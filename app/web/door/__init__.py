"""Who is let in: whoever sits at this machine, and phones that were paired with it."""
