"""Which headings and heads of lists are of what goes on top or inside, and is no part of the dough."""

from __future__ import annotations

import re

from advisor.formula.spelling import words_of

_NOT_IN_DOUGH = frozenset(
    [
        "topping", "toppings", "filling", "glaze", "icing", "frosting", "finish", "serve", "decoration", "wash", "dip",
        "bath", "boiling", "poaching", "kettle", "brushing", "sprinkling", "dusting", "coating", "streusel",
    ]
)  # fmt: skip
_BEHIND_A_DOUGH = frozenset(["crust", "coat", "top"])
"""Headings of what goes on a dough that stands above them; a pizza's crust, which comes first, is its dough."""
_IN_A_POT = re.compile(r"\W*for\s+the\s+(?:pan|pot)\W*$", re.IGNORECASE)
_ON_TOP = re.compile(
    r"\W*(?:for\s+the\s+)?(?:(?:kettle|pot|pan|boil)s?\s*:|(?:topping|filling|glaze|icing|frosting|egg\s?wash|dip|(?:water\s+)?bath|poaching\s+water|boiling\s+bath|to\s+(?:finish|serve))s?(?:\s+for\s+\w+)?\s*(?::|[-–—]|(?=\s[^\W\d])))",
    re.IGNORECASE,
)


def is_beside_the_dough(section: str, *, after_dough: bool = False) -> bool:
    """Tell whether what stands under a heading goes on or into the baked piece and is no part of its dough.

    `after_dough`: lines of another part stand above the heading.
    """
    words = set(words_of(section))
    beside = words & _NOT_IN_DOUGH or _IN_A_POT.match(section) or (after_dough and words & _BEHIND_A_DOUGH)
    return bool(beside) and "dough" not in words


def head_beside_the_dough(sentence: str) -> str:
    """Give the head of a list in a sentence that is of what goes on top or inside: "Filling: butter 70, sugar 40"."""
    found = _ON_TOP.match(sentence)
    return found.group() if found else ""
