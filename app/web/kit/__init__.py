"""What every page uses: forms, lists, templates, the request's context, errors, the guard."""
