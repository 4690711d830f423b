"""The numbers of an answer: each measure with its band and meaning, the dough, the oven and the time axis."""

from __future__ import annotations

from typing import Literal

from advisor.diagnosis.pipeline import Examination
from advisor.diagnosis.uncertainty import Uncertainty
from advisor.explanation.answer import Dough, SaidCause, SaidNumber
from advisor.explanation.blocks import Moment, Quantity, Runs, Span, Timeline
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import sentence
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.cost import Cost, cost_of
from advisor.models.loaf.timeline import timeline


def said_dough(found: Examination, knowledge: Knowledge, limits: Thresholds) -> Dough:
    """What the formula makes."""
    values, with_defaults = found.workings.measures, found.workings.dough_state.with_defaults
    piece: Literal["slice", "piece"] = "piece" if with_defaults.pan_kind in ("rolls", "flat") else "slice"
    weights = sorted(found.inference.structures.items(), key=lambda item: -item[1])
    names = [knowledge.structures[name].name for name, w in weights if w >= limits.structure_named]
    cost = cost_line(found.formula, slices=with_defaults.slices, loaves=with_defaults.loaves, piece=piece)
    return Dough(
        dough_g=found.formula.dough_g,
        pieces=with_defaults.slices * with_defaults.loaves,
        piece=piece,
        piece_g=values.value("slice_g") or 0.0,
        held_by=names[0],
        close_to=tuple(names[1:]),
        net_carb_g=values.value("net_carb_per_slice"),
        energy_kcal=values.value("energy_kcal_per_slice"),
        cost=cost or "",
    )


def said_numbers(
    found: Examination,
    knowledge: Knowledge,
    limits: Thresholds,
    causes: tuple[SaidCause, ...],
    sure: Uncertainty | None = None,
) -> tuple[SaidNumber, ...]:
    """Every measure that has a band: those out of it first, the furthest out first, then the others in their order.

    On a usual page stand those so far out that a check says no, and those out of their band that the named causes
    rest on.
    """
    judged = {name: j for name, j in found.inference.judged.items() if name in knowledge.measures}
    names = sorted(judged, key=lambda n: (judged[n].state == "in", -judged[n].excess))
    rest_on = measures_behind(found, {cause.id for cause in causes})
    said: list[SaidNumber] = []
    for name in names:
        lies, entry = judged[name], knowledge.measures[name]
        out, far = lies.state != "in", name in found.far_out
        usual = far or (out and name in rest_on and len(said) < limits.numbers_usual)
        number = SaidNumber(
            id=name,
            name=entry.name,
            value=lies.value,
            decimals=entry.decimals,
            unit="" if entry.unit == "-" else entry.unit,
            low=lies.low,
            high=lies.high,
            state=limits.state(lies),
            out=out,
            far=far,
            meaning=sentence(entry.says),
            shown="usual" if usual else "full",
            ends=sure.intervals.get(name) if sure else None,
            in_words=entry.in_words or "",
        )
        said.append(number)
    return tuple(said)


def measures_behind(found: Examination, causes: set[str]) -> set[str]:
    """Measures that the rules read which spoke of some causes."""
    spoke = {suspicion.rule for suspicion in found.inference.suspicions if suspicion.cause in causes}
    return {
        name
        for firing in found.inference.firings
        if firing.rule in spoke
        for kind, name in firing.premises
        if kind == "measure"
    }


def said_oven(found: Examination) -> tuple[Runs, ...]:
    """When the core sets and is done, how long to leave the oven shut, when the loaf can be cut."""
    bake, with_defaults, process = (
        found.workings.bake,
        found.workings.dough_state.with_defaults,
        found.formula.process,
    )
    if bake is None:
        return ()
    fan = " fan" if with_defaults.oven_fan else ""
    oven: Runs = (_c(with_defaults.oven_c), fan)
    if process.oven_offset_c:
        oven = (_c(with_defaults.oven_c + process.oven_offset_c), " in the oven (", *oven, " on its dial)")
    if process.cold_start:
        oven = (*oven, " from cold")
    if bake.core_set_min is None or bake.core_done_min is None:
        return (("At ", *oven, " the core does not get to ", _c(bake.target_c), " in three hours."),)
    out: list[Runs] = [
        (
            "At ", *oven, ": core set after ", _min(bake.core_set_min), ", done (", _c(bake.target_c), ") after ",
            _min(bake.core_done_min), "; out of the oven at ", _min(bake.pulled_at_min), " with the core at ",
            _c(bake.core_at_pull_c), ".",
        )
    ]  # fmt: skip
    if bake.pulled_at_min < bake.core_set_min:
        return (*out, ("It leaves the oven before its core has set: bake on.",))
    shut = found.workings.measures.value("do_not_disturb_until_min")
    if shut is not None:
        out.append((f"Do not open the oven, move or probe the loaf before minute {shut:.0f}.",))
    if (cool := bake.cooling.sliceable_after_min) is not None:
        out.append((f"Cool enough to slice about {_hours(cool)} after that.",))
    return tuple(out)


def _c(value: float) -> Quantity:
    return Quantity(value=round(value), unit="C")


def _min(value: float) -> Quantity:
    return Quantity(value=value, unit="min")


def _hours(minutes: float) -> str:
    """Minutes as a baker says them: to five minutes, or in hours and quarters."""
    if minutes < 90:
        return f"{max(5 * round(minutes / 5), 5):.0f} min"
    quarters = round(minutes / 15)
    part = ("", " 1/4", " 1/2", " 3/4")[quarters % 4]
    return f"{quarters // 4}{part} hours"


def said_timeline(found: Examination, knowledge: Knowledge) -> Timeline | None:
    """Gas and set on one axis; `None` where nothing rises and nothing sets."""
    line = timeline(found.workings, knowledge)
    if line.gas[-1] <= 0 and not any(line.set_share):
        return None
    return Timeline(
        minutes=line.minutes,
        gas=line.gas,
        set_share=line.set_share,
        stages=tuple(Span(name=s.name, start=s.start, end=s.end) for s in line.stages),
        marks=tuple(Moment(name=m.name, minute=m.minute, oven_min=m.oven_min) for m in line.marks),
    )


def cost_line(formula: Formula, *, slices: int, loaves: int, piece: str = "slice") -> str | None:
    """Say the cost of a loaf and a slice; `None` where no ingredient has a price.

    `slices` are those of one loaf. The currency is that of the user's prices, which nobody told.
    """
    cost = cost_of(formula, slices=slices, loaves=loaves)
    if cost is None:
        return None
    # Rolls are pieces of one batch: nobody pays for a loaf of them.
    whole = "the whole batch" if piece != "slice" else "a loaf"
    said = f"Cost by your own prices: {cost.per_loaf:.2f} {whole}, {cost.per_slice:.2f} a {piece}"
    return f"{said}{_without(cost)}."


def _without(cost: Cost) -> str:
    if not cost.without_price:
        return ""
    names = ", ".join(cost.without_price[:4])
    more = f" and {len(cost.without_price) - 4} more" if len(cost.without_price) > 4 else ""
    return f", without {names}{more}, which have no price ({100 * cost.priced_share:.0f} % of the dough is priced)"
