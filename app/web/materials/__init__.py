"""The price book: its list, form, file and price rises."""
