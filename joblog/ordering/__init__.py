"""What to buy: what a job needs, what earlier jobs foresee of it, whole packs, and its plan."""
