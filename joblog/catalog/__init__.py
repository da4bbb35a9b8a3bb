"""What he buys and does: the starter catalog, changing it, and taking it in from a table."""
