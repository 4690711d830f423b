"""What a formula leaves out that a verdict hangs on, in the order of its weight; and what is said but not used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.formula.formula import Missing, Process, Unweighed
from advisor.formula.lines.beside_dough import is_beside_the_dough

_NOT_USED = {
    "boil_min": "boil", "microwave_min": "microwave",
    "starter": "starter", "mixer": "mixer",
}  # fmt: skip
"""Fields that no model reads yet, by their key; what a model learns to use goes from here."""


def missing_of(
    process: Process, unweighed: Sequence[Unweighed], *, shaped: bool = False
) -> tuple[Missing, ...]:
    """Give what is not said and decides, the weightiest first; `shaped` tells that words name a tin or a tray."""
    found = _missing(process, unweighed)
    return tuple(one for one in found if not (shaped and one.field == "pan_kind"))


def _missing(p: Process, unweighed: Sequence[Unweighed]) -> Iterator[Missing]:
    for entry in sorted(unweighed, key=lambda e: "water" not in e.ingredient.roles):
        beside = entry.beside or is_beside_the_dough(entry.section)
        if not (beside or {"flavour", "salt"} & set(entry.ingredient.roles)):
            yield Missing(
                field=entry.ingredient.id,
                what=f"how much {entry.ingredient.name}",
                why="It is counted as nothing now, and every figure moves with it.",
                write=f"200 g {entry.ingredient.name}, with the weight you used",
            )
    elsewhere = any(v is not None for v in (p.griddle_side_min, p.steam_min, p.microwave_min))
    if p.oven_c is None and p.preheat_c is None and not elsewhere:
        yield Missing(
            field="oven_c",
            what="how hot the oven is",
            why="Crust, rise and the time to a set crumb hang on it.",
            write="oven: 175 C for 60 min",
        )
    if p.bake_min is None and p.target_core_c is None and not elsewhere:
        yield Missing(
            field="bake_min",
            what="how long it bakes",
            why="Without it nobody can tell whether the middle was done.",
            write="oven: 175 C for 60 min, or target core: 94 C",
        )
    if p.pan_kind is None and p.pieces is None and p.thickness_cm is None and p.microwave_min is None:
        yield Missing(
            field="pan_kind",
            what="the pan or the shape",
            why="A deep tin bakes far slower than a flat piece, and holds up a soft dough.",
            write="pan: 23 x 13 x 7 cm, or pan: free-standing, rolls or flat",
        )
    if p.sliced_after_min is None and p.pieces is None and not elsewhere:
        yield Missing(
            field="sliced_after_min",
            what="when it was cut",
            why="A loaf cut warm is gummy even where the bake was right.",
            write="sliced after: 60 min",
        )


def not_used(process: Process) -> str | None:
    """Say what the formula tells and no model uses yet; `None` where all is used."""
    keys = [key for field, key in _NOT_USED.items() if getattr(process, field) is not None]
    if len(process.proofs) > 1:
        keys.append("the rises before the last")
    return f"kept, but not used for the figures yet: {', '.join(keys)}" if keys else None
