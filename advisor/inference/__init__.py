"""Measures and symptoms to conclusions: facts, compiling rules, the two engines, the proof tree."""
