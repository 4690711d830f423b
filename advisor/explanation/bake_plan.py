"""A plan of bakes and what their results taught, as an answer and as blocks; and the table to bake from."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from math import exp

from advisor.explanation.bake_results import COLUMNS
from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Paragraph, Quantity, Row, Runs, Table
from advisor.formula.formula import Formula
from advisor.formula_design.bake_plan import PlannedBake, learn_bakes, plan_bakes
from advisor.formula_design.kitchen import OUTCOME, PROBED_AT, Outcome, Seen, baked_in, outcome_of
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.shapes import shape

_WIDE_80 = 1.2816
"""Standard deviations on each side of the middle 80 in 100 of a normal spread."""
_HEAD = (
    "bake", "what to do", "core early, C", "core late, C", "core at the end, C", "dough, g", "loaf, g", "height, cm",
    "volume, mL",
)  # fmt: skip
"""`COLUMNS` as a person reads them."""
_SAID = {"done_min": "core done at", "loss": "weight lost in the oven", "log_volume": "volume of the loaf"}


@shape
class BakeToMake:
    """One bake of the plan."""

    id: str
    """By which its results are given back."""
    says: str
    """What is done otherwise than the formula says."""
    probe_min: tuple[float, float, float]
    """Minutes at which to probe the core; the last is the pull."""
    core_c: tuple[float | None, float | None, float | None]
    """What is expected there in a usual kitchen, C."""
    core_spread_c: tuple[float | None, float | None, float | None]
    """How far a kitchen may lie off, as a standard deviation, C."""
    loss: float | None
    """Weight lost that is expected, g for each g of dough."""
    error_left: Mapping[str, float]
    """Of core minute, loss and volume of the next loaf: share of an unmeasured kitchen's error left after this bake."""


@shape
class ConstantLearnt:
    """One constant of the kitchen after the bakes."""

    id: str
    """Id in knowledge/kitchen_constants.yaml."""
    name: str
    """What it is."""
    unit: str
    """C, or empty for a factor."""
    value: float
    """Its value: degrees, or a factor on what is usual."""
    low: float
    """Lower end of the middle 80 in 100."""
    high: float
    """Upper end of them."""


@shape
class Foretold:
    """A number of the formula's own bake, with and without what was learnt."""

    id: str
    """done_min, loss or volume."""
    name: str
    """What it is."""
    usual: float | None
    """In a usual kitchen: min, g for each g of dough, mL."""
    here: float | None
    """In this one; null where nothing was learnt yet."""


@shape
class BakePlanAnswer:
    """Bakes that teach most of a kitchen, or what they taught."""

    name: str
    """Title of the formula."""
    bakes: tuple[BakeToMake, ...]
    """The bakes in the order to make them; empty where results were given."""
    learnt: tuple[ConstantLearnt, ...]
    """The kitchen's constants; empty before any result."""
    foretold: tuple[Foretold, ...]
    """What the formula's own bake should give."""


def plan_answer(
    formula: Formula,
    knowledge: Knowledge,
    *,
    most: int,
    doubts: Sequence[str] = (),
    targets: Sequence[str] = (),
) -> BakePlanAnswer:
    """Plan the bakes.

    Raises:
        PlanFault: no bake of this formula can be followed, or a doubt goes with no constant.
    """
    plan = plan_bakes(formula, knowledge, most=most, doubts=doubts, targets=targets)
    return BakePlanAnswer(
        name=formula.name,
        bakes=tuple(_to_make(bake) for bake in plan),
        learnt=(),
        foretold=_foretold(outcome_of(baked_in(formula, knowledge, {})), None),
    )


def learnt_answer(
    formula: Formula,
    knowledge: Knowledge,
    results: Sequence[tuple[Formula, Seen]],
    *,
    doubts: Sequence[str] = (),
) -> BakePlanAnswer:
    """Say what bakes teach, each as baked and with what was measured on it.

    Raises:
        PlanFault: nothing was measured.
    """
    learnt = learn_bakes(formula, knowledge, results, doubts=doubts)
    entries = knowledge.kitchen_constants
    found = []
    for name, mean in learnt.mean.items():
        half, degrees = _WIDE_80 * learnt.spread[name], entries[name].unit == "C"
        value, low, high = (x if degrees else exp(x) for x in (mean, mean - half, mean + half))
        entry = entries[name]
        found.append(
            ConstantLearnt(
                id=name, name=entry.name, unit=entry.unit, value=value, low=low, high=high
            )
        )  # fmt: skip
    usual = outcome_of(baked_in(formula, knowledge, {}))
    here = outcome_of(baked_in(formula, knowledge, learnt.mean))
    return BakePlanAnswer(name=formula.name, bakes=(), learnt=tuple(found), foretold=_foretold(usual, here))


