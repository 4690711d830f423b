"""Process lines that hold several steps: "230 C for 20 min with lid, then 210 C for 15 min", "30 min, then 55 min"."""

from __future__ import annotations

import re

from advisor.formula.process.oven_lines import read_oven
from advisor.formula.process.process_values import LONGEST_KEPT_MIN, LONGEST_MIN, Fields, Value, Words
from advisor.formula.process.steps import DOUGH_FREEZES_C, OvenStep, Rise

PROOF = "a time, and a temperature if known: proof: 60 min at 27 C; a second rise behind 'then'"
_THEN = re.compile(r"\s*(?:[,;]?\s*\b(?:and\s+)?then\b|;|\s\+\s)\s*", re.IGNORECASE)
PLACES = (
    ("fridge", ("in the fridge", "fridge", "in the refrigerator", "refrigerator", "refrigerated",
     "retarder", "cold")),
    ("counter", ("on the counter", "on the bench", "counter", "bench", "in the kitchen", "room temperature",
     "room temp")),
    ("proof box", ("in the proof box", "proof box", "proofer", "prover", "proving drawer")),
    ("oven light", ("in the oven with the light on", "oven with the light on", "oven light")),
    ("warm place", ("somewhere warm", "in a warm place", "warm place")),
)  # fmt: skip
_UNTIL = re.compile(r"\b(?:un)?till?\s+(?P<what>[^,;]+)|\b(?P<night>overnight)\b", re.IGNORECASE)


def pieces_of(value: str) -> tuple[str, ...]:
    """Part a value at "then" and semicolons."""
    return tuple(p for p in _THEN.split(value) if p.strip(" ,"))


def _each(words: Words) -> tuple[Words, ...]:
    found = tuple(
        Words(key=words.key, left=p, expected=words.expected, said=words.said) for p in pieces_of(words.left)
    )
    words.left = ""
    return found


def _lid(words: Words) -> bool | None:
    if words.take("without lid", "without the lid", "no lid", "lid off", "uncovered", "lid removed"):
        return False
    return (
        True if words.take("with lid", "with the lid", "with a lid", "lid on", "lidded", "covered") else None
    )


def _steam(words: Words) -> bool | None:
    if words.take("without steam", "no steam", "steam out", "vent open"):
        return False
    return True if words.take("with steam", "steamed", "steam") else None


def read_ovens(words: Words) -> Fields:
    """Read what the oven does, step by step; a step without a heat keeps the one before.

    Raises:
        LineFault: a step says neither heat nor time.
    """
    common: dict[str, Value] = {}
    steps: list[OvenStep] = []
    for piece in _each(words):
        lid, steam = _lid(piece), _steam(piece)
        fields = dict(read_oven(piece))
        piece.done()
        heat, minutes = fields.pop("oven_c", None), fields.pop("bake_min", None)
        common |= fields
        if isinstance(heat, float) or isinstance(minutes, float) or lid is not None or steam is not None:
            known = steps[-1].celsius if steps else None
            step = OvenStep(
                celsius=heat if isinstance(heat, float) else known,
                minutes=minutes if isinstance(minutes, float) else None,
                lid=lid,
                steam=steam,
            )
            steps.append(step)
    if len(steps) == 1 and steps[0].lid is None and steps[0].steam is None:
        alone = {"oven_c": steps[0].celsius, "bake_min": steps[0].minutes}
        return {**{k: v for k, v in alone.items() if v is not None}, **common}
    if not steps:
        return common
    return {"oven_steps": tuple(steps), "oven_c": None, "bake_min": None, **common}


def _rise(words: Words) -> Rise:
    celsius = words.take_temperature(-40, 60)
    frozen = celsius is not None and celsius < DOUGH_FREEZES_C
    if frozen and "bak" in words.left.lower():
        raise words.fault()  # a loaf that is frozen half baked is no dough
    minutes = words.take_time(longest=LONGEST_KEPT_MIN if frozen else LONGEST_MIN)
    until = ""
    if found := _UNTIL.search(words.left):
        until = " ".join((found["what"] or found["night"]).lower().split())
        words.left = words.left[: found.start()] + words.left[found.end() :]
    place = next((name for name, spelt in PLACES if words.take(*spelt)), "")
    if minutes is None and words.take("none"):
        minutes = 0.0
    if minutes is None and celsius is None and not until and not place:
        raise words.fault()
    words.done()
    return Rise(minutes=minutes, celsius=celsius, place=place, until=until)


def read_rises(words: Words) -> Fields:
    """Read the rises of a dough in their order."""
    rises = tuple(_rise(piece) for piece in _each(words))
    if not rises:
        raise words.fault()
    if len(rises) == 1 and not rises[0].place and not rises[0].until:
        alone = {"proof_c": rises[0].celsius, "proof_min": rises[0].minutes}
        return {k: v for k, v in alone.items() if v is not None}
    return {"proofs": rises, "proof_min": None, "proof_c": None}


def read_lid(words: Words) -> Fields:
    """Read "on 25 min, off 15 min" as two steps of the oven; the heat is that of the oven line."""
    steps = []
    for piece in re.split(r",|\band\b|;|\bthen\b", words.left):
        part = Words(key=words.key, left=piece, expected=words.expected, said=words.said)
        minutes = part.take_time()
        off = part.take("off", "without", "removed", "uncovered")
        on = part.take("on", "with", "covered")
        part.take("for")
        if minutes is None or (off is None) == (on is None):
            raise words.fault()
        part.done()
        steps.append(OvenStep(minutes=minutes, lid=on is not None))
    words.left = ""
    return {"oven_steps": tuple(steps)}
