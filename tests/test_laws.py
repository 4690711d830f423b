"""Laws that an answer has to keep for any sensible formula, held through the text as a baker writes it.

Good formulas, every amount and the heat drawn anew within a quarter, are written otherwise than before but mean the
same dough: twice of all, in another order, in parts, in other units, under other names. A few drawn examples, always
the same ones, run each time; `slow` runs more of them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest
from case_files import balanced_names, demo, sound_loaves
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.pipeline import Examination
from advisor.formula.formula import Formula, Line
from advisor.formula.lines.states import state_spans, traits_of
from advisor.formula.reading import read_formula_text
from advisor.formula.spelling import words_of
from advisor.formula.writing.as_text import process_values

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


def test_what_lies_in_a_dough_as_it_is_is_no_coarse_meal():
    lines = ["100 g crushed tomatoes", "60 g olives, roughly chopped", "40 g coarsely chopped onion", "80 g pork rinds, crushed"]
    formula = read_formula_text("\n".join(("Loaf", *lines, "200 g vital wheat gluten", "150 g water")), KNOWLEDGE)
    assert ["pork_rinds"] == [x.ingredient.id for x in formula.lines if "coarse" in x.all_traits]