def _to_make(bake: PlannedBake) -> BakeToMake:
    minutes = bake.variant.formula.process.bake_min or 0.0
    expected, spread = bake.expected, bake.spread
    return BakeToMake(
        id=bake.variant.id,
        says=bake.variant.says,
        probe_min=(round(PROBED_AT[0] * minutes), round(PROBED_AT[1] * minutes), round(minutes)),
        core_c=(expected.core_early_c, expected.core_late_c, expected.core_c),
        core_spread_c=(spread.core_early_c, spread.core_late_c, spread.core_c),
        loss=expected.loss,
        error_left=bake.error_left,
    )


def _foretold(usual: Outcome, here: Outcome | None) -> tuple[Foretold, ...]:
    def value(outcome: Outcome | None, name: str) -> float | None:
        found: float | None = getattr(outcome, name) if outcome else None
        return exp(found) if found is not None and name == "log_volume" else found

    return tuple(
        Foretold(
            id="volume_ml" if name == "log_volume" else name,
            name=_SAID[name],
            usual=value(usual, name),
            here=value(here, name),
        )
        for name in OUTCOME
    )


def table_to_fill(answer: BakePlanAnswer) -> str:
    """Give the plan as CSV, with empty columns for what is measured."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS)
    for bake in answer.bakes:
        writer.writerow([bake.id, _do(bake), *[""] * (len(COLUMNS) - 2)])
    return stream.getvalue()


def fill_in_block(answer: BakePlanAnswer) -> Table:
    """The same table for paper."""
    rows = tuple(((bake.id,), (_do(bake),), *[()] * (len(_HEAD) - 2)) for bake in answer.bakes)
    return Table(caption="What was measured", head=_HEAD, rows=rows, captioned=True)


def plan_blocks(answer: BakePlanAnswer, *, typed: bool = True) -> Iterator[Block]:
    """The page: the bakes to make, or what they taught; `typed`: with what to type next."""
    right = f"{len(answer.bakes)} bakes to make" if answer.bakes else "learnt from bakes"
    yield Row(left=(Emphasis(meaning="name", runs=(answer.name,)),), right=(right,))
    if answer.bakes:
        yield Heading(text="Bakes that teach most of your kitchen", ident="bakes")
    for place, bake in enumerate(answer.bakes, 1):
        left = ", ".join(f"{_SAID[n]} {100 * share:.0f} %" for n, share in bake.error_left.items())
        under = (Paragraph(runs=_expected(bake)), Paragraph(runs=(f"Error left after it: {left}.",)))
        yield Item(label=f"{place}.", runs=(f"{_do(bake)}.",), under=under)
    if answer.bakes:
        yield Paragraph(
            runs=(
                "Everything else as written. Weigh the dough and the cooled loaf, measure its height in the tin."
                + (
                    " --out FILE.csv writes the table to fill in, --results FILE.csv reads it."
                    if typed
                    else ""
                ),
            )
        )
    if answer.learnt:
        yield Heading(text="Your kitchen", ident="kitchen")
    for constant in answer.learnt:
        yield Item(label="-", runs=_learnt(constant))
    yield Heading(text="What the formula's own bake should give", ident="foretold")
    learnt = any(one.here is not None for one in answer.foretold)
    rows = tuple(
        ((one.name,), (_value(one.id, one.usual),), *(((_value(one.id, one.here),),) if learnt else ()))
        for one in answer.foretold
    )
    yield Table(
        caption="What the formula's own bake should give",
        head=("", "usual kitchen", "yours") if learnt else ("", "usual kitchen"),
        rows=rows,
        figures=frozenset({1, 2} if learnt else {1}),
    )


def _do(bake: BakeToMake) -> str:
    early, late, pull = (f"{minute:.0f}" for minute in bake.probe_min)
    return f"{bake.says[:1].upper()}{bake.says[1:]}; probe the core at {early}, {late} and {pull} min"


def _expected(bake: BakeToMake) -> Runs:
    runs: Runs = ("Expected in a usual kitchen: ",)
    for place, (core, spread) in enumerate(zip(bake.core_c, bake.core_spread_c, strict=True)):
        if core is not None and spread is not None:
            comma = ", " if place else ""
            runs = (*runs, comma, Quantity(value=core, unit="C"), " give or take ",
                    Quantity(value=spread, unit="C", difference=True))  # fmt: skip
    return (*runs, ".")


def _learnt(constant: ConstantLearnt) -> Runs:
    if constant.unit == "C":
        return (
            f"{constant.name}: {constant.value:+.0f} C, in 80 of 100 such kitchens between "
            f"{constant.low:+.0f} and {constant.high:+.0f} C",
        )
    return (
        f"{constant.name}: {constant.value:.2f} times the usual, in 80 of 100 such kitchens between "
        f"{constant.low:.2f} and {constant.high:.2f}",
    )


def _value(name: str, value: float | None) -> str:
    if value is None:
        return "-"
    return {"done_min": f"{value:.0f} min", "loss": f"{100 * value:.1f} %"}.get(name, f"{value:.0f} mL")
