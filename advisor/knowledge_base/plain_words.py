"""Words that any newcomer knows, and how a word in a sentence is led back to one of them.

knowledge/plain_words.txt holds one plain word after another, parted by blanks or lines; `#` starts a comment. Regular
forms (plural, past, -ing, -er, -est, -ly, un-) need no word of their own; irregular ones stand in the list.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path

_WORD = re.compile(r"[A-Za-zÀ-ÿ][A-Za-zÀ-ÿ0-9'’]*(?:-[A-Za-zÀ-ÿ0-9'’]+)*")
_PLACE = re.compile(r"\{[^}]*\}")
_ENDINGS = (
    ("'s", ""), ("ies", "y"), ("ied", "y"), ("ier", "y"), ("iest", "y"), ("ily", "y"), ("iness", "y"),
    ("s", ""), ("es", ""), ("ed", ""), ("ed", "e"), ("ing", ""), ("ing", "e"), ("er", ""), ("er", "e"),
    ("est", ""), ("est", "e"), ("ly", ""), ("ly", "le"), ("y", ""), ("y", "e"), ("ness", ""), ("less", ""),
    ("en", ""), ("en", "e"), ("able", ""), ("able", "e"),
)  # fmt: skip
_SHORTEST = 3
_STEPS = 2  # "unwrapped" is un- on "wrapped", which is "wrap"


def words_in(text: str) -> tuple[str, ...]:
    """Words of a sentence as they are written; what a rule fills in ({measure:.1f}) is no word."""
    return tuple(found.group().replace("’", "'") for found in _WORD.finditer(_PLACE.sub(" 0 ", text)))


@lru_cache(maxsize=16384)  # a few thousand words make all the texts
def bases(word: str) -> frozenset[str]:
    """A word (any case) with every simpler one that it may come from, in small letters."""
    found, newest = {word.casefold()}, {word.casefold()}
    for _ in range(_STEPS):
        newest = {base for each in newest for base in _simpler(each)} - found
        found |= newest
    return frozenset(found)


def _simpler(word: str) -> Iterator[str]:
    if word.startswith("un") and len(word) >= _SHORTEST + 2:
        yield word.removeprefix("un")
    for ending, instead in _ENDINGS:
        if word.endswith(ending) and len(stem := word.removesuffix(ending)) >= _SHORTEST - 1:
            yield stem + instead
            if not instead and len(stem) > _SHORTEST and stem[-1] == stem[-2]:
                yield stem[:-1]  # "fitted" is "fit"


class PlainWords:
    """The plain words, to be asked whether one of them stands behind a word."""

    def __init__(self, words: Iterable[str]) -> None:
        self.as_written = frozenset(words)
        self._small = frozenset(word.casefold() for word in self.as_written)

    def __contains__(self, word: object) -> bool:
        """Is the word plain, or are all parts of it that hyphens join?"""
        if not isinstance(word, str):
            return False
        if bases(word) & self._small:
            return True
        parts = word.split("-")
        return len(parts) > 1 and all(part in self or part.isdigit() for part in parts)


def read_plain_words(path: Path) -> PlainWords:
    """Read the list.

    Raises:
        OSError: the file cannot be read.
    """
    lines = path.read_text("utf-8").splitlines()
    return PlainWords(word for line in lines for word in line.partition("#")[0].split())
