"""The user's own ingredients: from a packet's panel to an entry beside the shipped ones, and the file they live in."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_entry import OwnFile, OwnIngredient
from advisor.knowledge_base.own_file import (
    OwnFileFault,
    own_yaml,
    parse_own_file,
    read_own_file,
    write_own_file,
)
from advisor.knowledge_base.own_ingredients import shipped_only, with_own_ingredients
from advisor.knowledge_base.own_making import OWN_SOURCE, is_own, make_ingredient
from advisor.knowledge_base.places import own_ingredients_path

US = {
    "per_g": 30, "calories": 180, "total_fat": 15, "sodium_mg": 6, "total_carbohydrate": 6,
    "dietary_fiber": 3, "total_sugars": 1.2, "protein": 6,
}  # fmt: skip
EU = {
    "energy_kcal": 590, "fat": 50, "carbohydrate": 10, "sugars": 4, "fibre": 10, "protein": 20, "salt": 0.05,
}  # fmt: skip
TEXT = """\
ingredients:
  - name: Brindlemoor seed flour
    also: [house seed flour]
    like: almond flour
    eu_panel: {energy_kcal: 590, fat: 50, carbohydrate: 10, sugars: 4, fibre: 10, protein: 20, salt: 0.05}
    price_per_kg: 12.5
prices:
  whole egg: 6
  sugar: 1.1
"""


def made(knowledge: Knowledge, like: str = "almond_flour", **more: object) -> Ingredient:
    own = OwnIngredient.model_validate({"name": "test flour", "like": like, **more})
    return make_ingredient(own, knowledge.ingredients[like]).ingredient


def own_file(tmp_path: Path, text: str = TEXT) -> Path:
    path = tmp_path / "ingredients.yaml"
    path.write_text(text, "utf-8")
    return path


def test_us_and_eu_panels_of_one_packet_come_to_one_composition(knowledge: Knowledge) -> None:
    """Total carbohydrate 20 g with 10 g fibre is carbohydrate 10 g beside fibre 10 g; sodium 20 mg is salt 0.05 g."""
    us, eu = made(knowledge, us_panel=US).per_100g, made(knowledge, eu_panel=EU).per_100g
    assert ("by_difference", "available") == (us.basis, eu.basis)
    for part in ("water", "protein", "fat", "carbohydrate_with_fibre", "fibre", "sugars", "ash", "sodium_mg"):
        assert getattr(us, part) == pytest.approx(getattr(eu, part)), part
    assert (20, 20) == (pytest.approx(us.carbohydrate_with_fibre), pytest.approx(us.sodium_mg))
    assert 100 == pytest.approx(us.closure)
    assert 100 == pytest.approx(eu.closure)


def test_a_serving_is_scaled_to_100_g(knowledge: Knowledge) -> None:
    assert 50 == pytest.approx(made(knowledge, us_panel=US).per_100g.fat)
    portion = EU | {key: EU[key] * 0.25 for key in EU} | {"per_g": 25}
    assert 50 == pytest.approx(made(knowledge, eu_panel=portion).per_100g.fat)


def test_sugar_alcohol_holds_erythritol_and_polyols_do_not(knowledge: Knowledge) -> None:
    """The law's sugar alcohol and polyols include erythritol; entries keep it apart, since nothing of it counts."""
    sweet = US | {"sugar_alcohol": 2.4, "erythritol": 1.5}
    c = made(knowledge, us_panel=sweet).per_100g
    assert (3, 5) == (pytest.approx(c.polyols), pytest.approx(c.erythritol))
    c = made(knowledge, eu_panel=EU | {"polyols": 8, "erythritol": 5}).per_100g
    assert (3, 5) == (pytest.approx(c.polyols), pytest.approx(c.erythritol))


