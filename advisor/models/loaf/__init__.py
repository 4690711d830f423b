"""The loaf: how far it rises, what sets when, and what the oven leaves of it."""
