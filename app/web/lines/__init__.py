"""Lines without a piece: the page that sells one, and every act on those of an order."""
