"""From measured runs to material, pieces and hours, by formulas in a table of kinds of work."""
