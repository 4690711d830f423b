"""What bakers call breads that are baked as single pieces: one list for titles, yields, sentences and defaults."""

from __future__ import annotations

PIECES = (
    "roll", "bun", "bagel", "bap", "muffin", "biscuit", "scone", "flatbread", "breadstick", "wrap", "bao", "mantou",
)  # fmt: skip
PIECE = rf"(?:{'|'.join(PIECES)})s?"
"""Pattern for one piece or several."""
SEVERAL = rf"(?:{'|'.join((*PIECES, 'round'))})s"
"""Pattern for several alone: muffins are pieces, but a muffin loaf and a round loaf are one loaf."""
ROPES = r"\b(?:rings?|ropes?|twists?|bagels?|pretzels?|(?:bread\s?)?sticks?|batons?|grissini)\b"
"""Pattern for pieces that are rolled to a rope, whatever is made of it."""
