"""Making the general model: its weights read, pruned, trained on, and written as two graphs."""
