"""Two ingredients of which one is used: "butter or ghee", "almond or coconut flour", "butter/ghee"."""

from __future__ import annotations

import re

from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.matching import Match, NameIndex
from advisor.formula.lines.states import only_states
from advisor.formula.spelling import words_of

_OR = re.compile(r"\s+or\s+|\s*/\s*", re.IGNORECASE)
_OR_IN_FRONT = re.compile(r"or\s+(?P<rest>.+)", re.IGNORECASE)
_LONGEST_TAIL = 3


def is_alternative(note: str) -> str | None:
    """Give what stands behind "or" in a note ("or ghee"); `None` where the note is none."""
    found = _OR_IN_FRONT.fullmatch(note)
    return found["rest"] if found else None


def first_of(name: str, names: NameIndex) -> tuple[Match, str, str] | None:
    """Give the match of the first alternative, its words, and the words of the others.

    Raises:
        LineFault: the first word is an ingredient alone and another with the last words of the line.
    """
    found = _OR.search(name)
    if found is None:
        return None
    first, rest = name[: found.start()].strip(" ,"), name[found.end() :].strip(" ,")
    if not first or not rest:
        return None
    alone = names.match(first)
    shared: Match | None = None
    words = rest.split()
    for count in range(1, min(_LONGEST_TAIL, len(words) - 1) + 1):
        tail = " ".join(words[-count:])
        if (shared := names.match(f"{first} {tail}")) is not None:
            break
    if alone is None or shared is None or alone.ingredient.id == shared.ingredient.id:
        match = alone or shared
        return None if match is None else (match, first, rest)
    own, long = alone.ingredient.name, shared.ingredient.name
    bare = [word for word in first.split() if not only_states(words_of(word))]
    if " ".join(bare).lower() == own.lower():
        return alone, first, rest
    if " ".join(bare).lower() not in (n.lower() for n in alone.ingredient.also):
        return shared, first, rest
    raise LineFault(name, f"'{shown(name)}' can begin with {own} or {long}", "write one of them", (own, long))


def alike(one: Match, other: Match) -> bool:
    """Tell whether a name in brackets says more closely what stands before it: they do the same in a dough."""
    return bool(set(one.ingredient.roles) & set(other.ingredient.roles))


def is_strewn(seed: Match, beside: Match) -> bool:
    """Tell whether seeds without an amount stand beside what is no flour or meal: "a pinch of salt, poppy seeds"."""
    return "whole_seed" in seed.ingredient.traits and not beside.ingredient.dry_base


def says_which(note: str, found: Match, another: Match) -> bool:
    """Tell whether a note says which kind of a food is meant and names none itself: "wheat flour, medium strong"."""
    one, other = found.ingredient, another.ingredient
    return one.family == other.family and set(words_of(note)).isdisjoint(
        {*words_of(one.name), *words_of(other.name)}
    )
