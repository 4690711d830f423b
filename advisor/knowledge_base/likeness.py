"""Which known names a misspelt one is most like: only ever offered to the writer, never taken."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

_LEAST = 60.0
"""Likeness below which what is offered has little more in common with a word than its length."""


def nearest(word: str, known: Iterable[str], count: int = 3, least: float = _LEAST) -> tuple[str, ...]:
    """Give the known names spelt most like a word, best first; `least` is the likeness asked for, from 0 to 100."""
    from rapidfuzz import fuzz, process  # only a fault needs it

    found = process.extract(word, list(known), scorer=fuzz.ratio, limit=count, score_cutoff=least)
    return tuple(name for name, _, _ in found)


def most_like(word: str, known: Sequence[str], count: int) -> tuple[tuple[str, float], ...]:
    """Give the known names most like a word or a part of it, best first, with likeness from 0 to 100."""
    from rapidfuzz import fuzz, process  # only a fault needs it

    return tuple(
        (name, score) for name, score, _ in process.extract(word, known, scorer=fuzz.WRatio, limit=count)
    )


def within_letters(word: str, known: Iterable[str], off: int) -> tuple[str, ...]:
    """Give the known words that begin alike and differ by at most so many letters, left out, doubled or swapped."""
    from rapidfuzz.distance import OSA  # only a fault needs it

    found = []
    for other in known:
        if other[:1] == word[:1] and len(other) >= len(word) - off:
            letters = OSA.distance(word, other, score_cutoff=off)
            if letters <= off:
                found.append((letters, other))
    least = min((letters for letters, _ in found), default=0)
    return tuple(sorted(other for letters, other in found if letters == least))


def likeness(one: str, other: str) -> float:
    """Give how alike two whole words are spelt, from 0 to 100."""
    from rapidfuzz import fuzz  # only a fault needs it

    return float(fuzz.ratio(one, other))
