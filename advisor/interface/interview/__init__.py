"""The talk after a failed loaf."""
