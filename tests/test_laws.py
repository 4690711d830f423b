"""Laws that an answer has to keep for any sensible formula, held through the text as a baker writes it.

Good formulas, every amount and the heat drawn anew within a quarter, are written otherwise than before but mean the
same dough: twice of all, in another order, in parts, in other units, under other names. A few drawn examples, always
the same ones, run each time; `slow` runs more of them.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest
from case_files import balanced_names, demo, sound_loaves
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from advisor import check, default_advisor, diagnose, load_knowledge, try_changes
from advisor.diagnosis.pipeline import Examination
from advisor.formula.formula import Formula, Line
from advisor.formula.lines.states import state_spans, traits_of
from advisor.formula.reading import read_formula_text
from advisor.formula.spelling import words_of
from advisor.formula.writing.as_text import process_values, write_formula_text

KNOWLEDGE = load_knowledge()
FORMULAS = {name: demo(name) for name in balanced_names()} | {
    case.id: read_formula_text(case.text, KNOWLEDGE, name=case.id) for case in sound_loaves()
}
MORE = 40
"""Examples of the slow runs."""
RATIO, CHANCE = 1e-4, 2e-3
"""How far a measure may differ, as a share, and a risk: what an amount rounded to the hundredth of a gram moves."""
GROWS = frozenset({"dough_g", "available_water", "absorption"})


def few(many: int) -> settings:
    return settings(
        max_examples=many, deadline=None, derandomize=True, database=None, report_multiple_bugs=False,
        suppress_health_check=[HealthCheck.too_slow], phases=[Phase.generate],
    )  # fmt: skip


def drawn(name: str, chance: Random) -> Formula:
    """A good formula with its amounts and its heat moved by up to a quarter."""
    formula = FORMULAS[name]
    lines = tuple(
        replace(x, grams=max(0.1, round(x.grams * chance.uniform(0.75, 1.25), 1))) for x in formula.lines
    )
    process = formula.process
    if process.bake_min is not None and not process.oven_steps:
        process = replace(process, bake_min=round(process.bake_min * chance.uniform(0.75, 1.25)))
    return replace(formula, lines=lines, process=process)


# A name and a seed are short to read where a law fails.
ANY = given(name=st.sampled_from(sorted(FORMULAS)), seed=st.integers(0, 10**6))


def examined(formula: Formula) -> Examination:
    return default_advisor().examiner.examine(formula, after_bake=False)


def differing(one: Examination, two: Examination, *, but: frozenset[str] = frozenset()) -> dict[str, object]:
    """Measures and risks that differ by more than rounding does; a verdict may turn only where it is on its edge."""
    out: dict[str, object] = {}
    for name in one.workings.measures.by_id:
        a, b = one.workings.measures.value(name), two.workings.measures.value(name)
        same = a is None and b is None
        if a is not None and b is not None:
            same = math.isclose(a, b, rel_tol=RATIO, abs_tol=RATIO)
        if name not in but and not same:
            out[name] = (a, b)
    for symptom, risk in one.diagnosis.risks.items():
        if abs(risk.risk - two.diagnosis.risks[symptom].risk) > CHANCE:
            out[f"risk {symptom}"] = (risk.risk, two.diagnosis.risks[symptom].risk)
    return out


def text_of(formula: Formula, lines: list[str] | None = None) -> str:
    """Write a formula with a line an ingredient, in grams, or with lines of one's own in their place."""
    own = [f"{x.grams:.2f} g {x.ingredient.name}" for x in formula.lines] if lines is None else lines
    return "\n".join(
        (formula.name, *own, *(f"{key}: {v}" for key, v in process_values(formula.process).items()))
    )


def reread(formula: Formula, lines: list[str] | None = None) -> Formula:
    return read_formula_text(text_of(formula, lines), KNOWLEDGE)


# ---- the same dough, written otherwise

GRAMS_OF = {"g": 1.0, "kg": 1000.0, "lb": 453.59237}


def in_another_order(formula: Formula, chance: Random) -> Formula:
    lines = [f"{x.grams:.2f} g {x.ingredient.name}" for x in formula.lines]
    chance.shuffle(lines)
    return reread(formula, lines)


def in_parts(formula: Formula, chance: Random) -> Formula:
    """Every amount in two parts, the second ones after all the first."""
    shares = [chance.uniform(0.2, 0.8) for _ in formula.lines]
    first = [f"{x.grams * s:.4f} g {x.ingredient.name}" for x, s in zip(formula.lines, shares, strict=True)]
    rest = [
        f"{x.grams * (1 - s):.4f} g {x.ingredient.name}" for x, s in zip(formula.lines, shares, strict=True)
    ]
    return reread(formula, first + rest)


def in_other_units(formula: Formula, chance: Random) -> Formula:
    units = [chance.choice(sorted(GRAMS_OF)) for _ in formula.lines]
    some = zip(formula.lines, units, strict=True)
    return reread(formula, [f"{x.grams / GRAMS_OF[unit]:.7f} {unit} {x.ingredient.name}" for x, unit in some])


def plain(name: str, line: Line) -> bool:
    """Leave out names that say a state, as boiling water does, or that two foods share."""
    words = words_of(name)
    states = traits_of(tuple(words[start:stop] for start, stop in state_spans(words)), line.ingredient)
    return set(states) <= set(line.ingredient.traits) and name not in ("cornflour", "corn flour")


def under_other_names(formula: Formula, chance: Random) -> Formula:
    names = [
        chance.choice([n for n in (x.ingredient.name, *x.ingredient.also) if plain(n, x)])
        for x in formula.lines
    ]
    return reread(formula, [f"{x.grams:.2f} g {name}" for x, name in zip(formula.lines, names, strict=True)])


