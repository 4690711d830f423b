"""A better formula: the kind `improve`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from advisor.explanation.changes import ChangeWords
from advisor.formula_design.improving import ImproveAnswer
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.documents.dough import formula_shape
from advisor.rendering.documents.dough_shapes import FormulaShape
from advisor.rendering.documents.kitchen import changes_of
from advisor.rendering.documents.shape import ChangeShape, Document, RiskPair, shape


@shape
class StepShape:
    """One step of the path."""

    change: ChangeShape
    """What is changed; of an exchange, what goes."""
    beside: tuple[ChangeShape, ...]
    """What an exchange changes too: what comes in, and the water with it."""
    aim: tuple[float, float]
    """What the aim is measured by, before and after."""
    worst_risk: RiskPair
    """The largest risk, before and after."""


@shape
class PriceShape:
    """Something that got worse."""

    what: str
    """The aim that it is away from."""
    before: float
    """What that is measured by, before."""
    after: float
    """The same after."""


@shape
class ImproveDocument(Document):
    """What `improve` gives."""

    kind: Literal["improve"] = "improve"
    """A better formula."""
    aim: str
    """Name of the aim."""
    says: str
    """What it is measured by."""
    unit: str
    """Unit of that; empty where it has none."""
    reached: tuple[float, float]
    """That before and after."""
    path: tuple[StepShape, ...]
    """The steps, in their order."""
    price: tuple[PriceShape, ...]
    """What got worse."""
    risk: Mapping[str, RiskPair]
    """Risks that rose, before and after."""
    card: str
    """The new formula as text; it reads back as the same."""
    formula: FormulaShape
    """The same in grams."""
    passes: bool
    """Whether a check of it lets it pass."""


def improve_document(answer: ImproveAnswer, knowledge: Knowledge) -> ImproveDocument:
    """Give what `improve` found."""
    words = ChangeWords(knowledge)
    return ImproveDocument(
        aim=answer.aim.id,
        says=answer.aim.says,
        unit=answer.aim.unit,
        reached=answer.reached,
        path=tuple(
            StepShape(
                change=changes_of((s.change,), words)[0],
                beside=changes_of(s.beside, words),
                aim=s.aim,
                worst_risk=s.worst,
            )
            for s in answer.path
        ),
        price=tuple(PriceShape(what=p.what, before=p.before, after=p.after) for p in answer.price),
        risk=answer.risk,
        card=answer.card,
        formula=formula_shape(answer.after, words),
        passes=answer.passes,
    )
