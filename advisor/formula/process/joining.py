"""Further steps of the same work, written on lines of their own: "bulk: 30 min" and then "final proof: 55 min"."""

from __future__ import annotations

from advisor.formula.formula import Process
from advisor.formula.process.process_values import Fields, Value

_SUMS = (("mixes", "mix_min"), ("rests", "rest_min"))


def further(known: Fields, found: Fields) -> dict[str, Value]:
    """Give the fields of a process in which what is found comes behind what is known."""
    before = _part(known, found)
    after = _part(found, found)
    if {"proofs", "proof_min", "proof_c"} & set(found):
        rises = (*before.rises, *after.rises)
        return {"proofs": rises, "proof_min": None, "proof_c": None} if before.rises else dict(found)
    for steps, total in _SUMS:
        if not {steps, total} & set(found):
            continue
        times = (*_times(before, steps, total), *_times(after, steps, total))
        return {steps: times, total: None} if _times(before, steps, total) else dict(found)
    return dict(found)


def _part(fields: Fields, like: Fields) -> Process:
    kin = ("proofs", "proof_min", "proof_c", "mixes", "mix_min", "rests", "rest_min")
    return Process(**{field: fields.get(field) or _EMPTY.get(field) for field in kin if field in fields})  # type: ignore[arg-type]


_EMPTY: dict[str, Value] = {"proofs": (), "mixes": (), "rests": ()}


def _times(process: Process, steps: str, total: str) -> tuple[float, ...]:
    several: tuple[float, ...] = getattr(process, steps)
    alone: float | None = getattr(process, total)
    return several or (() if alone is None else (alone,))
