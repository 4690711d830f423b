"""Single changes that were tried, and what the loaf said of each: did the fault that it was for go away?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from advisor.trial_record.bake import Bake

Outcome = Literal["worked", "in part", "failed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One change followed: for which cause, how likely that was and how good the change is by the knowledge alone."""

    number: int
    lever: str
    cause: str
    probability: float
    efficacy: float
    outcome: Outcome

    @property
    def share(self) -> float:
        """How much of the fault went away: 1, a half, 0."""
        return {"worked": 1.0, "in part": 0.5, "failed": 0.0}[self.outcome]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What became of the symptoms that a change was to take away; those not looked for again are in neither."""

    gone: tuple[str, ...]
    stayed: tuple[str, ...]

    @property
    def outcome(self) -> Outcome | None:
        """`None` where none of them was looked for again."""
        if not self.gone and not self.stayed:
            return None
        if not self.stayed:
            return "worked"
        return "in part" if self.gone else "failed"


def answer_of(before: Bake, after: Bake) -> Answer:
    """Lay the symptoms seen before, of those whose risk the change was to lower, against the bake after it."""
    foreseen = after.foreseen
    hoped = [] if foreseen is None else [
        symptom
        for symptom in before.seen
        if (pair := foreseen.risk.get(symptom)) is not None and pair[0] is not None and pair[1] < pair[0]
    ]  # fmt: skip
    return Answer(
        gone=tuple(s for s in hoped if s in after.absent), stayed=tuple(s for s in hoped if s in after.seen)
    )


def trials_in(pairs: Iterable[tuple[Bake, Bake | None]]) -> tuple[Trial, ...]:
    """Give the trials in bakes with what each follows; bakes that changed more than one thing teach nothing."""
    out = []
    for bake, before in pairs:
        foreseen = bake.foreseen
        if before is None or bake.followed is None or foreseen is None or not foreseen.single:
            continue
        outcome = answer_of(before, bake).outcome
        if outcome is None or foreseen.cause is None:
            continue
        if foreseen.cause_probability is None or foreseen.efficacy is None:
            continue
        out.append(
            Trial(
                number=bake.number,
                lever=bake.followed,
                cause=foreseen.cause,
                probability=foreseen.cause_probability,
                efficacy=foreseen.efficacy,
                outcome=outcome,
            )
        )
    return tuple(out)
