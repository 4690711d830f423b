"""What to turn, and which way, where no formula is there to solve an amount on."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever

_WORKS_THROUGH = {"proof_min": ("yeast",), "proof_c": ("yeast",)}
"""A step of the process to the roles without which it does nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Direction:
    """One lever without an amount: for which cause, how probable that is (0..1), and what it costs."""

    lever: str
    cause: str
    says: str
    does: str
    """What to do where the lever says it in words of its own; empty where an amount would stand."""
    because: str
    probability: float
    effort: float


def directions_for(
    found: Examination, knowledge: Knowledge, *, pan_kind: str, without: Collection[str] = ()
) -> tuple[Direction, ...]:
    """Give the levers of the causes that are probable enough, best first: probability over effort, the best of a cause.

    Causes count from `remedy_cause_from` (knowledge/coefficients.yaml). A lever for other structures or pans is left
    out, and one that turns less of an ingredient whose role is in `without`, or works through it. That an amount can
    be moved so far is not known: nothing was solved.
    """
    floor = knowledge.coefficient("remedy_cause_from")
    own = {cause: p for cause, p in found.diagnosis.own.items() if p >= floor}
    out = []
    for lever in knowledge.levers.values():
        turns = {lever.turn.ingredient_role, *_WORKS_THROUGH.get(lever.turn.process or "", ())}
        if lever.for_ in own and _fits(lever, found.structure, pan_kind) and not turns & set(without):
            out.append(
                Direction(
                    lever=lever.id,
                    cause=lever.for_,
                    says=lever.says,
                    does=lever.turn.do or "",
                    because=lever.because,
                    probability=own[lever.for_],
                    effort=knowledge.coefficient(f"effort_{lever.effort}"),
                )
            )
    out.sort(
        key=lambda d: -d.probability / d.effort
    )  # stable: the file has the plainest lever of a cause first
    first: dict[str, Direction] = {}
    for direction in out:
        first.setdefault(direction.cause, direction)
    return tuple(first.values())


def _fits(lever: Lever, structure: str, pan_kind: str) -> bool:
    fits_structure = not lever.structures or structure in lever.structures
    return fits_structure and (not lever.pan_kinds or pan_kind in lever.pan_kinds)
