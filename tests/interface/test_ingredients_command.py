"""`advisor ingredients`: what is known, what is the user's own, and how it comes in and goes out."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import jsonschema
import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.numbers import cost_line
from advisor.formula.reading import read_formula_text
from advisor.interface.commands import ingredients as ingredients_command
from advisor.interface.commands.command_line import main
from advisor.interface.desk.ingredient_page import ingredient_page
from advisor.interface.desk.panel_questions import number_typed
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_ingredients import with_own_ingredients
from advisor.remedy.assessing import Advisor
from advisor.rendering.documents.schemas import schema_of

ENTRY = """\
name: Brindlemoor seed flour
like: almond_flour
us_panel: {per_g: 30, calories: 180, total_fat: 15, sodium_mg: 5, total_carbohydrate: 6, dietary_fiber: 3,
  total_sugars: 1, protein: 6}
price_per_kg: 12.5
"""


@pytest.fixture(autouse=True)
def own(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Where the command keeps own ingredients in these tests."""
    path = tmp_path / "kept" / "ingredients.yaml"
    monkeypatch.setenv("ADVISOR_INGREDIENTS", str(path))
    monkeypatch.setenv("COLUMNS", "80")
    return path


def entry_file(tmp_path: Path, text: str = ENTRY) -> str:
    path = tmp_path / "entry.yaml"
    path.write_text(text, "utf-8")
    return str(path)


def read_from(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode()), "utf-8"))


def test_one_ingredient_with_all_that_is_known(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["ingredients", "egg white"])
    page = " ".join(capsys.readouterr().out.split())
    for part in (
        "EGG WHITE ", "allergens egg ", "water 87.57 g ", "usda-sr28, record NDB 01124",
        "sets from 61 to 88 C", "large 33 g [published",
        "US Department of Agriculture", "'egg white' is also in: pasteurised egg white, egg white powder.",
    ):  # fmt: skip
        assert part in page


@pytest.mark.parametrize(
    ("word", "part"),
    [
        ("white vinegar", "g of acetic acid in 100 g, which neutralises 139.9 % of its weight"),
        ("instant yeast", "times the gas of instant yeast, gram for gram"),
        ("egg white", "holds 8 g of water a gram (6.5 to 8.5)"),
        ("baking soda", "g of soda in 100 g"),
        ("transglutaminase", "units of enzyme a gram"),
        ("whole milk", "behave like whole milk powder"),
        ("bagged mozzarella", "coated: Grated in advance"),
    ],
)
def test_what_an_ingredient_does_is_said(word: str, part: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["ingredients", *word.split()])
    assert part in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("columns", [40, 60, 80])
def test_no_line_is_wider_than_the_terminal(
    columns: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], knowledge: Knowledge
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    main(["ingredients"])
    main(["ingredients", "egg"])
    lines = capsys.readouterr().out.splitlines()
    for entry in knowledge.ingredients.values():
        lines += page_text(tuple(ingredient_page(entry, knowledge))).splitlines()
    assert columns >= max(len(line) for line in lines if " " in line.strip())


def test_without_a_word_every_name_stands_under_its_family(
    capsys: pytest.CaptureFixture[str], knowledge: Knowledge
) -> None:
    assert 0 == main(["ingredients"])
    page = " ".join(capsys.readouterr().out.split())
    assert f"{len(knowledge.ingredients)} ingredients." in page
    assert all(entry.name in page for entry in knowledge.ingredients.values())


def test_nothing_of_that_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert 1 == main(["ingredients", "almnd", "flour"])
    assert "No ingredient is called 'almnd flour'. Near: almond flour" in capsys.readouterr().out
    assert 1 == main(["ingredients", "zorblax", "--json"])
    assert [] == json.loads(capsys.readouterr().out)["ingredients"]


def test_json_of_all_follows_its_schema(capsys: pytest.CaptureFixture[str], knowledge: Knowledge) -> None:
    assert 0 == main(["ingredients", "--json"])
    document = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, schema_of("ingredients"))
    assert set(knowledge.ingredients) == {row["entry"]["id"] for row in document["ingredients"]}


