"""Process lines of the pan: its kind and size, the cups of a muffin tin, and what its wall is made of."""

from __future__ import annotations

import re

from advisor.formula.faults import shown
from advisor.formula.process.process_values import Fields, Value, Words

PAN = (
    "length, width, height and unit (25 x 10 x 10 cm), round 20 x 8 cm, muffin tin 12 x 7 cm, free-standing, "
    "rolls or flat"
)
MATERIAL = "a material: pan material: dark metal"
_MOST_CUPS = 60
_CUPS = re.compile(r"^\s*(?:x|×|cups?(?:\s+(?:of|x|×))?)\s*", re.IGNORECASE)
_MATERIALS: tuple[tuple[str, str], ...] = (
    ("cast iron", r"cast[ -]?iron|\biron\b"),
    ("glass", r"\bglass"),
    ("silicone", r"\bsilicone?\b"),
    ("ceramic", r"ceramic|stoneware|earthenware|porcelain|terracotta|\bclay\b"),
    ("dark metal", r"\bdark|\bblack|non[ -]?stick|enamel|anodi[sz]ed|carbon steel|blue steel"),
    ("shiny metal", r"shiny|bright|polished|\bnew\b|\bfoil\b"),
    ("metal", r"metal|steel|\btin\b|tinplate|tinned|alumin"),
)
"""Materials that the oven model knows, and the words for each; the first that fits is taken."""


_NO_TIN = re.compile(
    r"\b(?:none|no(?:\s+\w+)?\s+(?:tin|pan)|without|free[\s-]?form(?:ed)?|freehand|b[aâ]tard|boule|(?:baking|pizza)\s+"
    r"(?:stone|steel)|stone|peel|hearth|parchment|(?:on|onto)\s+(?:a|the)?\s*\w*\s*(?:tray|sheet)|dutch\s+oven)\b",
    re.IGNORECASE,
)
"""What bakers answer when there is no tin round the loaf."""


_A_TIN = re.compile(
    r"\b(?:in(?:to)?|out\s+of|for|line|grease|butter|oil)\s+(?:(?:an?|the|its|your|my|our|one)\s+)?"
    r"(?:(?!roasting|muffin|bun|frying|fry|hot|sheet|dry|water|drip|iron|sauce|cake|biscuit)[a-z]+[\s-]+){0,2}?(?:tins?|loaf\s+pans?|pan)\b"
    r"(?!\s+(?:of|with|lid))|\bshape,?\s+tin\b|\b(?:long|loaf)\s+mou?ld\b",
    re.IGNORECASE,
)
_ON_A_SHEET = re.compile(
    r"\b(?:on(?:to)?|line|oil|grease|flour)\s+(?:(?:an?|the|its|your|one|two|some)\s+)?(?:[a-z]+[\s-]+){0,3}?(?:trays?|sheets?|parchment|paper)\b"
    r"|\btray\s+with\b|\b(?:boules?|bloomers?|cob\s+loaf)\b",
    re.IGNORECASE,
)
_OF_KEEPING = re.compile(
    r"\b(?:keeps?|store[ds]?|lasts|freezes?|weeks?|months?|from\s+a\s+tin)\b", re.IGNORECASE
)


def shape_in_words(text: str, *, single: bool) -> tuple[str, str] | None:
    """Give the kind of pan that a text tells without a size, and its words: "into the tin", "on a lined tray".

    The kind is empty where the title alone tells it.

    `single`: it is made in single pieces, which stand on a sheet.
    """
    parts = [part for part in re.split(r"[.;!?\n]", text) if not _OF_KEEPING.search(part)]
    tins = [found.group() for part in parts if (found := _A_TIN.search(part))]
    if tins and not single:
        return "tin", tins[0]
    sheets = [found.group() for part in parts if (found := _ON_A_SHEET.search(part))]
    if sheets:
        return ("rolls" if single else "free_standing"), sheets[0]
    return ("", "") if single and not tins else None  # rolls stand on a sheet, whether that is told or not


def read_pan(words: Words) -> Fields:
    """Read "25 x 10 x 10 cm", "round 20 x 8 cm", "muffin tin 12 x 7 cm", "flat 2 cm", "rolls", "none, on a stone"."""
    if _NO_TIN.search(words.left) and not re.search(r"[0-9]", words.left):
        words.left = ""
        return {"pan_kind": "free_standing"}
    if words.take("muffin tin", "muffin pan", "muffin tray", "bun tin", "muffin"):
        return _cups(words)
    kind = words.take("free standing", "rolls", "flat", "round", "tin")
    kind = (kind or "tin").replace(" ", "_")
    sizes = words.take_lengths()
    found: dict[str, Value] = {"pan_kind": kind}
    if kind == "round" and sizes:
        if len(sizes) == 1:
            return {**found, "pan_length_cm": sizes[0], "pan_width_cm": sizes[0]}
        if len(sizes) != 2:
            raise words.fault("a round pan has a diameter and a height")
        return {**found, "pan_length_cm": sizes[0], "pan_width_cm": sizes[0], "pan_height_cm": sizes[1]}
    if not sizes:
        if words.left.strip() and kind == "tin":
            raise words.fault()
        return found
    if len(sizes) == 1 and kind == "flat":
        return {**found, "pan_height_cm": sizes[0]}
    if len(sizes) == 2 and kind in ("flat", "rolls", "free_standing"):
        return {**found, "pan_length_cm": sizes[0], "pan_width_cm": sizes[1]}
    if len(sizes) != 3:
        raise words.fault("a tin has a length, a width and a height")
    return {**found, "pan_length_cm": sizes[0], "pan_width_cm": sizes[1], "pan_height_cm": sizes[2]}


def _cups(words: Words) -> Fields:
    """Cups of a muffin tin: round pans, as many as are said, each as wide and, if said, as deep."""
    count = words.take_count(_MOST_CUPS)
    words.left = _CUPS.sub("", words.left)
    sizes = words.take_lengths()
    if count is None or len(sizes) > 2:
        raise words.fault("a muffin tin has a number of cups and their width")
    words.take("cups", "wide", "each")
    found: dict[str, Value] = {"pan_kind": "round", "pan_cups": count}
    if not sizes:
        words.said.append("how wide the cups are is not said")
        return found
    found |= {"pan_length_cm": sizes[0], "pan_width_cm": sizes[0]}
    return found if len(sizes) == 1 else {**found, "pan_height_cm": sizes[1]}


def read_material(words: Words) -> Fields:
    """Read what a pan is made of; a word that no material goes by is kept, and taken as metal."""
    said = " ".join(words.left.lower().split())
    if not said or len(said) > 60:
        raise words.fault()
    words.left = ""
    for material, pattern in _MATERIALS:
        if re.search(pattern, said):
            return {"pan_material": material}
    known = ", ".join(material for material, _ in _MATERIALS)
    words.said.append(f"a pan of '{shown(said)}' bakes as one of metal; known are {known}")
    return {"pan_material": said}
