"""From a posted form to a value of the domain, and back to the text that its fields begin with."""
