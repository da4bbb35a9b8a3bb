"""One widget a file, with its style beside it."""
