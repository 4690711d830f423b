"""A change is written into the file of the formula: by as few lines as can be, with the file as it was beside it."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest

from advisor import load_knowledge, read_formula
from advisor.formula.writing.edited_text import with_changes
from advisor.formula.writing.weighed import as_weighed
from advisor.interface.commands.command_line import main

WET = "canteen-sandwich-loaf-excess-water"


def changed_lines(before: str, after: str) -> list[str]:
    made = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in made if line[:1] in "+-"]


@pytest.fixture
def wet(tmp_path: Path) -> Path:
    path = tmp_path / "wet.txt"
    text = load_knowledge().formulas[WET].read_text("utf-8")
    path.write_text(text.replace("240 g water", "240 g water  # from the tap\nStir it with 3 turns."))
    return path


@pytest.mark.parametrize("command", [("check",), ("diagnose", "--saw", "gummy_centre")])
def test_one_line_changes_and_the_rest_stays(wet: Path, command: tuple[str, ...], capsys) -> None:
    before = wet.read_text()
    main([command[0], str(wet), *command[1:], "--apply", "1", "--save"])
    made = changed_lines(before, wet.read_text())
    assert "- 240 g water  # from the tap" in made
    assert next(line for line in made if line.startswith("+")).endswith(" g water  # from the tap")
    assert len(made) == 2
    kept = wet.with_name("wet.txt.before-1")
    assert before == kept.read_text()
    assert capsys.readouterr().out == f"Written to {wet}; as it was: {kept}.\n"
    again = read_formula(wet.read_text())
    assert again.grams_of("water") < 240
    wet.write_text(before)
    main([command[0], str(wet), *command[1:], "--apply", "1", "--save"])
    assert before == wet.with_name("wet.txt.before-2").read_text() == kept.read_text()


def test_the_file_says_the_formula_that_would_be_printed(wet: Path, capsys) -> None:
    main(["check", str(wet), "--apply", "1"])
    printed = read_formula(capsys.readouterr().out)
    main(["check", str(wet), "--apply", "1", "--save"])
    found = as_weighed(read_formula(wet.read_text()))
    assert [(x.ingredient.id, x.grams) for x in printed.lines] == [
        (x.ingredient.id, x.grams) for x in found.lines
    ]
    assert printed.process == found.process


def test_amounts_in_a_sentence_are_written_anew_with_the_sentence_below(tmp_path: Path, capsys) -> None:
    path = tmp_path / "told.txt"
    told = (
        "Whisk 5 eggs with 240 g water and 30 g melted butter, then stir in 150 g vital wheat gluten, 60 g almond "
        "flour, 7 g instant yeast and 5 g salt. Knead 6 min. Bake 60 min at 175 C in a 23 x 10 x 10 cm tin."
    )
    path.write_text(told + "\n")
    assert main(["check", str(path), "--apply", "1", "--save"]) == 1
    assert f"# {told}" in path.read_text()
    found = read_formula(path.read_text())
    assert found.grams_of("water") < 240
    assert (found.process.bake_min, found.process.oven_c) == (60, 175)


@pytest.mark.parametrize("name", sorted(load_knowledge().formulas))
def test_any_change_of_a_demo_formula_can_be_written_into_it(name: str, knowledge) -> None:
    """An amount, a line less, a line more and another oven: the text then says just that."""
    from dataclasses import replace

    from advisor.formula.reading import report_on_text

    text = knowledge.formulas[name].read_text("utf-8")
    formula = read_formula(text)
    first, *rest = formula.lines
    more = replace(
        first,
        number=10_000,
        ingredient=knowledge.ingredients["poppy_seeds"],
        grams=12,
        counted=None,
        traits=(),
    )
    wanted = formula.with_lines(
        (replace(first, grams=first.grams + 7, counted=None), *rest[1:], more)
    ).with_process(oven_c=163.0)
    made = with_changes(text, formula, wanted, lambda one: report_on_text(one, knowledge))
    found = read_formula(made)
    assert {x.ingredient.id: round(found.grams_of(x.ingredient.id)) for x in wanted.lines} == {
        x.ingredient.id: round(wanted.grams_of(x.ingredient.id)) for x in found.lines
    }
    assert found.process.oven_c == pytest.approx(163)
    assert len(changed_lines(text, made)) <= 7
    assert "As it stood before" not in made


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("check", WET, "--apply", "1", "--save"), "a file of your own"),
        (("check", WET, "--save"), "name it too"),
        (("diagnose", WET, "--saw", "gummy_centre", "--save"), "name it too"),
        (("check", WET, WET, "--apply", "1", "--save"), "name one"),
    ],
)
def test_what_cannot_be_saved_is_one_line(words: tuple[str, ...], said: str, capsys) -> None:
    assert main(list(words)) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert said in err


def test_yaml_keeps_its_remarks(tmp_path: Path, capsys) -> None:
    path = tmp_path / "wet.yaml"
    main(["write", WET, "--as", "yaml"])
    path.write_text("# mine\n" + capsys.readouterr().out)
    main(["check", str(path), "--apply", "1", "--save"])
    assert path.read_text().startswith("# mine\nname: ")
    assert read_formula(path.read_text()).grams_of("water") < 240
