"""The faces of the assistant: command line, prompts, tables, JSON."""
