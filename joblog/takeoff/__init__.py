"""From measured runs to what they need. Knows no book and no job."""
