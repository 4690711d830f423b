"""Scores how a folder of texts, written by people who have not seen the program, is read.

`python tests/blind_reading.py FOLDER` reads `FOLDER/texts.json`: a list of texts, each with the ingredients and the
numbers of the process that a careful reader finds in it. A text is read whole when it is not refused, every
ingredient has its amount, every number of the process is taken with its meaning or said to be not taken, and no
number is taken in another meaning. Steps whose order is told are compared without it.
"""

from __future__ import annotations

import argparse
import json
import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import advisor
from advisor.formula.formula import Formula, Line
from advisor.formula.method.told_numbers import numbers_told
from advisor.formula.reading import reader_for
from advisor.formula.spelling import words_of
from advisor.formula.spoken_numbers import with_digits

_WITHIN = 0.04
"""Shares by which two weights may differ: a cup is weighed with and without the note behind its name."""
_UNITS = {"large": "large", "each": "", "piece": "", None: "", "kg": "kg"}
_POT = re.compile(
    r"\b(?:egg\s*wash|wash|brush(?:ing)?|glaze|glazing|pot|boil(?:ing)?\s+(?:bath|water|pot)|for\s+boiling|steam(?:er|ing)?|previous|old\s+run|"
    r"(?:for|on)\s+(?:the\s+)?top(?:ping)?|topping|sprinkl(?:e|ing)|dusting|greasing)\b",
    re.IGNORECASE,
)
"""Notes of what goes into no dough: it need only be kept."""
_NO_NAME = "no ingredient is called"
_POUNDS = re.compile(r"(?P<lb>[0-9](?:\.[0-9])?)\s*-?lb|(?P<g>[0-9]{3,4})\s*g\b")
_SAID_NOT = re.compile(r"\bnot\b|nothing|which of|differ|write ")


@dataclass(slots=True)
class Score:
    """What was found of one text."""

    refused: str = ""
    missing: list[str] = field(default_factory=list)
    asked_back: list[str] = field(default_factory=list)
    named: list[str] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    taken: int = 0

    @property
    def whole(self) -> bool:
        """Whether nothing of the text was lost, changed or asked back."""
        return not (self.asked_back or self.refused or self.missing or self.lost or self.wrong)


def _steps(process: Any, steps: str, part: str, alone: str) -> list[float]:
    found = [getattr(s, part, None) for s in getattr(process, steps, ())]
    return [v for v in found if v is not None] or [
        v for v in (getattr(process, alone, None),) if v is not None
    ]


def _ones(*names: str) -> Callable[[Formula], list[float]]:
    def values(formula: Formula) -> list[float]:
        found: list[float] = []
        for name in names:
            value = getattr(formula.process, name, None)
            found += (
                [getattr(v, "minutes", v) for v in value]
                if isinstance(value, tuple)
                else [value]
                if value is not None
                else []
            )
            if found and isinstance(value, tuple):
                break  # the single number behind it is their sum
        return found

    return values


def _lids(on: bool) -> Callable[[Formula], list[float]]:
    def values(formula: Formula) -> list[float]:
        return [
            s.minutes
            for s in getattr(formula.process, "oven_steps", ())
            if getattr(s, "lid", None) is on and s.minutes is not None
        ]

    return values


def _line_heats(formula: Formula) -> list[float]:
    return [c for line in formula.lines if (c := getattr(line, "celsius", None)) is not None]


def _loaves(formula: Formula) -> list[float]:
    """Give the loaves: one where no number of loaves or pieces is read, and as many as pieces are scaled."""
    found = _ones("loaves", "pieces")(formula)
    return found if found else [1.0]


