"""How a number is written so that it reads back as the same number, and how a person would write it."""

from __future__ import annotations

from decimal import Decimal


def plain_number(value: float) -> str:
    """Give a number with every digit that it needs down to 1e-40, and no exponent."""
    whole, _, rest = format(Decimal(repr(float(value))), "f").partition(".")
    rest = rest[:40].rstrip("0")
    return f"{whole}.{rest}" if rest else whole


def grams_for_people(grams: float) -> str:
    """Give grams with three figures that count: 0.31, 4.6, 56, 1250."""
    if grams >= 100:
        return f"{grams:.0f}"
    return f"{grams:.3g}"
