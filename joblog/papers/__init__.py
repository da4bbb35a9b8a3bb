"""Papers to hand over: what a page says, as blocks, and the two ways it is written, HTML and PDF."""
