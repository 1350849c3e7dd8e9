"""Forms as tables: fields declared once, typed text read by them, values written back."""
