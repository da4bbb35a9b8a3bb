"""What to buy: what a take-off or a plan needs, what was learned, and whole packs."""
