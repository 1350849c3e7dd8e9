"""What pages show of a piece, wherever it stands: drawing, price, stock, plans."""
