"""First formulas, better ones and their tolerances as blocks."""
