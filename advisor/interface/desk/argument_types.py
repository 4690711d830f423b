"""What an argument must be: a share, a number from 0 upwards, a count, or a heat in C or F."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable

_HEAT = re.compile(
    r"(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*(?:deg(?:rees)?|°)?\s*(?P<unit>[CF]?)", re.IGNORECASE
)
MOST_LOAVES = 2000
_FREEZING_F, _F_IN_C = 32.0, 1.8


def share(text: str) -> float:
    """Read a share from 0 to 1."""
    value = positive(text)
    if value > 1:
        raise argparse.ArgumentTypeError(f"'{text}' is no share between 0 and 1")
    return value


def positive(text: str) -> float:
    """Read a number from 0 upwards."""
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not 0 <= value < 1e6:
        raise argparse.ArgumentTypeError(f"'{text}' is no number from 0 upwards")
    return value


def count_to(most: int) -> Callable[[str], int]:
    """What reads a count from 1 up to this."""

    def read(text: str) -> int:
        if not (text.isascii() and text.isdecimal()) or not 1 <= int(text[:9]) <= most:
            raise argparse.ArgumentTypeError(f"'{text[:20]}' is no count from 1 to {most}")
        return int(text)

    return read


count, loaves = count_to(64), count_to(MOST_LOAVES)


def port(text: str) -> int:
    """Read a port from 1024 to 65535; 0 is any that is free."""
    if not (text.isascii() and text.isdigit()) or (int(text[:6]) and not 1024 <= int(text[:6]) <= 65535):
        raise argparse.ArgumentTypeError(f"'{text[:20]}' is no port from 1024 to 65535")
    return int(text)


def celsius(text: str) -> float:
    """Read a heat such as 96, 96C or 205F, and give it in C."""
    found = _HEAT.fullmatch(text.strip())
    if found is None:
        raise argparse.ArgumentTypeError(f"'{text}' is no heat; write it such as 96C or 205F")
    value = float(found["number"].replace(",", "."))
    return (value - _FREEZING_F) / _F_IN_C if found["unit"].upper() == "F" else value
