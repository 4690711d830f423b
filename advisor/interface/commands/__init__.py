"""A module a command: its arguments, its manual and its run."""