def test_behaviour_is_the_siblings_and_what_is_given_wins(knowledge: Knowledge) -> None:
    sibling = knowledge.ingredients["almond_flour"]
    new = made(knowledge, us_panel=US)
    for part in ("roles", "protein_classes", "dry_base", "traits", "allergens", "weights", "dough_uptake"):
        assert getattr(sibling, part) == getattr(new, part), part
    new = made(knowledge, us_panel=US, dough_uptake=0.8, allergens=["sesame"], weights={"cup": 110})
    assert new.dough_uptake is not None
    assert (0.8, "memory", (OWN_SOURCE,)) == (
        new.dough_uptake.value, new.dough_uptake.grade, new.dough_uptake.sources,
    )  # fmt: skip
    assert ("sesame",) == new.allergens
    assert {"cup": 110} == {name: weight.grams for name, weight in new.weights.items()}


def test_uptake_given_beside_a_sibling_that_counts_by_its_solids(knowledge: Knowledge) -> None:
    milk = {
        "energy_kcal": 65, "fat": 3.6, "carbohydrate": 4.8, "sugars": 4.8, "fibre": 0, "protein": 3.4, "salt": 0.1,
    }  # fmt: skip
    assert "whole_milk_powder" == made(knowledge, "whole_milk", eu_panel=milk).solids_like
    given = made(knowledge, "whole_milk", eu_panel=milk, dough_uptake=-0.1)
    assert given.solids_like is None
    assert given.dough_uptake is not None


def test_yeast_finds_no_more_sugar_than_the_panel_leaves_room_for(knowledge: Knowledge) -> None:
    spare = {
        "energy_kcal": 200, "fat": 0, "carbohydrate": 2, "sugars": 0, "fibre": 95, "protein": 0, "salt": 0,
    }  # fmt: skip
    new = made(knowledge, "honey", eu_panel=spare)
    assert new.fermentable_sugars is not None
    assert 2 == pytest.approx(new.fermentable_sugars.value)


def test_fibre_that_an_eu_panel_leaves_out_is_what_the_mass_leaves(knowledge: Knowledge) -> None:
    own = OwnIngredient.model_validate(
        {"name": "x", "like": "almond_flour", "eu_panel": {k: v for k, v in EU.items() if k != "fibre"}}
    )
    sibling = knowledge.ingredients["almond_flour"]
    new = make_ingredient(own, sibling)
    left = 100 - 20 - 50 - 10 - sibling.per_100g.water - sibling.per_100g.ash
    assert left == pytest.approx(new.ingredient.per_100g.fibre)
    assert any("prints no fibre" in sentence for sentence in new.said)


