"""The web: pages, forms and JSON around the services. Arithmetic happens below it."""