def test_a_new_one_is_checked_kept_and_found(
    tmp_path: Path, own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 0 == main(["ingredients", "--new", entry_file(tmp_path)])
    said = " ".join(capsys.readouterr().out.split())
    assert "Energy: 600 kcal per 100 g on the panel, 570 to 610 kcal by its parts: they agree." in said
    assert "Mass: protein, fat, carbohydrate and fibre come to 90.0 g per 100 g" in said
    assert "allergens (nuts: compare with the packet)" in said
    assert own.is_file()
    assert 0 == main(["ingredients", "seed flour", "--json"])
    rows = json.loads(capsys.readouterr().out)["ingredients"]
    assert [("brindlemoor_seed_flour", True)] == [(r["entry"]["id"], r["own"]) for r in rows if r["own"]]


def test_an_own_ingredient_is_used_like_any_other(
    tmp_path: Path, own: Path, knowledge: Knowledge, advisor: Advisor
) -> None:
    """Under another name and from a packet's panel, almond flour makes the same dough."""
    c = knowledge.ingredients["almond_flour"].per_100g
    panel = {
        "per_g": 100, "calories": c.energy_kcal, "total_fat": c.fat, "sodium_mg": c.sodium_mg, "protein": c.protein,
        "total_carbohydrate": c.carbohydrate, "dietary_fiber": c.fibre, "total_sugars": c.sugars,
    }  # fmt: skip
    entry = (
        f"name: kitchen ground nuts\nlike: almond flour\nus_panel: {json.dumps(panel)}\nprice_per_kg: 10\n"
    )
    assert 0 == main(["ingredients", "--new", entry_file(tmp_path, entry)])
    full = with_own_ingredients(knowledge, own)
    text = "200 g FLOUR\n4 large eggs\n5 g baking powder\nslices: 12\n"
    shipped = read_formula_text(text.replace("FLOUR", "almond flour"), knowledge)
    mine = read_formula_text(text.replace("FLOUR", "kitchen ground nuts"), full)
    assert "kitchen_ground_nuts" == mine.lines[0].ingredient.id
    expected = advisor.examiner.examine(shipped).workings.measures
    found = Examiner(full).examine(mine).workings.measures
    for name in knowledge.measures:
        want, have = expected.value(name), found.value(name)
        assert (want is None) == (have is None), name
        if want is not None:
            assert want == pytest.approx(have, rel=1e-3), name
    said = cost_line(mine, slices=12, loaves=1)
    assert said is not None
    assert said.startswith(
        "Cost by your own prices: 2.00 a loaf, 0.17 a slice, without whole egg, baking powder"
    )


def test_standard_input_is_read_where_nobody_can_be_asked(
    monkeypatch: pytest.MonkeyPatch, own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    read_from(monkeypatch, ENTRY)
    assert 0 == main(["ingredients", "--new", "-", "--json"])
    document = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, schema_of("ingredients"))
    assert ["brindlemoor_seed_flour"] == [row["entry"]["id"] for row in document["ingredients"]]
    assert any("Energy" in sentence for sentence in document["said"])


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("total_fat: 15", "total_fat: 5", "a figure is wrong"),
        ("per_g: 30", "per_g: 100", "is per_g the weight that the figures are for?"),
        ("name: Brindlemoor seed flour", "name: almond flour", "is already a name of almond flour"),
        ("name: Brindlemoor seed flour", "name: almond flours", "a formula"),
        (
            "like: almond_flour",
            "like: almnd_flour",
            "no ingredient is called 'almnd_flour'; near: almond flour",
        ),
        ("calories: 180", "kalories: 180", "standard input:3 shape the key 'us_panel.calories' is missing"),
        ("price_per_kg: 12.5", "price_per_kg: yes", "write true or false"),
        ("name: Brindlemoor seed flour", "ingredients: []", "use --import"),
    ],
)
def test_what_cannot_be_used_is_refused_and_nothing_kept(
    old: str, new: str, message: str, own: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    assert old in ENTRY
    read_from(monkeypatch, ENTRY.replace(old, new))
    assert 2 == main(["ingredients", "--new", "-"])
    assert message in capsys.readouterr().err
    assert not own.exists()


def test_energy_by_a_factor_of_its_own_is_believed_where_the_note_says_so(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    odd = ENTRY.replace("calories: 180", "calories: 100")
    read_from(monkeypatch, odd)
    assert 2 == main(["ingredients", "--new", "-"])
    assert "say why in a note with the word energy" in capsys.readouterr().err
    read_from(monkeypatch, odd + "note: energy as the packet prints it\n")
    assert 0 == main(["ingredients", "--new", "-"])


def test_a_name_twice_is_refused_unless_it_replaces(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first = entry_file(tmp_path)
    assert 0 == main(["ingredients", "--new", first])
    assert 2 == main(["ingredients", "--new", first])
    assert "--replace" in capsys.readouterr().err
    entry_file(tmp_path, ENTRY.replace("12.5", "9"))
    assert 0 == main(["ingredients", "--new", first, "--replace"])
    capsys.readouterr()
    main(["ingredients", "brindlemoor seed flour", "--json"])
    assert [9] == [row["entry"]["price_per_kg"] for row in json.loads(capsys.readouterr().out)["ingredients"]]


def test_what_is_exported_comes_in_again(
    tmp_path: Path, own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 1 == main(["ingredients", "--export"])
    main(["ingredients", "--new", entry_file(tmp_path)])
    capsys.readouterr()
    assert 0 == main(["ingredients", "--export"])
    text = capsys.readouterr().out
    assert own.read_text("utf-8") == text
    own.unlink()
    out = tmp_path / "out.yaml"
    out.write_text(text + "prices:\n  whole egg: 6\n", "utf-8")
    assert 0 == main(["ingredients", "--import", str(out)])
    assert "whole egg: 6" in own.read_text("utf-8")
    capsys.readouterr()
    main(["ingredients", "whole egg"])
    assert "price 6 a kilogram, your own" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("word", ["/no/such/file.yaml", "."])
def test_a_file_that_cannot_be_read(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    for option in ("--new", "--import"):
        assert 2 == main(["ingredients", option, word])
        assert "cannot be read" in capsys.readouterr().err


def test_a_spoilt_file_of_own_ingredients_says_where_and_what_to_do(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own.parent.mkdir()
    own.write_text("ingredients:\n  - name: x\n")
    assert 2 == main(["ingredients", "egg"])
    err = capsys.readouterr().err
    assert f"{own}:2 shape ingredients.0: give one nutrition panel" in err


@contextmanager
def typing(*lines: str) -> Iterator[None]:
    """What is typed at the prompt, line by line."""
    with create_pipe_input() as keys, create_app_session(input=keys, output=DummyOutput()):
        keys.send_text("".join(f"{line}\r" for line in lines))
        yield


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A terminal is pretended, and a folder for what is kept."""
    monkeypatch.setattr(ingredients_command, "can_ask", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("ADVISOR_TYPED", str(tmp_path))


@pytest.mark.usefixtures("terminal")
def test_questions_make_an_ingredient(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answers = (
        "almond flour", "house pea protein",  # the first is taken
        "pea protien", "pea protein",  # the first is misspelt
        "uk", "eu",
        "100", "378", "6,5", "1", "", "", "1.2", "<0.5", "", "", "", "", "78 g", "lots", "2.1",
        "14", "",
    )  # fmt: skip
    with typing(*answers):
        assert 0 == main(["ingredients", "--new", "-"])
    said = capsys.readouterr().out
    assert "'almond flour' is a name of almond flour already" in said
    assert "Taken as 0.25, half of it." in said
    text = own.read_text("utf-8")
    assert "like: pea_protein" in text
    assert "price_per_kg: 14" in text
    assert "energy_kcal: 378" in text


@pytest.mark.usefixtures("terminal")
def test_kilojoules_are_asked_where_kilocalories_are_not_printed(own: Path) -> None:
    answers = (
        "house flour", "almond flour", "eu",
        "100", "", "2470", "50", "", "", "", "10", "4", "", "", "", "10", "20", "0.05", "", "",
    )  # fmt: skip
    with typing(*answers):
        assert 0 == main(["ingredients", "--new", "-"])
    assert "energy_kj: 2470" in own.read_text("utf-8")


@pytest.mark.usefixtures("terminal")
def test_answers_that_do_not_agree_are_kept_to_be_mended(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = (
        "house almond flour", "almond flour", "us",
        "100", "20", "50", "", "", "", "20", "20", "10", "4", "", "", "", "", "20", "", "",
    )  # fmt: skip
    with typing(*answers):
        assert 2 == main(["ingredients", "--new", "-"])
    err = capsys.readouterr().err
    assert "a figure is wrong" in err
    kept = Path(err.rsplit("--new ", 1)[1].strip())
    assert "total_fat: 50" in kept.read_text("utf-8")
    assert not own.exists()


@pytest.mark.usefixtures("terminal")
def test_leaving_keeps_nothing(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with typing("house flour", "\x03"):
        assert 2 == main(["ingredients", "--new", "-"])
    assert "no ingredient was kept" in capsys.readouterr().err
    assert not own.exists()


@pytest.mark.parametrize(
    ("typed", "expected"),
    [("12", 12), ("0,5", 0.5), ("<0.5 g", 0.25), (" 380 kcal", 380), ("5mg", 5), ("", None), ("-1", None),
     ("1e3", None), ("nan", None), ("1.2.3", None), ("٣", None)],
)  # fmt: skip
def test_numbers_as_packets_print_them(typed: str, expected: float | None) -> None:
    assert expected == number_typed(typed)
