"""Answers as text, HTML, Markdown, JSON and pictures; knows no baking."""
