"""Typed loading of knowledge/ and rules/: one schema a file kind, one error type."""
