"""What a sentence says of handling without a number: by hand, on a stone, whites whipped stiff, cooled upside down."""

from __future__ import annotations

import re
from collections.abc import Iterator

from advisor.formula.process.process_values import Value


def _as(pattern: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE | re.VERBOSE)


_TOLD: tuple[tuple[str, Value, re.Pattern[str]], ...] = (
    ("mixer", "bread machine", _as(r"bread\s*(?:machine|maker)")),
    (
        "mixer",
        "stand mixer",
        _as(
            r"""
            stand\s+mixer|dough\s+hook|(?:kneed|knead|mix)(?:ed)?\s+(?:\w+\s+){0,4}in\s+the\s+mixer
            """
        ),
    ),
    ("mixer", "food processor", _as(r"food\s+processor")),
    ("mixer", "by hand", _as(r"(?:knead|kneed|mix|work)(?:ed)?\s+(?:it\s+)?(?:\w+\s+){0,4}by\s+hand")),
    (
        "baked_on",
        "stone",
        _as(
            r"""
            on\s+(?:a|the|my)\s+(?:hot\s+|preheated\s+|pizza\s+|baking\s+)*stone|stone\s+at|
            baking\s+stone
            """
        ),
    ),
    (
        "baked_on",
        "steel",
        _as(
            r"""
            on\s+(?:a|the|my)\s+(?:hot\s+|preheated\s+|pizza\s+|baking\s+)*steel|baking\s+steel
            """
        ),
    ),
    (
        "baked_on",
        "hot pot",
        _as(
            r"""
            dutch\s+oven|cloche|(?:hot|preheated)\s+(?:pot|casserole)|preheat\s+(?:the\s+|a\s+)?pot
            """
        ),
    ),
    (
        "pan_kind",
        "free_standing",
        _as(
            r"""
            b[aâ]tards?|free[\s-]?form(?:ed)?|free[\s-]standing|bannetons?|(?:proving|proofing|rising)\s+baskets?|
            (?:no|without\s+a(?:ny)?)\s+(?:loaf\s+)?(?:tin|pan)
            """
        ),
    ),
    (
        "whites_whipped",
        True,
        _as(
            r"""
            (?:whip|whisk|beat)(?:ped|en)?\s+(?:\w+\s+){0,3}?whites?\b[^.;]{0,60}(?:stiff|peaks)
            | \bwhites?\b[^.;]{0,40}\b(?:till|until|to|,)\s*(?:\w+\s+){0,2}(?:stiff|peaks)
            | \b(?:whip|whisk|beat)(?:ped|en)?\b[^.;]{0,80}
              \b(?:stiff|firm|glossy|shiny|sharp|soft)\s+(?:\w+\s+){0,2}(?:peaks|points)
            | \bwhites?\s+(?:very\s+)?stiff | \bfold\b[^.;]{0,60}\bfoam\b | \bfoam\b[^.;]{0,60}\bfold
            """
        ),
    ),
    (
        "cold_start",
        True,
        _as(r"(?:in|into|from)\s+a\s+cold\s+oven|(?:don'?t|no)\s+preheat(?:ing)?|cold\s+oven\s+start"),
    ),
    ("cooled_in", "upside down", _as(r"(?:hang|cool|hung|cooled|turn)\s+(?:\w+\s+){0,3}upside\s+down")),
    (
        "cooled_in",
        "on its side",
        _as(
            r"""
            on\s+its\s+side\s+to\s+cool|cool(?:ed)?\s+(?:\w+\s+){0,3}on\s+its\s+side
            """
        ),
    ),
    (
        "cooled_in",
        "pan",
        _as(
            r"""
            left\s+it\s+in\s+the\s+(?:pan|tin)\s+to\s+cool|
            cool(?:ed)?\s+(?:\w+\s+){0,3}in\s+the\s+(?:pan|tin)\s+(?:overnight|completely|till\s+cold)
            """
        ),
    ),
    (
        "sliced_after_min",
        0.0,
        _as(
            r"""
            (?:sliced|cut)\s+(?:it\s+|into\s+it\s+)?(?:straight\s+away|right\s+away|immediately|
            while\s+(?:it\s+was\s+)?(?:still\s+)?(?:hot|warm))
            """
        ),
    ),
    ("pan_material", "glass", _as(r"glass\s+(?:loaf\s+)?(?:pan|dish|tin)|pyrex")),
    ("pan_material", "silicone", _as(r"silicone\s+(?:\w+\s+)?(?:pan|mou?ld|cups?|tin|loaf)")),
    ("pan_material", "cast iron", _as(r"cast[\s-]iron\s+(?:pan|loaf|pot)")),
    ("pan_material", "dark metal", _as(r"(?:dark|non-?stick)\s+(?:loaf\s+)?(?:pan|tin)")),
)


def handling_in(text: str) -> Iterator[tuple[str, Value, str]]:
    """Give the fields that a sentence sets without a number, with the words for it; each field once."""
    seen: set[str] = set()
    for field, value, pattern in _TOLD:
        if field not in seen and (found := pattern.search(text)):
            seen.add(field)
            yield field, value, found.group()
