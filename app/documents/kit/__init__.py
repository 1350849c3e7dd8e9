"""What every document uses: setting it as PDF, printing figures, pictures, sums."""
