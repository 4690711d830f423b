"""Process lines: which key takes what, from ``oven: 175 C for 70 min`` to the fields of a `Process`."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from types import MappingProxyType

from advisor.formula.faults import LineFault
from advisor.formula.process.oven_lines import OPENED, OVEN, RUNS, read_opened, read_runs
from advisor.formula.process.pan_lines import MATERIAL, PAN, read_material, read_pan
from advisor.formula.process.process_values import (
    HIGHEST_M,
    LEAST_THICK_CM,
    LONGEST_KEPT_MIN,
    TALLEST_CM,
    Fields,
    Value,
    Words,
)
from advisor.formula.process.step_lines import PROOF, read_lid, read_ovens, read_rises
from advisor.knowledge_base.likeness import nearest


def _time(field: str, **named: float) -> Callable[[Words], Fields]:
    def read(words: Words) -> Fields:
        if (minutes := words.take_time()) is None:
            minutes = next((value for word, value in named.items() if words.take(word)), None)
        if minutes is None:
            raise words.fault()
        return {field: minutes}

    return read


def _temperature(field: str, low: float, high: float) -> Callable[[Words], Fields]:
    def read(words: Words) -> Fields:
        if (value := words.take_temperature(low, high)) is None:
            raise words.fault()
        return {field: value}

    return read


def _count(field: str, most: int, *nouns: str) -> Callable[[Words], Fields]:
    def read(words: Words) -> Fields:
        if (value := words.take_count(most)) is None:
            raise words.fault()
        words.take(*nouns)
        return {field: value}

    return read


def _times(steps: str, total: str) -> Callable[[Words], Fields]:
    """Read one time, or several behind "then", which are kept apart and summed."""

    def read(words: Words) -> Fields:
        if words.take("none"):
            return {total: 0.0}
        found = []
        while (minutes := words.take_time()) is not None:
            found.append(minutes)
        if not found:
            raise words.fault()
        if words.left and steps == "mixes":
            words.take("by hand", "on low", "on medium", "on high", "low", "medium", "high")
        return {total: found[0]} if len(found) == 1 else {steps: tuple(found), total: None}

    return read


def _length(field: str, low: float, high: float) -> Callable[[Words], Fields]:
    def read(words: Words) -> Fields:
        sizes = words.take_lengths(least=low)
        if len(sizes) != 1:
            raise words.fault()
        if not low <= sizes[0] <= high:
            raise words.fault(f"{sizes[0]:g} cm is not between {low:g} and {high:g} cm")
        words.take("thick", "high", "tall")
        return {field: sizes[0]}

    return read


def _weight(field: str) -> Callable[[Words], Fields]:
    def read(words: Words) -> Fields:
        if (grams := words.take_weight()) is None:
            raise words.fault()
        words.take("each")
        return {field: grams}

    return read


def _words(field: str) -> Callable[[Words], Fields]:
    def read(words: Words) -> Fields:
        said = " ".join(words.left.split())
        if not said or len(said) > 60:
            raise words.fault()
        words.left = ""
        return {field: said}

    return read


def _griddle(words: Words) -> Fields:
    found: dict[str, Value] = {}
    if (heat := words.take_temperature(100, 350)) is not None:
        found["griddle_c"] = heat
    if (minutes := words.take_time()) is not None:
        found["griddle_side_min"] = minutes
    words.take("a side", "per side", "each side", "on each side", "side")
    if not found:
        raise words.fault()
    return found


def _stored(words: Words) -> Fields:
    found: dict[str, Value] = {}
    if (minutes := words.take_time(longest=LONGEST_KEPT_MIN)) is not None:
        found["stored_min"] = minutes
    if (kept_c := words.take_temperature(-40, 45)) is not None:
        found["stored_c"] = kept_c
        words.take("at")
    if where := " ".join(words.left.replace(",", " ").split()):
        found["stored"] = where[:60]
    words.left = ""
    if not found:
        raise words.fault()
    return found


def _added_last(words: Words) -> Fields:
    said = " ".join(words.left.split())
    if not said:
        raise words.fault()
    words.left = ""
    return {"added_last": said}


def _whites(words: Words) -> Fields:
    if words.take("not whipped", "unwhipped", "not beaten", "liquid", "as they are", "no"):
        return {"whites_whipped": False}
    if words.take("stiffly whipped", "whipped stiff", "whipped", "beaten stiff", "stiff", "yes"):
        return {"whites_whipped": True}
    raise words.fault()


def _altitude(words: Words) -> Fields:
    if (value := words.take_height(-430, HIGHEST_M)) is None:
        raise words.fault()
    return {"altitude_m": value}


_KEYS: dict[str, tuple[Callable[[Words], Fields], str]] = {
    "slices": (_count("slices", 500, "slices", "slice"), "a whole number: slices: 16"),
    "loaves": (_count("loaves", 500, "loaves", "loaf", "rolls"), "a whole number: loaves: 2"),
    "pan": (read_pan, PAN),
    "pan material": (read_material, MATERIAL),
    "kind": (_words("kind"), "what it is: kind: bagel"),
    "pieces": (_count("pieces", 500, "pieces", "piece", "rolls", "balls"), "a whole number: pieces: 8"),
    "piece weight": (_weight("piece_g"), "a weight: piece weight: 90 g"),
    "thickness": (_length("thickness_cm", LEAST_THICK_CM, 10), "a length: thickness: 5 mm"),
    "baked on": (_words("baked_on"), "what is hot already: baked on: stone"),
    "room temp": (_temperature("room_c", -5, 50), "a temperature with C or F: room temp: 22 C"),
    "mixer": (_words("mixer"), "how it is mixed: mixer: by hand"),
    "mix": (_times("mixes", "mix_min"), "a time: mix: 6 min"),
    "water temp": (_temperature("water_c", -5, 100), "a temperature with C or F: water temp: 32 C"),
    "added last": (_added_last, "an ingredient of the formula: added last: vinegar"),
    "whites": (_whites, "whites: whipped, or whites: not whipped"),
    "starter": (_words("starter"), "how lively it is: starter: fed 6 h ago, doubled"),
    "rest": (_times("rests", "rest_min"), "a time: rest: 15 min"),
    "proof": (read_rises, PROOF),
    "boil": (_time("boil_min"), "a time: boil: 1 min"),
    "steam": (
        _time("steam_min"),
        "a time over steam: steam: 12 min; in the oven write oven: 230 C with steam",
    ),
    "griddle": (_griddle, "minutes a side, and a heat if known: griddle: 2 min a side at 200 C"),
    "microwave": (_time("microwave_min"), "a time: microwave: 90 s"),
    "preheat": (_temperature("preheat_c", 60, 350), "a temperature with C or F: preheat: 230 C"),
    "oven": (read_ovens, OVEN),
    "lid": (read_lid, "how long with and without: lid: on 25 min, off 15 min"),
    "oven runs": (read_runs, RUNS),
    "opened at": (read_opened, OPENED),
    "tented at": (_time("tented_at_min"), "one time in the oven: tented at: 40 min"),
    "probed at": (_time("probed_at_min"), "one time in the oven: probed at: 45 min"),
    "target dough temp": (
        _temperature("dough_wanted_c", 0, 45),
        "a temperature with C or F: target dough temp: 26 C",
    ),
    "dough temp": (
        _temperature("dough_measured_c", -5, 60),
        "the temperature that the probe read, with C or F: dough temp: 26 C",
    ),
    "target core": (_temperature("target_core_c", 40, 110), "a temperature with C or F: target core: 94 C"),
    "core measured": (
        _temperature("core_measured_c", 0, 110),
        "a temperature with C or F: core measured: 88 C",
    ),
    "cooled in": (_words("cooled_in"), "where: cooled in: pan, or cooled in: upside down"),
    "cooled in pan": (_time("cooled_in_pan_min", none=0.0), "a time: cooled in pan: 20 min"),
    "sliced after": (_time("sliced_after_min"), "a time: sliced after: 60 min"),
    "weight after": (_weight("weight_after_g"), "the weight of the baked loaf: weight after: 720 g"),
    "height after": (
        _length("height_after_cm", 0.1, TALLEST_CM),
        "the height of the baked loaf: height after: 10 cm",
    ),
    "stored": (_stored, "where and how long: stored: 3 days in a tin"),
    "altitude": (_altitude, "a height in m or ft: altitude: 1600 m"),
}
PROCESS_KEYS = tuple(_KEYS)
SAME_KEY = {
    "freeze": "proof", "frozen": "proof", "freezing": "proof",
    "tin": "pan", "bake": "oven", "baking": "oven", "bake at": "oven", "baking temperature": "oven", "baked": "oven",
    "oven temperature": "oven", "oven temp": "oven", "bake temp": "oven", "bake time": "oven", "baking time": "oven",
    "time in the oven": "oven", "time": "oven", "temp": "oven",
    "rise": "proof", "prove": "proof", "proving": "proof", "proofing": "proof",
    "bulk": "proof", "bulk proof": "proof", "bulk ferment": "proof", "bulk fermentation": "proof",
    "first rise": "proof", "first proof": "proof", "second rise": "proof", "second proof": "proof",
    "final proof": "proof", "final rise": "proof", "1st rise": "proof", "2nd rise": "proof", "ferment": "proof",
    "fridge": "proof", "retard": "proof", "knead": "mix", "kneading": "mix", "mixing": "mix", "mixed": "mix",
    "autolyse": "rest", "bench rest": "rest", "resting": "rest", "rested": "rest", "cooling": "sliced after",
    "cool": "sliced after", "cooled": "sliced after", "elevation": "altitude",
    "foil at": "tented at", "covered at": "tented at",
    "oven off by": "oven runs", "room": "room temp", "room temperature": "room temp", "kitchen": "room temp",
    "water temperature": "water temp", "ddt": "target dough temp", "desired dough temp": "target dough temp",
    "target dough temperature": "target dough temp", "desired dough temperature": "target dough temp",
    "wanted dough temp": "target dough temp", "dough temperature": "dough temp", "fdt": "dough temp",
    "final dough temperature": "dough temp", "final dough temp": "dough temp", "internal": "core measured",
    "internal temp": "core measured", "internal temperature": "core measured", "core": "core measured",
    "core temp": "core measured", "core temperature": "core measured", "internal at pull": "core measured",
    "baked weight": "weight after", "weight baked": "weight after", "weight after baking": "weight after",
    "height": "height after", "height baked": "height after", "loaf height": "height after",
    "height after baking": "height after", "thick": "thickness", "rolled to": "thickness", "storage": "stored",
    "store": "stored", "storing": "stored", "keeping": "stored",
    "kept": "stored", "type": "kind", "sliced": "sliced after", "cut after": "sliced after",
    "preheat oven": "preheat", "stone": "baked on", "scaled at": "piece weight", "scaling weight": "piece weight",
    "weight per piece": "piece weight", "number of pieces": "pieces", "boiled": "boil", "steamed": "steam",
    "tawa": "griddle", "skillet": "griddle", "sourdough": "starter",
}  # fmt: skip
"""Words that people use for a key; where a line holds what the key takes, it is read as that key."""
_OFFERED = {"serves": "slices", "servings": "slices", "yield": "slices", "makes": "slices"}
"""Words that are offered and not taken, since they mean more than one thing."""
ADDED_UP = frozenset({"proof", "rest", "mix"})
"""Keys that may stand more than once: each line is a further step."""


_FROZEN_KEYS = frozenset({"freeze", "frozen", "freezing"})
_BELOW_FREEZING = re.compile(r"[-−]\s?\d+\s*(?:°|deg|C\b)")


def keeps_bread(key: str, value: str) -> bool:
    """Tell whether a line about freezing names no such heat: it is of the bread that is kept, not of the dough."""
    return key in _FROZEN_KEYS and _BELOW_FREEZING.search(value) is None


def plain_key(text: str) -> str:
    """Give a key as it is compared: small letters, one space between words."""
    return " ".join(text.lower().replace("_", " ").replace("-", " ").split())


@lru_cache(maxsize=1024)
def read_process_value(key: str, value: str) -> tuple[Fields, tuple[str, ...]]:
    """Read what stands behind the colon of a known key; give the fields and what was assumed.

    Raises:
        LineFault: the value is not what the key takes; says what was expected.
    """
    read, expected = _KEYS[key]
    words = Words(key=key, left=value, expected=expected)
    if not value.strip():
        raise LineFault(key, f"'{key}' says nothing", f"write {expected}, or leave the line out")
    fields = read(words)
    if key in ADDED_UP and any(fields.values()):
        words.leave_words()
    words.done()
    return MappingProxyType(dict(fields)), tuple(words.said)


def nearest_key(key: str, least: float) -> str | None:
    """Give the process key most like a word, at least so like from 0 to 100."""
    plain = plain_key(key)
    known = _OFFERED.get(plain) or SAME_KEY.get(plain)
    return known or next(iter(nearest(plain, PROCESS_KEYS, 1, least)), None)
