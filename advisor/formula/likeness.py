"""Which known names a misspelt one is most like: only ever offered to the writer, never taken."""

from __future__ import annotations

from collections.abc import Sequence


def most_like(word: str, known: Sequence[str], count: int) -> tuple[tuple[str, float], ...]:
    """Give the known names most like a word or a part of it, best first, with likeness from 0 to 100."""
    from rapidfuzz import fuzz, process  # only a fault needs it

    return tuple(
        (name, score) for name, score, _ in process.extract(word, known, scorer=fuzz.WRatio, limit=count)
    )


def spelt_like(word: str, known: Sequence[str], least: float) -> str | None:
    """Give the known name spelt most like a whole word, if its likeness is at least so much."""
    from rapidfuzz import fuzz, process  # only a fault needs it

    found = process.extractOne(word, known, scorer=fuzz.ratio, score_cutoff=least)
    return found[0] if found else None


def likeness(one: str, other: str) -> float:
    """Give how alike two whole words are spelt, from 0 to 100."""
    from rapidfuzz import fuzz  # only a fault needs it

    return float(fuzz.ratio(one, other))