_VALUES: dict[str, Callable[[Formula], list[float]]] = {
    "mix time": _ones("mixes", "mix_min"),
    "rest time": _ones("rests", "rest_min"),
    "water temperature": lambda f: _ones("water_c")(f) + _line_heats(f),
    "dough temperature": _ones("dough_measured_c"),
    "dough temperature, either": _ones("dough_measured_c", "dough_wanted_c"),
    "target dough temperature": _ones("dough_wanted_c"),
    "room temperature": _ones("room_c"),
    "ingredient temperature": _line_heats,
    "proof time": lambda f: _steps(f.process, "proofs", "minutes", "proof_min"),
    "proof temperature": lambda f: _steps(f.process, "proofs", "celsius", "proof_c"),
    "bake temperature": lambda f: (
        _steps(f.process, "oven_steps", "celsius", "oven_c") + _ones("preheat_c")(f)  # "230 falling to 190"
    ),
    "bake time": lambda f: (
        _steps(f.process, "oven_steps", "minutes", "bake_min") + _ones("microwave_min", "bake_min")(f)
    ),
    "preheat temperature": lambda f: (
        _ones("preheat_c")(f) + _steps(f.process, "oven_steps", "celsius", "oven_c")
    ),
    "lid on time": _lids(True),
    "lid off time": _lids(False),
    "griddle time per side": _ones("griddle_side_min"),
    "boil time": _ones("boil_min"),
    "steam time": lambda f: (
        _ones("steam_min")(f) + [s.minutes for s in f.process.oven_steps if s.steam and s.minutes is not None]
    ),
    "cooling in pan time": _ones("cooled_in_pan_min"),
    "cooling before slicing time": _ones("sliced_after_min"),
    "cool time": _ones("sliced_after_min", "cooled_in_pan_min"),
    "storage time": _ones("stored_min"),
    "core measured": _ones("core_measured_c"),
    "core target": _ones("target_core_c"),
    "altitude": _ones("altitude_m"),
    "slices": _ones("slices"),
    "pieces": _ones("pieces", "slices", "loaves", "pan_cups"),
    "loaves": _loaves,
    "thickness": _ones("thickness_cm"),
    "piece weight": _ones("piece_g"),
    "weight after baking": _ones("weight_after_g"),
    "height after baking": _ones("height_after_cm"),
    "opened at": _ones("opened_at_min"),
}
_SAME = {
    "oven temperature": "bake temperature", "baking temperature": "bake temperature", "baking time": "bake time",
    "oven time": "bake time", "mixing time": "mix time", "kneading time": "mix time", "knead time": "mix time",
    "rest": "rest time", "resting time": "rest time", "bulk time": "proof time", "rise time": "proof time",
    "core temperature target": "core target", "target core temperature": "core target",
    "core temperature": "core target",
    "core temperature measured": "core measured", "measured core temperature": "core measured",
    "sliced after": "cooling before slicing time",
    "cooling time": "cool time", "cool in pan time": "cooling in pan time",
    "cool time in pan": "cooling in pan time", "griddle minutes a side": "griddle time per side",
    "boil seconds": "boil time", "steam minutes": "steam time", "weight after bake": "weight after baking",
    "height": "height after baking", "height after bake": "height after baking",
    "dough temperature measured": "dough temperature", "desired dough temperature": "target dough temperature",
    "dough temperature target": "target dough temperature",
    "oven temperature gas mark": "bake temperature", "oven temperature by gas mark": "bake temperature",
    "whip time of the whites": "mix time", "whip time": "mix time", "cool time in the tin": "cooling in pan time",
    "boil seconds a side": "boil time", "soak time": "rest time",
}  # fmt: skip
"""Other names under which a listing gives the same number."""
_ALIKE = (
    (
        r"(?:\w+\s+)?(?:mix(?:ing)?|whip(?:ping)?|whisk(?:ing)?|beat(?:ing)?|knead(?:ing)?) time\b.*",
        "mix time",
    ),
    (r"(?:sponge|levain|sour|biga|poolish|preferment|starter)(?: rise)? time", "proof time"),
    (r"(?:sponge|levain|sour|biga|poolish|preferment|starter) temperature\b.*", "proof temperature"),
    (r"autolyse|gel rest|(?:chill|autolyse|gel) time|soak time of .*", "rest time"),
    (r"rest (?:in|under) the cloth|wait before cutting", "cool time"),
)
"""Names of the kinds of a work: whatever is whipped is mixed, and a sponge that stands rises."""
_A_SIDE = re.compile(r"griddle .*(?:first|second) side")
_ORDER = re.compile(
    r"^(?:first|second|third|fourth|fifth|bulk|final|1st|2nd|3rd)\s+|\s*\((?:measured|second|first)\)$"
)
_SIZE = re.compile(r"(?:size\s+)?(?P<size>small|medium|large|[SML])", re.IGNORECASE)
_NOTED = re.compile(r"(?<![\w.])(?P<g>[0-9]{2,3})\s*g\b(?!\s*(?:each|ones))")
"""The weight that a note tells of what is counted."""
_NOTED_EACH = re.compile(r"(?<![\w.])(?P<g>[0-9]{2})\s*g\s+each\b")
_SECONDS = {"boil seconds": "s"}
_RANGE = re.compile(r"(?P<low>[0-9]+(?:\.[0-9]+)?)\s*-\s*(?P<high>[0-9]+(?:\.[0-9]+)?)")
_HOURS = re.compile(r"(?P<h>[0-9]+)\s*hr?s?\s*(?P<min>[0-9]{1,2})")
"""A range and hours with minutes, as some listings write them: "6-7" min is scored at its middle, "1h15" is 75 min."""


