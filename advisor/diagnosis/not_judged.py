"""What an examination could not judge: a number that a model owes and does not give is said, never passed over.

A measure that has no place in a formula (the proof of a dough without yeast, the fill of no pan) is no gap. A gap is a
model that refused the piece or the oven, a number outside the range in which it means something, a bake that sentences
tell and that is too long to be believed, and a dough in which no rule finds what could hold it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.diagnosis.kinds_of_bake import KindView
from advisor.formula.formula import Formula, Process
from advisor.inference.situation import Inference
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.measure import Measures
from advisor.models.measuring import Workings

STRUCTURE, NUMBER, TOLD = "structure", "number", "bake_told"
DONE = "core_done_min"


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
    formula = workings.dough_state.formula
    doubt = _doubt(formula, workings.measures, view, knowledge)
    gaps = _gaps(workings.measures, inference, view, knowledge, doubt)
    return (*gaps, *_of_kind(view, formula.process))


def _doubt(formula: Formula, measures: Measures, view: KindView, knowledge: Knowledge) -> str:
    """Say why the time of a bake that sentences tell is not believed; empty where it is, or a line states it."""
    baked, heat = formula.process.bake_min, formula.process.oven_c
    if not formula.bake_told or baked is None or heat is None:
        return ""
    limit = knowledge.coefficient
    told = f"they were read as {baked:.0f} min at {heat:.0f} C"
    if heat > limit("doubtful_bake_c") and baked > limit("doubtful_bake_min"):
        return f"{told}, which is hardly meant"
    done = measures.by_id.get(DONE) if DONE not in view.left_out else None
    if done is None or done.value is None or heat < limit("doubtful_bake_least_c"):
        return ""
    longest = max(limit("doubtful_bake_times") * done.value, done.value + limit("doubtful_bake_more_min"))
    return f"{told}, and its middle is done after some {done.value:.0f} min" if baked > longest else ""


def _of_kind(view: KindView, process: Process) -> Iterator[NotJudged]:
    for gap in view.gaps:
        if not gap.where or any(getattr(process, name) not in (None, ()) for name in gap.where):
            yield NotJudged(id=gap.id, what=gap.what, why=gap.why, write=gap.write or "", decides=False)


def _gaps(
    measures: Measures, inference: Inference, view: KindView, knowledge: Knowledge, doubt: str
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
        elif entry.id == TOLD and doubt:
            yield NotJudged(
                id=entry.id, what=entry.what, why=doubt, write=entry.write or "", decides=entry.decides
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
