"""Writing formulas: a first one from what is at hand, a better one towards an aim, and how far each line may go."""
