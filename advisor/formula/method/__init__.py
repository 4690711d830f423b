"""Sentences of a method: what they say of the process, and what is kept as a remark."""
