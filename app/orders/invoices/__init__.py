"""Invoices and credit notes: what they charge, and what they say once issued."""
