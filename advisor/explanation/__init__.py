"""One answer to a formula, in the order and the words in which every face tells it."""
