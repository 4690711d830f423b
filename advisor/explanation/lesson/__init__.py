"""A lesson worked out: its steps, its questions, and what the assistant answers."""
