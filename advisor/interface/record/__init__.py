"""Bakes put into the record and shown."""
