"""The dough: composition, water, protein, heat properties, and what is assumed of it."""
