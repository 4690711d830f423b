"""Gas: acids and soda, yeast, and both on one clock."""
