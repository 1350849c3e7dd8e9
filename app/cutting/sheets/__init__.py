"""Plans for sheets: our simple rule and the solver's plans, cut from edge to edge."""
