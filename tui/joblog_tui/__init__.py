"""The day review in a terminal: reads the book, asks only about what is doubtful."""
