"""Whose measures a line or a title means: "2 medium eggs (UK)", "1/2 pint milk (British pint)", "(US cups)"."""

from __future__ import annotations

import re

_WHOSE = r"(?P<whose>UK|U\.K\.|[Bb]ritish|BRITISH|[Ii]mperial|US|USA|U\.S\.|[Aa]merican|[Aa]ustralian|AU|[Mm]etric)"
_MEASURES = (
    r"(?:measures?|measurements?|pints?|cups?|spoons?|tablespoons?|teaspoons?|units?|sizes?|sized|standard|"
    r"fl\s?oz)"
)
_IN_LINE = re.compile(
    rf"\s*\(\s*{_WHOSE}(?:[\s-]+{_MEASURES})*\s*\)|\s*,\s*{_WHOSE.replace('whose', 'more')}(?:[\s-]+{_MEASURES})+\s*$"
)
_IN_TITLE = re.compile(rf"(?<![\w]){_WHOSE}[\s-]+{_MEASURES}(?!\w)")
_REGION = {
    "uk": "uk", "u.k.": "uk", "british": "uk", "imperial": "uk", "us": "us", "usa": "us", "u.s.": "us",
    "american": "us", "australian": "au", "au": "au", "metric": "metric",
}  # fmt: skip


def region_of_line(text: str) -> tuple[str | None, str]:
    """Give the region that a line states and the line without it; `None` where it states none."""
    found = _IN_LINE.search(text)
    if found is None:
        return None, text
    whose = (found["whose"] or found["more"]).lower()
    return _REGION[whose], f"{text[: found.start()]}{text[found.end() :]}".strip()


def region_of_title(text: str) -> str | None:
    """Give the region whose measures a title states for the whole text."""
    found = _IN_TITLE.search(text)
    return _REGION[found["whose"].lower()] if found else None
