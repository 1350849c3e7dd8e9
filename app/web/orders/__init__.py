"""The page of a quote or order, its invoices, and their lists."""
