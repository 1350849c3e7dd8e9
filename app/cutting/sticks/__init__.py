"""Plans for sticks: our simple rule, the solver's plans, and frames brought together."""
