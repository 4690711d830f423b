"""What pins retention and the gas that a loaf keeps: volumes of loaves that are known.

- Psyllium series: Fratelli et al. (2021) Foods 10(5):954: 1.41 mL/g without, 2.15, 2.06 and 2.08 with 2.86, 7.14 and
  17.14 g a 100 g of flour and starch (water from a transcription); yeast, salt, oil and proof are ours.
- A pan loaf of ordinary wheat: 3.5 to 5 mL/g; hot hearth with steam up to 5 (published, abstract); the rest practice.
The model is relative more than absolute: order and ratios are asked for, and absolute volumes within a third.
"""

from __future__ import annotations

import pytest
from case_files import demo, risen_names, sound_loaves

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text

STEPS = {2.86: (82.14, 2.15), 7.14: (91.10, 2.06), 17.14: (117.86, 2.08)}
WITHOUT = (100.0, 1.41)


def volume(formula) -> float:
    return default_advisor().examiner.examine(formula, after_bake=False).situation.measures["specific_volume"]


def psyllium_loaf(psyllium: float, water: float):
    husk = f"{4 * psyllium} g psyllium husk powder\n" if psyllium else ""
    text = (
        f"300 g white rice flour\n100 g tapioca starch\n{husk}{4 * water} g water\n20 g sunflower oil\n"
        "8 g instant yeast\n10 g sugar\n7 g salt\nslices: 16\npan: 23 x 10 x 10 cm\nmix: 5 min\n"
        "water temp: 32 C\nproof: 45 min at 30 C\noven: 200 C for 50 min"
    )
    return read_formula_text(text, load_knowledge(), name=f"psyllium {psyllium}")


def test_an_ordinary_tin_loaf_has_its_ordinary_volume():
    assert 3.5 <= volume(demo("ordinary-wheat-tin-loaf")) <= 5.0


def test_published_psyllium_loaves_are_about_alike():
    """Published: 2.06 to 2.15, so within 5 % of each other; the model within 15."""
    found = [volume(psyllium_loaf(p, water)) for p, (water, _) in STEPS.items()]
    middle = sum(found) / len(found)
    assert [pytest.approx(middle, rel=0.15)] * 3 == found


@pytest.mark.parametrize("psyllium", STEPS)
def test_published_psyllium_loaves_within_a_third(psyllium):
    water, known = STEPS[psyllium]
    # the third is of the published volume, not of ours
    assert abs(volume(psyllium_loaf(psyllium, water)) - known) <= known / 3


def test_without_any_binder_a_starch_loaf_stays_small():
    """Published 1.41 against 2.15, two thirds; the model below five sixths."""
    bare, bound = volume(psyllium_loaf(0.0, WITHOUT[0])), volume(psyllium_loaf(2.86, STEPS[2.86][0]))
    assert bare < 5 / 6 * bound, f"{bare:.2f} without against {bound:.2f} with"


def test_wheat_rises_above_starch_and_starch_above_cheese():
    order = ["cheese-dough-rounds", "maize-reference-loaf", "ordinary-wheat-tin-loaf"]
    found = [volume(demo(name)) for name in order]
    assert found == sorted(found)
    assert found[2] > 1.3 * found[1] > 1.3 * found[0]


def _good():
    for name in risen_names():
        yield pytest.param(demo(name), id=name)
    for case in sound_loaves():
        yield pytest.param(read_formula_text(case.text, load_knowledge(), name=case.id), id=case.id)


@pytest.mark.parametrize("formula", list(_good()))
def test_a_good_loaf_lies_in_the_volume_and_gas_of_its_structure(formula):
    found = default_advisor().examiner.examine(formula, after_bake=False)
    judged = found.inference.judged
    names = [
        n
        for n in ("specific_volume", "co2_total", "early_gas_share", "late_gas_share", "lift_shortfall")
        if n in judged
    ]
    assert "specific_volume" in names
    outside = {
        n: (round(judged[n].value, 2), judged[n].low, judged[n].high)
        for n in names
        if judged[n].state != "in"
    }
    assert {} == outside


@pytest.mark.parametrize("formula", [pytest.param(demo(n), id=n) for n in risen_names()])
def test_a_loaf_without_lift_leaves_the_band(formula):
    """A volume band that a brick does not leave says nothing. A whipped white lifts by its air."""
    kept = tuple(x for x in formula.lines if not {"yeast", "powder", "soda"} & set(x.ingredient.roles))
    flat = formula.with_lines(kept)
    if flat.process.whites_whipped:
        flat = flat.with_process(whites_whipped=None)
    found = default_advisor().examiner.examine(flat, after_bake=False)
    assert "low" == found.inference.judged["specific_volume"].state
    assert found.situation.measures["lift_shortfall"] > 0
