"""What the shop prints: the workshop ticket and the customer's quote.

Owns page models, their templates and the way to PDF. It reads orders as values; it stores nothing
and knows nothing of web pages.
"""
