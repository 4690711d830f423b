"""Causes to grams and minutes: levers, solver, verified plan."""
