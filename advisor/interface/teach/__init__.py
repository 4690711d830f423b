"""Lessons on a screen, as text and as Markdown."""
