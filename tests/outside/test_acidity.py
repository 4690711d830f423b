"""pH of doughs against sourdoughs whose acids and pH were both measured.

Nutrients 11(12):2954 (2019), table 2: wheat sourdoughs of dough yield 160, lactic and acetic acid in mmol/kg. Buffering
was set by hand on all three, so that they pin it and are no independent check. Ordinary bread stands at pH 5.3 to 5.8
(MadSci network, 2000), and soda without acid makes a crumb alkaline (common practice, no source).
"""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.models.dough.acidity import crumb_ph
from advisor.models.dough_state import dough_state_of

KNOWLEDGE = load_knowledge()


def ph_of(text: str, fermented_g: float = 0.0) -> float:
    found = crumb_ph(dough_state_of(read_formula_text(text, KNOWLEDGE), KNOWLEDGE), fermented_g, KNOWLEDGE)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("lactic_mmol_kg", "acetic_mmol_kg", "measured"),
    [(28.2, 6.2, 4.26), (43.3, 10.2, 3.89), (93.3, 20.3, 3.55)],
)
def test_sourdough_stands_at_its_measured_ph(lactic_mmol_kg, acetic_mmol_kg, measured):
    lactic = lactic_mmol_kg * 1.6 * 0.09008 / 0.8
    vinegar = acetic_mmol_kg * 1.6 * 0.06005 / 0.05
    text = f"1000 g bread flour\n{600 - vinegar:.1f} g water\n{lactic:.2f} g lactic acid\n{vinegar:.2f} g white vinegar"
    assert measured == pytest.approx(ph_of(text), abs=0.25)


def test_ordinary_bread_is_a_little_sour():
    assert 5.3 <= ph_of("500 g bread flour\n310 g water\n7 g instant yeast\n9 g salt", fermented_g=14) <= 5.8


def test_soda_without_acid_makes_soap_and_acid_takes_it_back():
    plain = "300 g all-purpose flour\n220 g {wet}\n{soda}5 g salt"
    alkaline = ph_of(plain.format(wet="water", soda="5 g baking soda\n"))
    sour = ph_of(plain.format(wet="buttermilk", soda="3 g baking soda\n"))
    assert alkaline > 8 > sour > 5.5


def test_more_protein_holds_the_ph():
    """Buffering: the same acid moves a dough rich in protein less."""
    lean, rich = (
        "500 g corn starch\n400 g water\n{}",
        "400 g corn starch\n100 g soy protein isolate\n400 g water\n{}",
    )
    moved = [ph_of(t.format("")) - ph_of(t.format("4 g citric acid")) for t in (lean, rich)]
    assert moved[0] > 1.4 * moved[1] > 0