def plain_entry(entry: dict[str, Any]) -> dict[str, Any]:
    """Give an entry under the name that is scored: "second oven temperature" is one of the baking temperatures."""
    what = str(entry["what"]).lower().strip()
    unit = entry.get("unit") or _SECONDS.get(what)
    what = _SAME.get(what, _SAME.get(_ORDER.sub("", what), _ORDER.sub("", what)))
    what = next((same for pattern, same in _ALIKE if re.fullmatch(pattern, what)), what)
    part = re.fullmatch(r"(?:pan|tin)\s+(length|width|height|diameter|depth|size)", what)
    value = entry.get("value")
    told = f"{value:g}" if isinstance(value, int | float) else str(value)
    if isinstance(value, str) and unit and (found := _RANGE.fullmatch(value)):
        value, told = (float(found["low"]) + float(found["high"])) / 2, found["low"]
    elif isinstance(value, str) and unit and (found := _HOURS.fullmatch(value)):
        value, unit = 60 * float(found["h"]) + float(found["min"]), "min"
    return {**entry, "what": "pan" if part else what, "unit": unit, "value": value, "told": told}


_CM = {"cm": 1.0, "mm": 0.1, "inch": 2.54, "in": 2.54, "inches": 2.54, "m": 100.0}
_G = {"g": 1.0, "kg": 1000.0, "oz": 28.3495, "lb": 453.592}
_ONLY = {
    "mix time", "dough temperature", "target dough temperature", "room temperature", "proof time",
    "proof temperature", "bake temperature", "griddle time per side", "boil time", "steam time",
    "cooling in pan time", "cooling before slicing time", "core measured", "core target", "altitude", "thickness",
    "piece weight", "weight after baking", "height after baking", "opened at",
}  # fmt: skip
"""Meanings under which a number that no reader found is a wrong one."""


def _in_units_of_the_program(what: str, value: float, unit: str | None) -> float:
    if unit == "F":
        return (value - 32) / 1.8
    if unit == "gas mark":  # as the program takes it: mark 1 is 275 F, each further one 25 F more
        return (250 + 25 * value - 32) / 1.8
    if unit in ("s", "sec", "seconds"):
        return value / 60
    if unit is not None and unit.startswith("s "):  # "s per side"
        return value / 60
    if unit in ("d", "day", "days"):
        return value * 1440
    if unit in ("h", "hour", "hours"):
        return value * 60
    if what == "altitude":
        return value * 0.3048 if unit == "ft" else value
    return value * _CM.get(unit or "", 1.0) if unit in _CM else value * _G.get(unit or "", 1.0)


def _near(what: str, expected: float, found: float) -> bool:
    oven = what in ("bake temperature", "preheat temperature")  # cards round a gas mark and F against C
    slack = 6.0 if oven else 2.0 if "temperature" in what or what.startswith("core") else 0.03 * abs(expected)
    return abs(expected - found) <= max(slack, 0.02)


def _taken(what: str, expected: list[float], number: float, found: list[float]) -> bool:
    """Tell whether a number is among those that were taken, alone or within a sum of its kind."""
    several = "time" in what and len(found) > 1
    sums = [sum(found)] if several else []
    if any(_near(what, number, value) for value in (*found, *sums)):
        return True
    if what == "boil time" and any(_near(what, 2 * number, value) for value in found):
        return True  # a side
    whole = "time" in what and len(expected) > 1 and any(_near(what, sum(expected), value) for value in found)
    return whole and number in expected


