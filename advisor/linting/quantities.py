"""Does every text carry its temperatures, times, weights and lengths as fields that can be put into other units?"""

from __future__ import annotations

import re

from advisor.knowledge_base.text_fields import NoField, parts_of_text
from advisor.linting.report import Report
from advisor.linting.words import texts_shown

_NUMBER = r"[0-9][0-9.,/]*"
_UNIT = r"(?:C|F|g|kg|oz|lb|cm|mm|min|minutes?|seconds?|hours?|degrees|ounces?|pounds?|grams?|inch(?:es)?)"
_BARE = re.compile(rf"(?<![\w.]){_NUMBER}(?:\s+(?:to|or)\s+{_NUMBER})?\s*{_UNIT}(?![\w/])")
_DEGREES_IN_WORDS = re.compile(
    r"\b(?:two|three|four|five|six|seven|eight|nine|ten|fifteen|twenty|thirty) degrees\b"
)
_RATIO = re.compile(
    rf"(?<![\w.])(?:(?:{_NUMBER}\s+to\s+)?{_NUMBER}\s+g(?:\s+[a-z]+){{0,4}}\s+)?\b(?:in|per|to|of|for)\s+100\s+g\b"
)
"""Grams in a hundred grams are a ratio, the same number in every kitchen."""
_BESIDE_A_PLACE = re.compile(
    rf"\s*{_UNIT}(?![\w/])(?!(?:\s+[a-z]+){{0,4}}\s+(?:in|per|to|of|for)\s+100\s+g\b)"
)


def check_quantities(report: Report) -> None:
    """Find bare quantities in texts, and braces that hold no field."""
    for kind, name, text in texts_shown(report.knowledge):
        for said in bare_quantities(text):
            message = f"'{said}' stands bare: write it as a field, such as {{175 C}} or {{10 C difference}}"
            report.add(kind, name, "quantity", message)
        for part in parts_of_text(text):
            if isinstance(part, NoField):
                message = (
                    f"'{part.written}' is no field: write {{175 C}}, {{60 min}}, {{20 g}} or {{measure:.1f}}"
                )
                report.add(kind, name, "placeholder", message)
            elif isinstance(part, str) and ("{" in part or "}" in part):
                report.add(
                    kind,
                    name,
                    "placeholder",
                    "cannot be filled: a brace stands without the other of its pair",
                )


def bare_quantities(text: str) -> tuple[str, ...]:
    """Quantities of a text outside its fields; `{core_c:.0f} C` is one, `{gum:.1f} g in 100 g` a ratio."""
    found: list[str] = []
    before = ""
    for part in parts_of_text(text):
        if not isinstance(part, str):
            before = "" if isinstance(part, NoField) else part.written
            continue
        if before.endswith("}") and (unit := _BESIDE_A_PLACE.match(part)):
            found.append(before + unit.group())
        plain = _RATIO.sub("", part)
        found += [bare.group() for pattern in (_BARE, _DEGREES_IN_WORDS) for bare in pattern.finditer(plain)]
        before = ""
    return tuple(found)
