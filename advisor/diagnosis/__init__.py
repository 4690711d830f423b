"""Conclusions to probabilities: cause graph, noisy-OR, next question."""
