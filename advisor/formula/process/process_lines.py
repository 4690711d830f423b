"""Process lines: which key takes what, from ``oven: 175 C for 70 min`` to the fields of a `Process`."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from types import MappingProxyType

from advisor.formula.faults import LineFault, shown
from advisor.formula.process.oven_lines import OPENED, OVEN, RUNS, read_opened, read_oven, read_runs
from advisor.formula.process.pan_lines import MATERIAL, PAN, read_material, read_pan
from advisor.formula.process.process_values import Fields, Value, Words
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


def _proof(words: Words) -> Fields:
    found: dict[str, Value] = {}
    if (value := words.take_temperature(-5, 60)) is not None:
        found["proof_c"] = value
    if (value := words.take_time()) is not None:
        found["proof_min"] = value
    elif words.take("none"):
        found["proof_min"] = 0.0
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
    if (value := words.take_height(-430, 6000)) is None:
        raise words.fault()
    return {"altitude_m": value}


_KEYS: dict[str, tuple[Callable[[Words], Fields], str]] = {
    "slices": (_count("slices", 500, "slices", "slice"), "a whole number: slices: 16"),
    "loaves": (_count("loaves", 500, "loaves", "loaf", "rolls"), "a whole number: loaves: 2"),
    "pan": (read_pan, PAN),
    "pan material": (read_material, MATERIAL),
    "mix": (_time("mix_min"), "a time: mix: 6 min"),
    "water temp": (_temperature("water_c", -5, 100), "a temperature with C or F: water temp: 32 C"),
    "added last": (_added_last, "an ingredient of the formula: added last: vinegar"),
    "whites": (_whites, "whites: whipped, or whites: not whipped"),
    "rest": (_time("rest_min", none=0.0), "a time: rest: 15 min"),
    "proof": (_proof, "a time, and a temperature if known: proof: 60 min at 27 C"),
    "oven": (read_oven, OVEN),
    "oven runs": (read_runs, RUNS),
    "opened at": (read_opened, OPENED),
    "tented at": (_time("tented_at_min"), "one time in the oven: tented at: 40 min"),
    "probed at": (_time("probed_at_min"), "one time in the oven: probed at: 45 min"),
    "dough temp": (_temperature("dough_wanted_c", 0, 45), "a temperature with C or F: dough temp: 26 C"),
    "target core": (_temperature("target_core_c", 40, 110), "a temperature with C or F: target core: 94 C"),
    "core measured": (
        _temperature("core_measured_c", 0, 110),
        "a temperature with C or F: core measured: 88 C",
    ),
    "cooled in pan": (_time("cooled_in_pan_min", none=0.0), "a time: cooled in pan: 20 min"),
    "sliced after": (_time("sliced_after_min"), "a time: sliced after: 60 min"),
    "altitude": (_altitude, "a height in m or ft: altitude: 1600 m"),
}
PROCESS_KEYS = tuple(_KEYS)
_MEANT = {
    "bake": "oven", "baking": "oven", "oven temperature": "oven", "rise": "proof", "prove": "proof",
    "proving": "proof", "knead": "mix", "kneading": "mix", "tin": "pan", "serves": "slices",
    "servings": "slices", "yield": "slices", "makes": "slices", "cooling": "cooled in pan",
    "elevation": "altitude", "foil at": "tented at", "covered at": "tented at", "oven off by": "oven runs",
}  # fmt: skip
"""Words that people use for a key; they are offered, not taken, since some mean more than one thing."""


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
    words.done()
    return MappingProxyType(dict(fields)), tuple(words.said)


def looks_like_process(value: str) -> bool:
    """Tell whether a value holds a time, a temperature or a length, as only process lines do."""
    try:
        words = Words(key="", left=value, expected="")
        return (
            words.take_temperature(-300, 2000) is not None
            or words.take_time() is not None
            or bool(words.take_lengths())
        )
    except LineFault:
        return False


def unknown_key(key: str, like: str | None) -> LineFault:
    """Say that a key is not known, with the nearest one or all."""
    do = f"did you mean '{like}:'?" if like else f"known are {', '.join(PROCESS_KEYS)} and base"
    return LineFault(key, f"'{shown(key)}:' is no process line that is known", do)


def nearest_key(key: str, least: float) -> str | None:
    """Give the process key most like a word, at least so like from 0 to 100."""
    plain = plain_key(key)
    return _MEANT.get(plain) or next(iter(nearest(plain, PROCESS_KEYS, 1, least)), None)
