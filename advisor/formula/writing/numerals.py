"""How a number is written so that it reads back as the same number, and how a person would write it."""

from __future__ import annotations

from decimal import Decimal


def plain_number(value: float) -> str:
    """Give a number with every digit that it needs down to 1e-40, and no exponent."""
    whole, _, rest = format(Decimal(repr(float(value))), "f").partition(".")
    rest = rest[:40].rstrip("0")
    return f"{whole}.{rest}" if rest else whole


def weighed(grams: float) -> float:
    """Give grams as a kitchen weighs them: whole from 20 g on, tenths from 1 g, hundredths below; never nothing.

    Steps of a kitchen's scale and of a spoon scale: common practice, no source.
    """
    size = abs(grams)
    found = round(grams, 0 if size >= 20 else 1 if size >= 1 else 2)
    if found or not grams:
        return found
    least = float(f"{grams:.1g}")
    return round(least, 2) or least  # half a hundredth is a hundredth, now as when it is read again


def kitchen_grams(grams: float) -> str:
    """Write grams as a kitchen weighs them."""
    return plain_number(weighed(grams))


def plain_measure(value: float) -> float:
    """Give degrees, minutes or a length as a baker reads them: three figures that count, whole from 100 on."""
    size = abs(value)
    return round(value, 0 if size >= 100 else 1 if size >= 10 else 2)