def _in_warning(formula: Formula, digits: str, size: float) -> bool:
    """Tell whether a warning names a number as not taken: by its digits, or as what the words come to ("2 hrs")."""
    spans = [
        m.group() for w in formula.warnings for m in re.finditer(r"'[^']{1,80}'", w) if _SAID_NOT.search(w)
    ]
    if any(re.search(rf"(?<![\d.]){re.escape(digits)}(?![\d.])", span) for span in spans):
        return True
    told = [told.value for span in spans for told in numbers_told(with_digits(span))]
    return any(abs(size - value) <= 0.02 * size for value in told)


def _score_pan(formula: Formula, entry: dict[str, Any], score: Score) -> None:
    p = formula.process
    numbers = [float(n) for n in re.findall(r"[0-9]+(?:\.[0-9]+)?", str(entry["value"]))]
    numbers = [n * _CM.get(entry.get("unit") or "", 1.0) for n in numbers]
    sizes = [s for s in (p.pan_length_cm, p.pan_width_cm, p.pan_height_cm) if s is not None]
    counts = [c for c in (p.pan_cups, getattr(p, "pieces", None), p.slices) if c is not None]
    told = f"pan {entry['value']}"
    if pounds := _POUNDS.search(str(entry["value"])):
        loaf = float(pounds["lb"]) if pounds["lb"] else float(pounds["g"]) / 453.6
        sizes_of = [
            s for s in advisor.load_knowledge().pan_sizes.values() if s.pounds and abs(s.pounds - loaf) < 0.1
        ]
        if p.pan_length_cm and any(abs(s.length_cm - p.pan_length_cm) < 0.1 for s in sizes_of):
            score.taken += 1
            return
    if numbers and all(any(abs(n - s) <= 0.07 * n + 0.3 for s in [*sizes, *counts]) for n in numbers):
        score.taken += 1
    elif not sizes and not any(
        _in_warning(formula, n, float(n)) for n in re.findall(r"[0-9.]+", str(entry["value"]))
    ):
        score.lost.append(told)
    elif sizes:
        score.wrong.append(f"{told} taken as {sizes}")
    else:
        score.told.append(told)


def _score_process(formula: Formula, expected: list[dict[str, Any]], score: Score) -> None:
    expected = [plain_entry(entry) for entry in expected]
    if not any(entry["what"] == "target dough temperature" for entry in expected):  # one name for both
        either = "dough temperature, either"
        expected = [{**e, "what": either} if e["what"] == "dough temperature" else e for e in expected]
    wanted: dict[str, list[float]] = {}
    given: dict[str, list[float]] = {}
    for entry in expected:
        if entry["what"] in _VALUES and isinstance(entry.get("value"), int | float):
            size = _in_units_of_the_program(entry["what"], float(entry["value"]), entry.get("unit"))
            given.setdefault(entry["what"], []).append(size)
    for entry in expected:
        what, value = entry["what"], entry.get("value")
        if what == "pan":
            _score_pan(formula, entry, score)
        if what not in _VALUES or isinstance(value, str) or value is None:
            continue
        number = _in_units_of_the_program(what, float(value), entry.get("unit"))
        wanted.setdefault(what, []).append(number)
        if _taken(what, given[what], number, _VALUES[what](formula)):
            score.taken += 1
        elif _in_warning(formula, entry["told"], number):
            score.told.append(f"{what} {value:g}")
        else:
            score.lost.append(f"{what} {value:g} {entry.get('unit') or ''}".strip())
    for what in _ONLY:
        known = list(wanted.get(what, ()))
        known += wanted.get("preheat temperature", ()) if what == "bake temperature" else ()
        known += wanted.get("griddle temperature", ()) if what == "bake temperature" else ()
        known += wanted.get("dough temperature, either", ()) if what.endswith("dough temperature") else ()
        known += wanted.get("cool time", ()) if what.startswith("cooling") else ()
        known += wanted.get("proof temperature", ()) if what == "room temperature" else ()  # "at room (21 C)"
        known += wanted.get("room temperature", ()) if what == "proof temperature" else ()
        known += wanted.get("cool time", ()) if what == "rest time" else ()
        if what == "griddle time per side":
            sides = [
                _in_units_of_the_program(what, e["value"], e["unit"])
                for e in expected
                if _A_SIDE.search(e["what"])
            ]
            known += [*sides, sum(sides) / max(len(sides), 1)]
        if what in ("mix time", "rest time") and len(known) > 1:
            known.append(sum(known))
        if what == "steam time" and formula.process.steam_min is None:
            continue  # steam of a step in the oven, whose time is that step's
        for found in _VALUES[what](formula):
            sums = [sum(known), 2 * known[0]] if known and "time" in what else []
            if not any(_near(what, number, found) for number in (*known, *sums)) and _stated(formula, what):
                score.wrong.append(f"{what} {found:.4g}, which nobody wrote")


