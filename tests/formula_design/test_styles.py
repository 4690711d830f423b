"""What the knowledge calls usual: sound formulas of bakers who had not seen ours lie near it, nonsense does not."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from bakers_table import ROUNDS
from start_against_writers import main

from advisor import load_knowledge, read_formula, start_formulas
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula_design.dough_parts import DoughParts
from advisor.formula_design.plausibility import nearest_style
from advisor.models.dough.assumptions import fill_defaults

STRANGERS = Path(__file__).parents[1] / "outside" / "strangers"


def sound(rounds: str) -> list[Formula]:
    found = []
    for path in sorted(STRANGERS.glob(f"round_[{rounds}]/sound.json")):
        for entry in json.loads(path.read_text("utf-8")):
            try:
                found.append(read_formula(entry["text"], name=f"{path.parent.name} {entry['id']}"))
            except FormulaFault:
                continue
    return found


def distance(formula: Formula) -> float | None:
    knowledge = load_knowledge()
    kind = fill_defaults(formula, knowledge).kind
    near = nearest_style(formula, kind, knowledge)
    return near.distance if near else None


# All of them have been in sight. What is far is mostly read wrongly: percentages, several amounts in one sentence.
@pytest.mark.parametrize(("rounds", "least"), [("1-4", 0.9), ("5-7", 0.75)])
def test_sound_formulas_of_strangers_are_usual(rounds: str, least: float) -> None:
    found = [d for f in sound(rounds) if (d := distance(f)) is not None]
    assert len(found) > 50
    near = sum(d < 2.5 for d in found)
    assert near >= least * len(found), f"{near} of {len(found)}"


@pytest.mark.parametrize(
    "text",
    [
        "title: all gluten\n400 g vital wheat gluten\n100 g water\n10 g salt\n10 g instant yeast\npan: 23 x 10 x 10 cm",
        "title: all egg\n10 large eggs\n20 g almond flour\n30 g baking powder\npan: 23 x 10 x 10 cm",
        "title: salt loaf\n250 g almond flour\n5 eggs\n60 g butter\n60 g salt\n12 g baking powder\npan: 20 x 10 x 8 cm",
    ],
)
def test_nonsense_is_far_from_every_style(text: str) -> None:
    found = distance(read_formula(text))
    assert found is not None
    assert found > 4


def test_every_ingredient_of_a_pantry_is_the_part_that_it_stands_for() -> None:
    knowledge = load_knowledge()
    parts = DoughParts(knowledge)
    for style in knowledge.styles.values():
        for name, part in style.parts.items():
            for one in part.pantry:
                place = parts.place_in(knowledge.ingredients[one], style)
                assert name == place, f"{style.id}: {one} goes to {place}, not {name}"


def test_every_kind_can_be_written() -> None:
    knowledge = load_knowledge()
    written = {kind for style in knowledge.styles.values() for bake in style.bakes for kind in bake.kinds}
    assert set(knowledge.kinds) == written


@pytest.mark.parametrize(
    ("kind", "names", "boiled"),
    [
        ("bagels", "bread flour", True),
        ("rolls", "bread flour", False),
        ("bagels", "gluten, eggs, oat fibre", True),
    ],
)
def test_rings_are_boiled_and_only_made_where_they_are_asked_for(kind: str, names: str, boiled: bool) -> None:
    found = start_formulas(names, kind=kind).formulas
    assert found
    assert all((one.formula.process.boil_min is not None) == boiled for one in found)


def test_what_a_sour_starter_raises_is_proved() -> None:
    one = start_formulas("bread flour, rye flour, sourdough starter, caraway", kind="rye").formulas[0]
    assert one.passes
    assert one.formula.process.proof_min
    assert not any("yeast" in x.ingredient.roles for x in one.formula.lines)


def test_pairs_for_blind_bakers_give_no_amounts_to_start_and_none_of_the_key_to_them(tmp_path: Path) -> None:
    main([str(STRANGERS / "round_6" / "sound.json"), str(tmp_path), "--of", "1", "--seed", "3"])
    pairs, key = ((tmp_path / name).read_text("utf-8") for name in ("pairs.md", "key.json"))
    told = json.loads(key)["1"]
    assert not any(c.isdigit() for name in told["asked"]["made_from"] for c in name)
    assert pairs.count("### ") == 2
    assert told["id"] not in pairs.split("Wanted")[0]


def test_rounds_that_judge_first_formulas_are_no_part_of_their_table() -> None:
    rounds = {name.split("_")[1].rstrip("ab") for name in load_knowledge().bakers_formulas}
    assert rounds
    assert rounds <= {str(n) for n in ROUNDS}
    assert 11 == max(ROUNDS)