def test_without_a_sibling_the_entry_says_what_it_is(knowledge: Knowledge) -> None:
    alone = {"name": "x", "us_panel": US}
    with pytest.raises(ValueError, match="without 'like', say roles, allergens, dough_uptake"):
        OwnIngredient.model_validate(alone)
    own = OwnIngredient.model_validate(alone | {"roles": ["meal"], "allergens": [], "dough_uptake": 0.5})
    new = make_ingredient(own, None).ingredient
    assert ("own", ("meal",)) == (new.family, new.roles)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"us_panel": US, "eu_panel": EU}, "give one nutrition panel"),
        ({"us_panel": None}, "give one nutrition panel"),
        ({"us_panel": US | {"dietary_fiber": 9}}, "dietary_fiber 9 g is more than total_carbohydrate 6 g"),
        ({"name": "мука"}, "needs a Latin letter"),
        ({"name": "two\nlines"}, "one line"),
        ({"name": "00 flour"}, "no id can be made"),
    ],
)
def test_what_is_no_entry_is_refused(change: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        OwnIngredient.model_validate({"name": "x", "like": "almond_flour", "us_panel": US} | change)


def test_own_ingredients_stand_beside_the_shipped_ones(knowledge: Knowledge, tmp_path: Path) -> None:
    path = own_file(tmp_path)
    full = with_own_ingredients(knowledge, path)
    assert {"brindlemoor_seed_flour"} == set(full.ingredients) - set(knowledge.ingredients)
    assert f"{path}:2" == full.where("ingredient", "brindlemoor_seed_flour")
    assert OWN_SOURCE in full.sources
    assert 12.5 == full.ingredients["brindlemoor_seed_flour"].price_per_kg
    assert (6, 1.1) == tuple(full.ingredients[name].price_per_kg for name in ("whole_egg", "sugar"))


def test_the_shipped_knowledge_stays_as_it_is(knowledge: Knowledge, tmp_path: Path) -> None:
    before = pickle.dumps(knowledge)
    with_own_ingredients(knowledge, own_file(tmp_path))
    assert before == pickle.dumps(knowledge)
    assert not any(is_own(e) or e.price_per_kg for e in knowledge.ingredients.values())
    assert OWN_SOURCE not in knowledge.sources


def test_merging_twice_is_merging_once_and_can_be_undone(knowledge: Knowledge, tmp_path: Path) -> None:
    path = own_file(tmp_path)
    once = with_own_ingredients(knowledge, path)
    twice = with_own_ingredients(once, path)
    assert once.ingredients == twice.ingredients
    assert knowledge.ingredients == shipped_only(twice).ingredients


@pytest.mark.parametrize("text", [None, "", "  \n"])
def test_no_file_and_an_empty_file_are_nothing(
    knowledge: Knowledge, tmp_path: Path, text: str | None
) -> None:
    path = tmp_path / "missing.yaml" if text is None else own_file(tmp_path, text)
    assert knowledge is with_own_ingredients(knowledge, path)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("Brindlemoor seed flour", "Almond-Flour", "2 own Almond-Flour: 'almond_flour' is already a name of almond"),
        ("house seed flour", "ground almonds", "2 own .*'ground almonds' is already a name of almond meal"),
        ("like: almond flour", "like: almond flor", "2 own .*no ingredient is called 'almond flor'; near: almond"),
        ("whole egg: 6", "whole eg: 6", "8 own prices: no ingredient is called 'whole eg'"),
        ("whole egg: 6", "whole egg: -6", "8 shape prices.whole egg: Input should be greater than 0"),
        ("fat: 50", "fatt: 50", "5 shape the key 'ingredients.0.eu_panel.fatt' is not known; did you mean 'fat'"),
        ("also: [house", "traits: [coars]\n    also: [house", "2 own .*no trait 'coars'; did you mean 'coarse'"),
    ],
)  # fmt: skip
def test_faults_of_the_file_name_line_and_remedy(
    knowledge: Knowledge, tmp_path: Path, old: str, new: str, message: str
) -> None:
    assert TEXT.count(old) == 1
    with pytest.raises(OwnFileFault, match=message):
        with_own_ingredients(knowledge, own_file(tmp_path, TEXT.replace(old, new)))


def test_what_is_written_reads_back_as_the_same(tmp_path: Path) -> None:
    own = parse_own_file(TEXT, "text")
    odd = OwnIngredient.model_validate(
        {"name": 'it\'s "0.5" #flour: ½', "also": ["yes", "a, b"], "like": "no", "us_panel": US | {"calories": 1e-7}}
    )  # fmt: skip
    both = OwnFile(ingredients=(*own.ingredients, odd), prices=own.prices)
    assert both == parse_own_file(own_yaml(both), "text")
    path = tmp_path / "new" / "folder" / "own.yaml"
    write_own_file(path, both)
    assert both == read_own_file(path)[0]
    assert OwnFile() == parse_own_file(own_yaml(OwnFile()), "text")


def test_a_write_that_fails_leaves_the_old_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = own_file(tmp_path)
    monkeypatch.setattr("os.fsync", lambda _: (_ for _ in ()).throw(OSError("disk full")))
    with pytest.raises(InputFault, match="cannot be written"):
        write_own_file(path, OwnFile())
    assert TEXT == path.read_text("utf-8")
    assert [path] == list(tmp_path.iterdir())


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    target = own_file(tmp_path)
    link = tmp_path / "link.yaml"
    link.symlink_to(target)
    write_own_file(link, OwnFile())
    assert link.is_symlink()
    assert "ingredients: []" in target.read_text("utf-8")


def test_where_the_file_is(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("ADVISOR_INGREDIENTS", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert tmp_path / "dough-advisor" / "ingredients.yaml" == own_ingredients_path()
    monkeypatch.setenv("ADVISOR_INGREDIENTS", str(tmp_path / "mine.yaml"))
    assert tmp_path / "mine.yaml" == own_ingredients_path()
