"""Formula text to a `Formula`: line grammar, units, matching a name to an ingredient, process lines."""
