"""What an examination could not judge: a number that a model owes and does not give is said, never passed over.

A measure that has no place in a formula (the proof of a dough without yeast, the fill of no pan) is no gap. A gap is a
model that refused the piece or the oven, a number outside the range in which it means something, and a dough in which
no rule finds what could hold it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.diagnosis.kinds_of_bake import KindView
from advisor.formula.formula import Process
from advisor.inference.situation import Inference
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.measure import Measures
from advisor.models.measuring import Workings

STRUCTURE, NUMBER = "structure", "number"


@dataclass(frozen=True, slots=True, kw_only=True)
class NotJudged:
    """One gap: `what` could not be judged, `why`, and the line to `write` that may help (empty where none does)."""

    id: str
    what: str
    why: str
    write: str
    decides: bool
    """Whether there can be no all-clear without it."""

    @property
    def says(self) -> str:
        """The gap in one sentence."""
        hint = f' A line like "{self.write}" would help.' if self.write else ""
        return f"Not judged: {self.what} ({self.why}).{hint}"


def not_judged(
    workings: Workings, inference: Inference, view: KindView, knowledge: Knowledge
) -> tuple[NotJudged, ...]:
    """Find the gaps, in the order of knowledge/not_judged.yaml; behind them those of the kind of bake."""
    stated = workings.dough_state.formula.process
    return (*_gaps(workings.measures, inference, view, knowledge), *_of_kind(view, stated))


def _of_kind(view: KindView, process: Process) -> Iterator[NotJudged]:
    for gap in view.gaps:
        if not gap.where or any(getattr(process, name) not in (None, ()) for name in gap.where):
            yield NotJudged(id=gap.id, what=gap.what, why=gap.why, write=gap.write or "", decides=False)


def _gaps(
    measures: Measures, inference: Inference, view: KindView, knowledge: Knowledge
) -> Iterator[NotJudged]:
    said: set[str] = set(view.left_out)
    for entry in knowledge.not_judged.values():
        if entry.needs is not None:
            owed = measures.by_id.get(entry.needs)
            if owed is not None and owed.value is None and entry.needs not in said:
                said.add(entry.needs)
                yield NotJudged(
                    id=entry.id,
                    what=entry.what,
                    why=owed.reason,
                    write=entry.write or "",
                    decides=entry.decides,
                )
        elif entry.id == STRUCTURE and not any(firing.phase == "structure" for firing in inference.firings):
            why = "no gluten, egg, gum, cheese or starch enough was found in it"
            yield NotJudged(
                id=entry.id, what=entry.what, why=why, write=entry.write or "", decides=entry.decides
            )
        elif entry.id == NUMBER:
            for measure in measures.by_id.values():
                if measure.outside and measure.id not in said and _read(measure.id, knowledge):
                    yield NotJudged(
                        id=measure.id, what=knowledge.measures[measure.id].name, why=measure.reason, write="",
                        decides=entry.decides,
                    )  # fmt: skip


def _read(measure: str, knowledge: Knowledge) -> bool:
    return any(band.measure == measure for band in knowledge.bands)
