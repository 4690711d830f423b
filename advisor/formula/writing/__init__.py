"""A formula written out again: text, YAML, percentages, a weighing list, a label."""
