"""One lever at a time: what it turns, how far, and what it does."""