def of_twice_the_loaves(formula: Formula, chance: Random) -> Formula:
    process = formula.process
    lines = tuple(replace(x, grams=2 * x.grams) for x in formula.lines)
    more = {"pieces": 2 * process.pieces} if process.pieces else {"loaves": 2 * (process.loaves or 1)}
    return reread(replace(formula, lines=lines, process=replace(process, **more)))


LAWS = (in_another_order, in_parts, in_other_units, under_other_names, of_twice_the_loaves)


def holds(law: Callable[[Formula, Random], Formula], name: str, seed: int) -> None:
    chance = Random(seed)
    some = drawn(name, chance)
    formula, other = reread(some), law(some, chance)
    grown = GROWS if law is of_twice_the_loaves else frozenset()
    assert {} == differing(examined(formula), examined(other), but=grown)


@pytest.mark.parametrize("law", LAWS)
@few(4)
@ANY
def test_the_same_dough_written_otherwise_is_answered_alike(law, name, seed):
    holds(law, name, seed)


@pytest.mark.slow
@pytest.mark.parametrize("law", LAWS)
@few(MORE)
@ANY
def test_many_doughs_written_otherwise_are_answered_alike(law, name, seed):
    holds(law, name, seed)


# ---- a longer tin, proposals, documents

ENDS = frozenset({"bake_loss_pct", "sliceable_after_min"})
"""A loaf twice as long has no more ends than one: it loses less and cools later."""
TINS = sorted(n for n, f in FORMULAS.items() if f.process.pan_kind == "tin" and f.process.pan_length_cm)


@pytest.mark.slow
@few(MORE)
@given(name=st.sampled_from(TINS), seed=st.integers(0, 10**6))
def test_a_loaf_twice_as_long_in_a_tin_twice_as_long_is_the_same_loaf(name, seed):
    one = reread(drawn(name, Random(seed)))
    lines = tuple(replace(x, grams=2 * x.grams) for x in one.lines)
    process = one.process
    longer = replace(
        process, pan_length_cm=2 * process.pan_length_cm, slices=process.slices and 2 * process.slices
    )
    a, b = examined(one), examined(replace(one, lines=lines, process=longer))
    for measure in a.workings.measures.by_id.keys() - GROWS:
        was, now = a.workings.measures.value(measure), b.workings.measures.value(measure)
        assert (was is None) == (now is None), measure
        if was is not None:
            assert now == pytest.approx(was, rel=0.12 if measure in ENDS else 0.03, abs=0.02), measure
    for symptom, risk in a.diagnosis.risks.items():
        assert abs(risk.risk - b.diagnosis.risks[symptom].risk) < 0.05, symptom


def spoilt(name: str, seed: int) -> Formula:
    """A drawn formula of which one amount is far off, so that something is proposed."""
    chance = Random(seed)
    formula = drawn(name, chance)
    lines = list(formula.lines)
    at = chance.randrange(len(lines))
    lines[at] = replace(lines[at], grams=round(lines[at].grams * chance.choice([0.4, 0.6, 1.7, 2.5]), 1))
    return reread(replace(formula, lines=tuple(lines)))


def as_stated(name: str, seed: int) -> None:
    """Every proposal, written out, read again and checked, gives the figures that were stated for it."""
    for proposal in default_advisor().check(spoilt(name, seed)).plans.proposals:
        if proposal.kind == "handling":  # what a hand does stands in no formula
            continue
        again = examined(read_formula_text(write_formula_text(proposal.formula), KNOWLEDGE))
        for measure, (_, after) in proposal.measures.items():
            value = again.workings.measures.value(measure)
            assert (after is None) == (value is None), (proposal.lever, measure)
            if after is not None:
                assert value == pytest.approx(after, rel=5e-3, abs=5e-3), (proposal.lever, measure)
        for symptom, (_, after) in proposal.risk.items():
            assert abs(again.diagnosis.risks[symptom].risk - after) < 0.01, (proposal.lever, symptom)


@few(3)
@ANY
def test_a_proposal_applied_and_checked_gives_what_it_says(name, seed):
    as_stated(name, seed)


@pytest.mark.slow
@few(MORE)
@ANY
def test_many_proposals_applied_and_checked_give_what_they_say(name, seed):
    as_stated(name, seed)


def all_finite(name: str, seed: int) -> None:
    formula = spoilt(name, seed)
    chance = Random(seed)
    saw = chance.sample(sorted(KNOWLEDGE.symptoms), 2)
    line = chance.choice(formula.lines)
    tried = try_changes(formula, f"{line.ingredient.name} +20 g")
    for answer in (check(formula), diagnose(formula, saw=saw), tried):
        json.dumps(answer.to_dict(), allow_nan=False)  # raises at what is endless or no number


@few(2)
@ANY
def test_no_document_holds_what_is_no_number(name, seed):
    all_finite(name, seed)


@pytest.mark.slow
@few(MORE)
@ANY
def test_no_document_of_many_holds_what_is_no_number(name, seed):
    all_finite(name, seed)


def test_what_lies_in_a_dough_as_it_is_is_no_coarse_meal():
    lines = [
        "100 g crushed tomatoes",
        "60 g olives, roughly chopped",
        "40 g coarsely chopped onion",
        "80 g pork rinds, crushed",
    ]
    formula = read_formula_text(
        "\n".join(("Loaf", *lines, "200 g vital wheat gluten", "150 g water")), KNOWLEDGE
    )
    assert ["pork_rinds"] == [x.ingredient.id for x in formula.lines if "coarse" in x.all_traits]
