"""The formula, its process and its numbers in the document of an assessment."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.diagnosis.pipeline import Examination
from advisor.diagnosis.uncertainty import Uncertainty
from advisor.explanation.changes import ChangeWords
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.baked_nutrition import nutrition_of
from advisor.models.measuring import Workings
from advisor.rendering.documents.dough_shapes import (
    Basis,
    FormulaShape,
    LineShape,
    MeasureShape,
    NutritionShape,
    ProcessValueShape,
)
from advisor.rendering.documents.kitchen import kitchen_amount


def formula_shape(found: Examination, words: ChangeWords) -> FormulaShape:
    """Give the formula as it was read, with its weights in kitchen measures."""
    formula, defaults = found.formula, found.workings.dough_state.with_defaults
    lines = tuple(
        LineShape(
            text=line.text,
            ingredient=line.ingredient.id,
            name=line.ingredient.name,
            grams=line.grams,
            kitchen=kitchen_amount(line.ingredient.name, line.grams, line.counted, words),
            conversion=line.conversion,
            grade=line.grade,
        )
        for line in formula.lines
    )
    return FormulaShape(
        name=formula.name,
        dough_g=formula.dough_g,
        slices=defaults.slices,
        loaves=defaults.loaves,
        lines=lines,
    )


def process_shapes(found: Examination) -> Mapping[str, ProcessValueShape]:
    """Give what is done with the dough, stated or assumed."""
    situation = found.situation
    values: dict[str, float | str | bool] = {**situation.process_words, **situation.process_numbers}
    words: dict[object, bool] = {"true": True, "false": False}
    return {
        name: ProcessValueShape(
            value=words.get(values[name], values[name]), assumed=name not in situation.stated
        )
        for name in sorted(values)
    }


def measure_shapes(
    found: Examination, knowledge: Knowledge, sure: Uncertainty | None = None
) -> Mapping[str, MeasureShape]:
    """Give every measure with its band, what it rests on, and where it was worked out its interval."""
    out, assumed = {}, _resting_on_assumed(found, knowledge)
    for name, entry in knowledge.measures.items():
        measure, judged = found.workings.measures.by_id[name], found.inference.judged.get(name)
        value = judged.value if judged else measure.value
        ends = sure.intervals.get(name) if sure else None
        basis: Basis = "assumed" if entry.group in assumed else "computed"
        out[name] = MeasureShape(
            name=entry.name,
            value=value,
            low=ends[0] if ends else None,
            high=ends[1] if ends else None,
            unit=entry.unit,
            band=(judged.low, judged.high) if judged else None,
            state=judged.state if judged else "unbanded",
            basis=basis if value is not None else "not_judged",
            excess=judged.excess if judged else 0.0,
            reason="" if value is not None else measure.reason,
        )
    return out


def _resting_on_assumed(found: Examination, knowledge: Knowledge) -> frozenset[str]:
    """Groups of measures that rest on something of the process that the formula does not state."""
    taken = {"bake_min", *found.workings.dough_state.with_defaults.assumed}
    missing = taken - found.situation.stated
    entries = [e for name, e in knowledge.unstated.items() if name in missing]
    return frozenset(group for entry in entries for group in entry.groups)


def nutrition_shape(work: Workings, knowledge: Knowledge) -> NutritionShape:
    """Give what 100 g and a slice of the baked loaf hold; nothing where its bake cannot be followed."""
    held = nutrition_of(work, knowledge)
    if not held.as_baked:
        return NutritionShape(per_100g=None, per_slice=None)
    return NutritionShape(per_100g=held.per_100g, per_slice=held.per_piece)
