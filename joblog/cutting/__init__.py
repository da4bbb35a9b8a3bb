"""What to cut from which stick, with the least stock. Needs no book and no job."""
