"""The section through the rebate."""
