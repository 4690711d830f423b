"""A bake as plain keys and values and back: what YAML and CSV share."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from sys import float_info
from typing import TypeAlias

from advisor.knowledge_base.strict_yaml import Plain
from advisor.trial_record.bake import MEASURED, SCORES, Amount, Bake, CameOut, Foreseen, Scores
from advisor.trial_record.faults import BakeFault

Keys: TypeAlias = Mapping[str, Plain]
FORESEEN = tuple(f.name for f in fields(Foreseen) if f.name != "risk")
KEYS = (
    "key", "date", "formula", "saw", "not", *SCORES, *MEASURED, "photo", "notes", "followed", "follows", "lots",
    "amounts", "steps", "text", "foreseen", "risk",
)  # fmt: skip


def to_plain(bake: Bake) -> dict[str, Plain]:
    """Give a bake as plain data, keys without a value left out."""
    foreseen = bake.foreseen
    out: dict[str, Plain] = {
        "key": bake.key,
        "date": bake.baked_on,
        "formula": bake.formula,
        "saw": list(bake.seen),
        "not": list(bake.absent),
        **{name: getattr(bake.scores, name) for name in SCORES},
        **{name: getattr(bake.came_out, name) for name in MEASURED},
        "photo": bake.photo,
        "notes": bake.notes,
        "followed": bake.followed,
        "follows": bake.follows,
        "lots": dict(bake.lots),
        "amounts": [[a.ingredient, a.name, a.grams] for a in bake.amounts],
        "steps": dict(bake.steps),
        "text": bake.formula_text,
        "foreseen": None if foreseen is None else {name: getattr(foreseen, name) for name in FORESEEN},
        "risk": None if foreseen is None else {s: list(pair) for s, pair in foreseen.risk.items()},
    }
    kept: dict[str, Plain] = {}
    for key, value in out.items():
        if value is not None and (value not in ([], {}) or key == "foreseen"):
            kept[key] = value
    return kept


def from_plain(plain: Keys) -> Bake:
    """Read a bake back.

    Raises:
        BakeFault: a key that is not known, is missing, or holds something else than it should.
    """
    if unknown := sorted(set(plain) - set(KEYS)):
        raise BakeFault(unknown[0], "is no key of a bake", f"known are {', '.join(KEYS)}")
    return Bake(
        key=_text(plain, "key"),
        baked_on=_text(plain, "date"),
        formula=_text(plain, "formula"),
        formula_text=_text(plain, "text"),
        seen=_texts(plain, "saw"),
        absent=_texts(plain, "not"),
        scores=Scores(**{name: _whole(plain, name) for name in SCORES}),
        came_out=CameOut(**{name: _number(plain, name) for name in MEASURED}),
        photo=_text_or_none(plain, "photo"),
        notes=_text_or_none(plain, "notes"),
        followed=_text_or_none(plain, "followed"),
        follows=_text_or_none(plain, "follows"),
        lots=_words(plain, "lots"),
        amounts=tuple(_amount(one) for one in _list(plain, "amounts")),
        steps=_words(plain, "steps"),
        foreseen=_foreseen(plain),
    )


def _foreseen(plain: Keys) -> Foreseen | None:
    if "foreseen" not in plain:
        return None
    told = _mapping(plain, "foreseen")
    if unknown := sorted(set(told) - set(FORESEEN)):
        raise BakeFault("foreseen", f"has no key {unknown[0]}", f"known are {', '.join(FORESEEN)}")
    numbers = {n: _number(told, n) for n in FORESEEN if n not in ("cause", "single")}
    return Foreseen(
        cause=_text_or_none(told, "cause"),
        single=told.get("single") is True,
        risk={symptom: _pair(symptom, pair) for symptom, pair in _mapping(plain, "risk").items()},
        **numbers,
    )


def _pair(symptom: str, pair: Plain) -> tuple[float | None, float]:
    if isinstance(pair, list) and len(pair) == 2:
        before, after = pair
        first = None if before is None else _real(before)
        second = _real(after)
        if second is not None and (before is None or first is not None):
            return first, second
    raise BakeFault("risk", f"{symptom} is no pair of risks", "write [before, after], 0 to 1")


def _real(value: Plain) -> float | None:
    """Give a number as one that can be kept and written out again; JSON also reads endless ones, and NaN."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if abs(value) <= float_info.max else None


def _amount(one: Plain) -> Amount:
    if isinstance(one, list) and len(one) == 3:
        ingredient, name, grams = one
        real = _real(grams)
        if isinstance(ingredient, str) and isinstance(name, str) and real is not None:
            return Amount(ingredient=ingredient, name=name, grams=real)
    raise BakeFault("amounts", "one is no amount", "write [ingredient, name, grams]")


def _wrong(key: str, what: str) -> BakeFault:
    return BakeFault(key, "is not as it should be", f"write {what}")


def _text(plain: Keys, key: str) -> str:
    value = plain.get(key)
    if not isinstance(value, str) or not value:
        raise _wrong(key, "a text")
    return value


def _text_or_none(plain: Keys, key: str) -> str | None:
    return None if plain.get(key) is None else _text(plain, key)


def _number(plain: Keys, key: str) -> float | None:
    value = plain.get(key)
    if value is None:
        return None
    if (real := _real(value)) is None:
        raise _wrong(key, "a number")
    return real


def _whole(plain: Keys, key: str) -> int | None:
    value = plain.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int):
        raise _wrong(key, "a whole number from 1 to 5")
    return value


def _list(plain: Keys, key: str) -> list[Plain]:
    value = plain.get(key, [])
    if not isinstance(value, list):
        raise _wrong(key, "a list")
    return value


def _texts(plain: Keys, key: str) -> tuple[str, ...]:
    values = _list(plain, key)
    if not all(isinstance(value, str) for value in values):
        raise _wrong(key, "a list of names")
    return tuple(str(value) for value in values)


def _mapping(plain: Keys, key: str) -> dict[str, Plain]:
    value = plain.get(key, {})
    if not isinstance(value, dict):
        raise _wrong(key, "keys and values")
    return value


def _words(plain: Keys, key: str) -> dict[str, str]:
    found = _mapping(plain, key)
    read: Callable[[str], str] = lambda name: _text(found, name)  # noqa: E731 (one line says it)
    return {name: read(name) for name in found}
