"""Papers to hand over: what a page says, as blocks, and how it is written, as HTML and as PDF."""
