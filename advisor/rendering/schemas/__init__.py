"""JSON Schema of what the commands print."""
