"""What the dimensions of a possible piece call for saying: notices, care, weight and hanging."""
