"""Every demo formula is read whole, with nothing doubtful, and comes back from its written form."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.files import formula_from_file
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Unit
from advisor.knowledge_base.reading import read_entries

_TOP = Path(__file__).parents[2] / "knowledge"
_FORMULAS = sorted((_TOP / "formulas").glob("*.txt"))


@pytest.fixture(scope="module")
def pantry(kitchen: Knowledge) -> Knowledge:
    """The real ingredients and units."""
    files = sorted((_TOP / "ingredients").glob("*.yaml"))
    foods = {e.id: e for f in files for e, _ in read_entries(f, f.name, Ingredient)}
    units = {u.id: u for u, _ in read_entries(_TOP / "units.yaml", "units.yaml", Unit)}
    return replace(kitchen, ingredients=foods, units=units)


@pytest.mark.parametrize("path", _FORMULAS, ids=lambda p: p.stem)
def test_demo_formula_is_read_and_written(pantry: Knowledge, path: Path) -> None:
    first = formula_from_file(path, pantry)
    again = read_formula_text(write_formula_text(first), pantry)
    assert () == first.warnings
    assert first.process == again.process
    assert [(x.ingredient.id, x.grams, x.counted) for x in first.lines] == [
        (x.ingredient.id, x.grams, x.counted) for x in again.lines
    ]


def test_every_name_of_every_ingredient_finds_it_or_is_asked(pantry: Knowledge) -> None:
    """Corn flour is meal in one country and starch in another, so both spellings are asked, as shared names are."""
    asked, lost = set(), {}
    shared = {name for food in pantry.ingredients.values() for name in food.shared_names}
    for food in pantry.ingredients.values():
        for name in (food.name, *food.also, *food.shared_names):
            try:
                (line,) = read_formula_text(f"100 g {name}", pantry).lines
            except FormulaFault as fault:
                assert "can be" in str(fault)
                asked.add(name)
            else:
                if line.ingredient.id != food.id:
                    lost[name] = (food.id, line.ingredient.id)
    assert (shared | {"corn flour", "cornflour"}, {}) == (asked, lost)
