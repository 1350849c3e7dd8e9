"""Routes: a form or an address in, one service call, one page model or a redirect out."""