def _stated(formula: Formula, what: str) -> bool:
    """Tell whether a value is one that the text states in words the expectation may hold under another name."""
    p = formula.process
    fridge = any(getattr(s, "place", "") for s in getattr(p, "proofs", ()))
    return not (what in ("proof temperature", "proof time") and fridge)


def _alone(entry: dict[str, Any]) -> Line | None:
    """Read an expected ingredient as a line of its own."""
    unit = _UNITS.get(entry["unit"], entry["unit"])
    amount = entry["amount"]
    if size := _SIZE.fullmatch(f"{entry.get('note') or ''}"):
        unit = {"m": "medium", "l": "large", "s": "small"}.get(size["size"].lower(), size["size"])
    text = f"100 g {entry['name']}" if unit == "%" else f"{amount:g} {unit} {entry['name']}"
    report = reader_for(advisor.load_knowledge()).report(f"Loaf\n{text}")
    return report.formula.lines[0] if report.formula and report.formula.lines else None


def _grams_of(entry: dict[str, Any]) -> float:
    """Give the weight of an expected ingredient, g, weighed by the program where it is no weight."""
    if entry["amount"] is None:
        return 0.0
    if entry["unit"] in _G:
        return float(entry["amount"]) * _G[entry["unit"]]
    if each := _NOTED_EACH.search(f"{entry.get('note') or ''}"):
        return float(entry["amount"]) * float(each["g"])  # "5 x 59 g eggs"
    if noted := _NOTED.search(f"{entry.get('note') or ''}"):
        return float(noted["g"])  # "3 egg whites", "about 105 g" in all
    alone = _alone(entry)
    if entry["unit"] is None and alone is not None and alone.counted is None:
        return 0.0  # "1 salt" is a pinch or a packet of a listing that has no word for it
    return alone.grams if alone is not None else 0.0


def _score_ingredients(formula: Formula, expected: list[dict[str, Any]], score: Score) -> None:
    left = list(formula.lines)
    asked = " ".join(score.asked_back).lower()
    expected = [e for e in expected if not asked or not all(w in asked for w in words_of(e["name"])[:1])]
    loose = [u.text.lower() for u in formula.unweighed] + [w.lower() for w in formula.warnings]
    for entry in expected:
        entry = {**entry, "unit": "%"} if entry["unit"] in ("percent", "per cent") else entry
        name, amount = entry["name"], entry["amount"]
        told = f"{amount if amount is not None else '?'} {entry['unit'] or ''} {name}"
        words = set(words_of(name))
        if amount is None or _POT.search(f"{entry.get('note') or ''} {name}"):
            kept = formula.source_text.lower()
            if all(word in kept for word in words):
                continue  # it stands in a line that is kept: nothing of it can be weighed
            if not any(words & set(words_of(text)) for text in loose) and not any(
                words & set(words_of(line.text)) for line in left
            ):
                score.missing.append(told)
            continue
        alone = _alone(entry)
        near = [line for line in left if words & set(words_of(f"{line.text} {line.ingredient.name}"))]
        same = [line for line in left if alone is not None and line.ingredient.id == alone.ingredient.id]
        grams = _grams_of(entry) if entry["unit"] != "%" else 0.0
        fits = [
            line for line in (*same, *near)
            if not grams or entry["unit"] == "%" or abs(line.grams - grams) <= _WITHIN * grams + 0.3
        ]  # fmt: skip
        whole = sum(_grams_of(other) for other in expected if other["name"] == name)
        fits = fits or [line for line in (*same, *near) if abs(line.grams - whole) <= _WITHIN * whole]
        if not fits:
            seen = ", ".join(f"{line.grams:.4g} g {line.ingredient.name}" for line in near)
            score.missing.append(f"{told} (read: {seen or 'nothing'})")
            continue
        if grams and abs(fits[0].grams - grams) <= _WITHIN * grams + 0.3:
            left.remove(fits[0])  # else one line of the program is several amounts: "1 1/2 cups + 1 tbsp"
        score.named.append(f"{name} -> {fits[0].ingredient.id} {fits[0].grams:.4g} g")


