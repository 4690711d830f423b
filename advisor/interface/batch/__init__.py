"""Many formulas at once."""
