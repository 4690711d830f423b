"""A fact of the process as a sentence tells it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.method.told_numbers import Told
from advisor.formula.process.process_values import Value

SAME_C = 6.0
"""Two temperatures in C and F of one card differ by so much where they were rounded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing that a sentence says: of which work, what of it, its value [min, C, cm, g, m], and its words.

    `linked` tells that it goes on from what stands before, as "then 20 min more" does.
    """

    topic: str
    what: str
    value: Value
    text: str
    said: tuple[str, ...] = ()
    linked: bool = False
    sentence: int = 0
    source: str = ""
    """The sentence, of which the words stand from `start` to `end`."""
    start: int = 0
    end: int = 0
    open: bool = False
    """Whether only the whole text tells which of two things it is: "leave 40 min" with yeast, "core 96" of a log."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What a sentence says, and the words of those numbers that were not taken."""

    found: tuple[Fact, ...] = ()
    left: tuple[Told, ...] = ()
