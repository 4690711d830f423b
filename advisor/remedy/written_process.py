"""Written changes of the process: "oven 165 C", "bake +10 min", "opened at 50 min"."""

from __future__ import annotations

import re
from dataclasses import replace

from advisor.formula.faults import LineFault, shown
from advisor.formula.formula import Formula, Process
from advisor.formula.process.process_lines import PROCESS_KEYS, plain_key, read_process_value
from advisor.formula.process.process_values import Value
from advisor.remedy.change import PROCESS_WORDS, Changed
from advisor.remedy.change_fault import ChangeFault
from advisor.remedy.process_change import process_changes

_KEYS = sorted((*PROCESS_KEYS, "bake"), key=len, reverse=True)
_BY = re.compile(
    r"(?P<sign>[+\-−–])\s*(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*(?:°\s*)?(?P<unit>min|h|C|F|m|ft)\w*",
    re.IGNORECASE,
)
_FIELDS: dict[str, dict[str, str]] = {
    "oven": {"c": "oven_c", "min": "bake_min"}, "bake": {"min": "bake_min"},
    "proof": {"min": "proof_min", "c": "proof_c"}, "mix": {"min": "mix_min"}, "rest": {"min": "rest_min"},
    "water temp": {"c": "water_c"}, "target dough temp": {"c": "dough_wanted_c"}, "opened at": {"min": "opened_at_min"},
    "probed at": {"min": "probed_at_min"}, "tented at": {"min": "tented_at_min"},
    "target core": {"c": "target_core_c"}, "core measured": {"c": "core_measured_c"},
    "cooled in pan": {"min": "cooled_in_pan_min"}, "sliced after": {"min": "sliced_after_min"},
    "altitude": {"m": "altitude_m"},
}  # fmt: skip
"""Numbers of the process that go up and down, by key and unit."""


_PRINTED = {words: field for field, words in PROCESS_WORDS.items() if words not in _KEYS}
"""What a page calls a field, where no line of a formula is called so."""
_VALUE = re.compile(
    r"(?P<whole>[0-9]+(?:[.,][0-9]+)?)?\s*(?:(?P<top>[0-9])/(?P<bottom>[0-9]{1,2}))?\s*(?:°\s*)?(?P<unit>[a-z]*)",
    re.IGNORECASE,
)
_IN_BASE = {"h": 60.0, "in": 2.54, "mm": 0.1}
"""Factors to the unit of a field: min and cm; the international inch is exact."""


def process_key(text: str) -> tuple[str, str] | None:
    """The process key that a text begins with, and what stands behind it."""
    plain = plain_key(text)
    for key in _PRINTED:
        if plain.startswith((f"{key} ", f"{key}:")):
            return key, text[len(key) :].lstrip(" :=")
    for key in _KEYS:
        if plain == key or plain.startswith((f"{key} ", f"{key}:")):
            rest = text[len(key) :].lstrip(" :=")
            # "water temp" is the process, "whites" alone an egg; a name that goes on is an ingredient.
            if key in ("whites",) and any(c.isdigit() for c in rest):
                return None
            return key, rest
    return None


def processed(formula: Formula, text: str, key: str, value: str) -> Changed:
    """Set a line of the process, or move its number up or down.

    Raises:
        ChangeFault: the value cannot be read, or the formula states nothing that could be moved.
    """
    after: dict[str, Value]
    base, read_as = formula.process, "oven" if key == "bake" else key
    if key in _PRINTED:
        after = _as_printed(text, _PRINTED[key], value)
    elif relative := _BY.fullmatch(value):
        after = _shifted(base, text, key, relative)
    else:
        try:
            found, _ = read_process_value(read_as, f"for {value}" if key == "bake" else value)
        except LineFault as fault:
            raise ChangeFault(text, fault.what, fault.do) from None
        after = dict(found)
    process = replace(base, **after)  # type: ignore[arg-type]
    return Changed(formula=replace(formula, process=process), changes=tuple(process_changes(base, process)))


def _as_printed(text: str, field: str, value: str) -> dict[str, Value]:
    """A field by the name that a page gives it, in its own unit or in F, hours or inches."""
    found = _VALUE.fullmatch(value.strip())
    if found is None or not (found["whole"] or found["top"]):
        raise ChangeFault(text, f"'{shown(value)}' is no number with its unit")
    number = float((found["whole"] or "0").replace(",", "."))
    number += float(found["top"]) / float(found["bottom"]) if found["top"] and found["bottom"] != "0" else 0.0
    unit = found["unit"].lower()
    return {field: (number - 32) / 1.8 if unit == "f" else number * _IN_BASE.get(unit, 1.0)}


def _shifted(base: Process, text: str, key: str, found: re.Match[str]) -> dict[str, Value]:
    """So many minutes, degrees or metres more or less than the formula states."""
    unit = found["unit"].lower()
    factor = {"h": 60.0, "f": 5 / 9, "ft": 0.3048}.get(unit, 1.0)
    field = _FIELDS.get(key, {}).get({"h": "min", "f": "c", "ft": "m"}.get(unit, unit))
    if field is None:
        raise ChangeFault(text, f"'{key}' does not go up and down by '{shown(found['unit'])}'")
    now = getattr(base, field)
    if now is None:
        raise ChangeFault(text, f"the formula does not state '{key}'", "write what it shall be")
    step = factor * float(found["number"].replace(",", ".")) * (1 if found["sign"] == "+" else -1)
    if now + step < 0 and not field.endswith("_c"):
        raise ChangeFault(text, f"the formula states {now:.4g} {unit}", "take less away")
    return {field: now + step}
