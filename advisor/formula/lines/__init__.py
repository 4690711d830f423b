"""One ingredient line: amounts, units, names, states, and grams."""
