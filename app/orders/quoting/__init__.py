"""From what is typed on the quote page to an agreed piece: reading, working out, pricing, freezing."""
