"""The bid: from a plan, chances and a person's numbers to a price, and what became of it. Pure."""
