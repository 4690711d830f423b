"""Two formulas beside each other: the kinds `trial` and `difference`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Literal

from pydantic import Field

from advisor.explanation.changes import ChangeWords
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import Change
from advisor.remedy.comparing import Comparison, OneDifference
from advisor.rendering.documents.kitchen import changes_of
from advisor.rendering.documents.shape import ChangeShape, Document, Pair, RiskPair, shape


@shape
class WeighedShape:
    """One ingredient in grams."""

    ingredient: str
    """Its id."""
    grams: Annotated[float, Field(ge=0)]
    """Its weight, g."""


@shape
class PlainFormulaShape:
    """A formula in short."""

    name: str
    """Its title."""
    dough_g: float
    """All ingredients together, g."""
    lines: tuple[WeighedShape, ...]
    """The ingredients in their order."""


@shape
class ComparisonDocument(Document):
    """Two formulas, before the bake."""

    kind: Literal["trial", "difference"]
    """A formula and the same with changes, or two formulas."""
    before: PlainFormulaShape
    """The formula as it was, or the first."""
    after: PlainFormulaShape
    """The formula with the changes, or the second."""
    changes: tuple[ChangeShape, ...]
    """What is not the same in both."""
    measures: Mapping[str, Pair]
    """Measures that are not the same, before and after."""
    risk: Mapping[str, RiskPair]
    """Risk of every symptom, before and after, what moves most first."""
    burden: tuple[float, float]
    """Sum of the risks before and after, severe faults counting more."""
    structure: tuple[str, str]
    """Id of the structure that carries most, before and after."""
    says: tuple[str, ...]
    """What the changes do, in a sentence each."""


@shape
class TrialDocument(ComparisonDocument):
    """A formula with changes, as `try` shows it."""

    kind: Literal["trial"] = "trial"
    """A formula and the same with changes."""


@shape
class SingleShape:
    """One difference by itself."""

    change: ChangeShape
    """The difference."""
    measures: Mapping[str, Pair]
    """What it does to measures where it alone is made, before and after."""
    risk: Mapping[str, RiskPair]
    """What it does to risks where it alone is made, before and after."""


@shape
class DifferenceDocument(ComparisonDocument):
    """Two formulas, as `differ` lays them side by side."""

    kind: Literal["difference"] = "difference"
    """Two formulas."""
    singly: tuple[SingleShape, ...]
    """Each difference by itself."""


def trial_document(found: Comparison, changes: Sequence[Change], knowledge: Knowledge) -> TrialDocument:
    """Give what `try` found."""
    words = ChangeWords(knowledge)
    return TrialDocument(
        before=_formula(found.before.formula),
        after=_formula(found.after.formula),
        changes=changes_of(changes, words),
        measures=found.measures,
        risk=_by_move(found.risk),
        burden=found.burden,
        structure=(found.before.structure, found.after.structure),
        says=found.says,
    )


def difference_document(
    found: Comparison, changes: Sequence[Change], singly: Sequence[OneDifference], knowledge: Knowledge
) -> DifferenceDocument:
    """Give what `differ` found."""
    words = ChangeWords(knowledge)
    return DifferenceDocument(
        before=_formula(found.before.formula),
        after=_formula(found.after.formula),
        changes=changes_of(changes, words),
        measures=found.measures,
        risk=_by_move(found.risk),
        burden=found.burden,
        structure=(found.before.structure, found.after.structure),
        says=found.says,
        singly=tuple(
            SingleShape(
                change=changes_of((one.change,), words)[0], measures=one.measures, risk=_by_move(one.risk)
            )
            for one in singly
        ),
    )


def _by_move(risk: Mapping[str, tuple[float, float]]) -> Mapping[str, tuple[float, float]]:
    return dict(sorted(risk.items(), key=lambda i: (-abs(i[1][1] - i[1][0]), i[0])))


def _formula(formula: Formula) -> PlainFormulaShape:
    lines = tuple(WeighedShape(ingredient=x.ingredient.id, grams=x.grams) for x in formula.lines)
    return PlainFormulaShape(name=formula.name, dough_g=formula.dough_g, lines=lines)
