"""A `Formula` to measures: composition, hydration, structure, leavening, yeast, baking, volume."""
