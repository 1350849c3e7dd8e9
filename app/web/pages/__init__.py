"""Page models: one frozen value for each page, made from domain values and ready to print."""
