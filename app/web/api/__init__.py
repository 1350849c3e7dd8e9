"""The JSON contract: everything the pages work out, for programs."""
