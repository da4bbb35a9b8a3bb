"""Sound in: any recording decoded, when it was made, and where in it somebody speaks."""
