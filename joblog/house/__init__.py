"""A house by its sides: whether the walk around it closes, and the runs that it is made of."""
