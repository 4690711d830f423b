"""Names that a notebook shortens word by word: "alm fl", "psy pdr", "bkwht", "potato st."."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations

_VOWELS = frozenset("aeiouy")
_MOST_WORDS = 4
_MOST_TURNED = 3
"""Words up to which they may stand in another order: "psyllium whole husk", "bkwht dark"."""
_FULL = 3
"""Letters from which a word that stands in several names is written out: nut is no nutmeg."""
_LEAST_LETTERS = 3
_LEAST_OF_SOUNDS = 0.6
"""Share of a word's consonants that has to be left of it: bkwht, pdr and wtr are, a b is not."""
_JOINING = 2
"""Letters of plain words that join others and are short for nothing: or, to, of."""
_NO_CUT = frozenset({"a", "i", "x"})
_USUAL = 5
"""Names in which a word stands for which three letters alone are short: psy, sug; int is no intense."""
_FAR = 4.0
"""How many times as common the words of one name have to be for it to be meant where another could be."""

Words = tuple[str, ...]
_Rank = tuple[int, int, bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """The names that a shortened one can stand for, one an ingredient, the likeliest first."""

    names: tuple[Words, ...]
    sure: bool
    """Whether the first is the only one, or far more common than the next."""


def meant_by(
    written: Words, known: Mapping[Words, str], uses: Mapping[str, int], plain: Container[str]
) -> Meant | None:
    """Give what a name can be short for, word for word; `None` where a word is short for nothing.

    `known` gives the ingredient of each known name, by its words; `uses` in how many names a word stands; `plain` are
    words of every day, which alone are short for nothing: top, or, scale. A word is short for one that begins so, else
    for one whose consonants it keeps in their order. Names in which the words stand as they were written come first.
    """
    if not 1 <= len(written) <= _MOST_WORDS or len("".join(written)) < _LEAST_LETTERS:
        return None
    if any(word in _NO_CUT or (word in plain and len(word) == _JOINING) for word in written):
        return None
    usual = all(word in plain or (len(word) >= _FULL and uses.get(word, 0) > 1) for word in written)
    turns = permutations(written) if len(written) <= _MOST_TURNED else [written]
    found: dict[str, tuple[_Rank, float, Words]] = {}
    for turn in turns:
        for name, entry in known.items():
            if len(name) != len(turn) or not all(v[0] == w[0] for w, v in zip(turn, name, strict=True)):
                continue
            cuts = [_cut(w, v) for w, v in zip(turn, name, strict=True)]
            if None in cuts or not any(cuts) or (usual and not _is_sure(turn, cuts, plain)):
                continue
            if len(name) == 1 and len(turn[0]) == _LEAST_LETTERS and uses.get(name[0], 0) < _USUAL:
                continue
            rank = (max(c or 0 for c in cuts), sum(map(bool, cuts)), turn != written)
            common = math.prod(uses.get(v, 1) for w, v in zip(turn, name, strict=True) if w != v)
            best = (rank, -common, name)
            found[entry] = min(found.get(entry, best), best)
    return _likeliest(found.values())


def _likeliest(found: Iterable[tuple[_Rank, float, Words]]) -> Meant | None:
    """Keep those that are cut in the plainest way, the most common words first."""
    ordered = sorted(found)
    plain = [one for one in ordered if one[0] == ordered[0][0]]
    if not plain:
        return None
    sure = len(plain) == 1 or plain[0][1] <= _FAR * plain[1][1]
    return Meant(names=tuple(name for *_, name in plain), sure=sure)


def _is_sure(written: Words, cuts: Sequence[int | None], plain: Container[str]) -> bool:
    """Tell whether words that could all stand for themselves are short for a name: one does, the others are short."""
    short = [word for word, cut in zip(written, cuts, strict=True) if cut]
    return 0 in cuts and all(len(word) <= _FULL or word not in plain for word in short)


def _cut(short: str, full: str) -> int | None:
    """Tell how a word is cut: 0 not at all, 1 behind its beginning, 2 to its consonants; `None` where it is none."""
    if short == full:
        return 0
    if full.startswith(short):
        return 1
    short = short.rstrip("s") or short
    if not _VOWELS.isdisjoint(short[1:]):
        return None
    at = 0
    for letter in short:
        at = full.find(letter, at) + 1
        if not at:
            return None
    kept, sounds = _sounds(short), _sounds(full)
    return 2 if len(kept) >= 2 and len(kept) >= _LEAST_OF_SOUNDS * len(sounds) else None


def _sounds(word: str) -> str:
    """Give the first letter of a word and its consonants, doubled ones once."""
    kept = [c for c in word[1:] if c not in _VOWELS]
    return word[0] + "".join(c for c, before in zip(kept, [word[0], *kept], strict=False) if c != before)
