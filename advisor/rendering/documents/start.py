"""First formulas: the kind `start`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field

from advisor.explanation.changes import ChangeWords
from advisor.formula_design.starting import FirstFormula, StartAnswer
from advisor.formula_design.trades import Trade, trades
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.documents.dough import formula_shape
from advisor.rendering.documents.dough_shapes import FormulaShape
from advisor.rendering.documents.shape import Document, Share, shape


@shape
class FromCupboardShape:
    """Something that nobody asked for and the bread needs."""

    ingredient: str
    """Its id."""
    grams: Annotated[float, Field(gt=0)]
    """How much, g."""
    because: str
    """What it is there for; empty where everybody knows."""


@shape
class OutsideShape:
    """A part of which it holds more or less than good formulas do."""

    part: str
    """The part of the style."""
    share: float
    """What it holds, g per 100 g of dough."""
    usual: tuple[float, float]
    """From where to where good ones lie, g per 100 g of dough."""


@shape
class FirstFormulaShape:
    """One first formula."""

    card: str
    """The formula as text, to be kept in a file; it reads back as the same."""
    formula: FormulaShape
    """The same in grams."""
    style: str
    """Id in knowledge/styles.yaml."""
    says: str
    """What it is."""
    carried_by: str
    """What carries it."""
    leavening: str
    """What lifts it."""
    net_carb_per_slice: float | None
    """Net carbohydrate a slice or piece, g."""
    protein_per_slice: float
    """Protein a slice or piece, g."""
    cost_per_slice: float | None
    """Cost a slice or piece by the user's own prices; null without prices."""
    volume: float | None
    """mL for each g of dough; null where the kind is not judged by it."""
    risk: Mapping[str, Share]
    """Risk of every symptom before the bake."""
    unusual: float
    """Distance from good formulas of the style; below 1 it is made as they are."""
    outside: tuple[OutsideShape, ...]
    """Parts that lie outside what good formulas hold."""
    best_at: tuple[str, ...]
    """In what it is clearly the best of these."""
    pays_in: tuple[str, ...]
    """In what it is clearly the worst of these."""
    from_cupboard: tuple[FromCupboardShape, ...]
    """What was added unasked."""
    left_out: tuple[str, ...]
    """Ids of ingredients that were asked for and are not in it."""
    passes: bool
    """Whether a check with the same limits lets it pass."""


@shape
class StopShape:
    """A limit that, given up alone, would let a formula be."""

    limit: str
    """`net_carb_max`, `protein_min`, `cost_max`, `slices`, `at_hand` (g) or `avoid`."""
    asked: float | None
    """What was asked; null for what is avoided."""
    needed: float | None
    """What it would have to be; null for what is avoided."""
    what: str
    """What would have to be let in, or what there is too little of; empty for the others."""
    style: str
    """Id of the style that it would let be."""
    beyond: bool
    """Whether no amounts reach it; `needed` is then the utmost."""


@shape
class LackingShape:
    """A way of making it for which something is lacking."""

    style: str
    """Id in knowledge/styles.yaml."""
    says: str
    """What it is."""
    lacks: tuple[tuple[str, ...], ...]
    """For each thing that is lacking, names of what would do."""


@shape
class StartDocument(Document):
    """What `start` gives."""

    kind: Literal["start"] = "start"
    """First formulas."""
    bread: str
    """Id of the kind of bread."""
    made_from: tuple[str, ...]
    """Ids of what was asked for."""
    assumed: tuple[str, ...]
    """What was assumed in reading that."""
    formulas: tuple[FirstFormulaShape, ...]
    """The formulas, the best first."""
    stops: tuple[StopShape, ...]
    """Where none keeps the limits: each limit given up alone."""
    lacking: tuple[LackingShape, ...]
    """Ways of making it that something more would allow."""


def start_document(answer: StartAnswer, knowledge: Knowledge) -> StartDocument:
    """Give what `start` found."""
    words, c = ChangeWords(knowledge), knowledge.coefficient
    traded = trades(answer.formulas, c("start_clear_share"), c("start_unusual_from"))
    return StartDocument(
        bread=answer.request.kind.id,
        made_from=tuple(w.ingredient.id for w in answer.request.wanted),
        assumed=answer.request.said,
        formulas=tuple(
            _first(one, trade, words, knowledge) for one, trade in zip(answer.formulas, traded, strict=True)
        ),
        stops=tuple(
            StopShape(
                limit=s.limit, asked=s.asked, needed=s.needed, what=s.what, style=s.style.id, beyond=s.beyond
            )
            for s in answer.stops
        ),
        lacking=tuple(
            LackingShape(style=gap.style.id, says=gap.style.name, lacks=gap.parts) for gap in answer.lacking
        ),
    )


def _first(one: FirstFormula, trade: Trade, words: ChangeWords, knowledge: Knowledge) -> FirstFormulaShape:
    return FirstFormulaShape(
        card=one.card,
        formula=formula_shape(one.look, words),
        style=one.style,
        says=one.made.name,
        carried_by=one.carried_by,
        leavening=one.leavening,
        net_carb_per_slice=one.slice.net_carb,
        protein_per_slice=one.slice.protein,
        cost_per_slice=one.slice.cost,
        volume=one.volume,
        risk={name: r.risk for name, r in one.look.diagnosis.risks.items()},
        unusual=one.usual.distance,
        outside=tuple(
            OutsideShape(part=o.part, share=o.share, usual=(o.least, o.most)) for o in one.usual.outside
        ),
        best_at=trade.best_at,
        pays_in=trade.pays_in,
        from_cupboard=tuple(
            FromCupboardShape(ingredient=x.ingredient.id, grams=x.grams, because=x.because)
            for x in one.from_cupboard
        ),
        left_out=tuple(i.id for i in one.left_out),
        passes=one.passes,
    )
