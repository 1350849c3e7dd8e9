"""The customer's quote and the confirmation of an order."""