def score_text(entry: dict[str, Any], *, without_refused: bool = False) -> Score:
    """Score one text of a folder; the rest of it, where lines that were refused are left out."""
    score = Score()
    text = entry["text"]
    try:
        report = reader_for(advisor.load_knowledge()).report(text)
        nameless = {p.line for p in report.problems if p.what.startswith(_NO_NAME)}
        if report.formula is None and nameless and len(nameless) == len({p.line for p in report.problems}):
            score.asked_back += [p.fragment or p.what for p in report.problems]
            report = replace(report, formula=report.rest)
        if without_refused and report.formula is None:
            bad = {p.line for p in report.problems}
            text = "\n".join("" if n in bad else raw for n, raw in enumerate(text.splitlines(), 1))
            score.missing += [f"line {p.line} refused: {p.what}" for p in report.problems]
            report = reader_for(advisor.load_knowledge()).report(text)
    except Exception as fault:  # a text that is refused whole is one of the results
        score.refused = str(fault)
        return score
    if report.formula is None:
        score.refused = "; ".join(f"line {p.line}: {p.what}" for p in report.problems)
        return score
    _score_ingredients(report.formula, entry["ingredients"], score)
    _score_process(report.formula, entry["process"], score)
    return score


def wilson(hits: int, of: int, z: float = 1.96) -> tuple[float, float]:
    """Give the Wilson interval of a share (E. B. Wilson, J. Am. Stat. Assoc. 22, 1927)."""
    share = hits / of
    middle = (share + z * z / (2 * of)) / (1 + z * z / of)
    half = z / (1 + z * z / of) * math.sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    return middle - half, middle + half


def main() -> None:
    """Print the totals and what each text lost."""
    parser = argparse.ArgumentParser(description="score how the texts of a folder are read")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--without-refused", action="store_true", help="leave out lines that were refused")
    parser.add_argument("--names", action="store_true", help="also list what each ingredient was taken for")
    asked = parser.parse_args()
    entries = json.loads((asked.folder / "texts.json").read_text(encoding="utf-8"))
    scores = [score_text(entry, without_refused=asked.without_refused) for entry in entries]
    for entry, score in zip(entries, scores, strict=True):
        print(f"{entry['id']} {entry['kind']}: {'whole' if score.whole else 'not whole'}")
        for label in ("refused", "asked_back", "missing", "lost", "wrong", "told"):
            found = getattr(score, label)
            for one in [found] if isinstance(found, str) and found else found:
                print(f"    {label}: {one}")
        for one in score.named if asked.names else ():
            print(f"    {one}")
    print_totals(scores, sum(len(e["ingredients"]) for e in entries))


def print_totals(scores: list[Score], given: int) -> None:
    """Print what was found of all texts together; `given` is the number of their ingredients."""
    found, missing = sum(len(s.named) for s in scores), sum(len(s.missing) for s in scores)
    taken, told = sum(s.taken for s in scores), sum(len(s.told) for s in scores)
    lost, wrong = sum(len(s.lost) for s in scores), sum(len(s.wrong) for s in scores)
    of, whole = len(scores), sum(s.whole for s in scores)
    low, high = wilson(whole, of)
    back = sum(len(s.asked_back) for s in scores)
    print(f"not refused {sum(not s.refused and not s.asked_back for s in scores)} of {of}")
    print(
        f"lines asked back for want of a name {back}, "
        f"in {sum(bool(s.asked_back) for s in scores)} texts that are read without them"
    )
    print(f"ingredients found {found} of {given}, missing {missing}")
    print(f"process numbers: taken {taken}, said to be not taken {told}, lost {lost}, wrong {wrong}")
    print(f"texts read whole {whole} of {of} ({100 * whole / of:.0f} %, {100 * low:.0f} to {100 * high:.0f})")


if __name__ == "__main__":
    main()
