"""A formula comes out again in every form, scaled by what the baker has: a pan, a dough, slices, loaves."""

from __future__ import annotations

import json
import re

import jsonschema
import pytest
from case_files import demo

from advisor.formula.reading import read_formula_text
from advisor.interface.commands.command_line import main
from advisor.rendering.documents.schemas import schema_of


def written(capsys, *words: str) -> str:
    assert 0 == main(["write", *words])
    shown = capsys.readouterr()
    assert not shown.err or "min in the oven in place of" in shown.err
    return shown.out


@pytest.mark.parametrize("form", ["text", "yaml"])
def test_what_is_written_reads_back(form, capsys, knowledge):
    formula = demo("canteen-sandwich-loaf")
    again = read_formula_text(written(capsys, "canteen-sandwich-loaf", "--as", form), knowledge)
    assert [(x.ingredient.id, x.grams) for x in formula.lines] == [
        (x.ingredient.id, x.grams) for x in again.lines
    ]
    assert formula.process == again.process


def test_dough_loaves_slices_and_pan_scale_every_line(capsys, knowledge):
    formula = demo("gluten-fibre-tin-loaf")
    for words, factor in (
        (("--dough", "1530"), 1530 / formula.dough_g),
        (("--loaves", "3"), 3.0),
        (("--slices", "8"), 0.5),
        (("--pan", "23 x 10 x 5 cm"), 0.5),
    ):
        again = read_formula_text(written(capsys, "gluten-fibre-tin-loaf", *words), knowledge)
        # Each line is rounded as a kitchen weighs it: at most half a gram a line.
        assert again.dough_g == pytest.approx(formula.dough_g * factor, abs=0.5 * len(formula.lines)), words
        assert not re.search(r"\.\d{3}", written(capsys, "gluten-fibre-tin-loaf", *words))


def test_the_dry_base_is_a_hundred_per_cent(capsys):
    page = written(capsys, "ordinary-wheat-tin-loaf", "--as", "percentages")
    row = next(line for line in page.splitlines() if line.startswith("bread flour"))
    assert "100.0" in row
    assert "63.0" in next(line for line in page.splitlines() if line.startswith("water"))


def test_a_label_goes_by_weight_and_marks_allergens(capsys):
    page = written(capsys, "canteen-sandwich-loaf", "--as", "label")
    page = " ".join(page.split())
    assert page.index("Whole egg (EGG)") < page.index("vital wheat gluten (WHEAT") < page.index("salt")
    assert "not for sale" in page
    assert page.index("EUROPEAN FORM") < page.index("FORM OF THE UNITED STATES") < page.index("BY CONVENTION")


@pytest.mark.parametrize("form", ["nutrition", "label"])
def test_what_it_holds_is_there_as_json(form, capsys):
    document = json.loads(written(capsys, "canteen-sandwich-loaf", "--as", form, "--json", "--loaves", "2"))
    jsonschema.validate(document, schema_of(form))
    held = document["nutrition"] if "nutrition" == form else document["label"]["nutrition"]
    assert 32 == held["pieces"]
    page = written(capsys, "canteen-sandwich-loaf", "--as", "nutrition")
    assert f"{held['per_100g']['protein']:.1f} g" in page


def test_other_forms_are_not_there_as_json(capsys):
    assert 2 == main(["write", "canteen-sandwich-loaf", "--json"])
    assert capsys.readouterr().err.startswith("advisor: --json goes with")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("psyllium-rolls", "--pan", "20 x 10 x 8 cm"), "pan"),
        (("canteen-sandwich-loaf", "--pan", "blue"), "cannot be read"),
        (("canteen-sandwich-loaf", "--pan", "rolls"), "no size"),
        (("canteen-sandwich-loaf", "--dough", "0"), "advisor"),
        (("no-such-loaf",), "no-such-loaf"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_line(words, said, capsys):
    assert 2 == main(["write", *words])
    shown = capsys.readouterr()
    assert "" == shown.out
    assert said in shown.err
    assert "Traceback" not in shown.err


def test_another_pan_is_never_baked_by_the_old_minutes(capsys, knowledge):
    formula = demo("ordinary-wheat-tin-loaf")
    small = read_formula_text(
        written(capsys, "ordinary-wheat-tin-loaf", "--pan", "16 x 9.5 x 6.5 cm"), knowledge
    )
    assert small.process.bake_min < 0.75 * formula.process.bake_min
    large = read_formula_text(written(capsys, "ordinary-wheat-tin-loaf", "--dough", "1700"), knowledge)
    assert large.process.bake_min > 1.2 * formula.process.bake_min
    main(["write", "ordinary-wheat-tin-loaf", "--pan", "16 x 9.5 x 6.5 cm"])
    assert "by the heat model" in capsys.readouterr().err


def test_the_same_loaf_more_often_bakes_as_before(capsys, knowledge):
    assert 0 == main(["write", "ordinary-wheat-tin-loaf", "--loaves", "3"])
    shown = capsys.readouterr()
    assert "" == shown.err
    assert 35 == read_formula_text(shown.out, knowledge).process.bake_min


DAY = ("canteen-sandwich-loaf", "--loaves", "40", "--batches", "3", "--oven-loads", "4", "--mixer", "spiral")


def test_a_day_is_planned_as_page_and_json(capsys):
    page = " ".join(written(capsys, *DAY).split())
    for said in (
        "40 loaves in 3 batches and 4 oven loads",
        "WEIGH FOR BATCH 1",
        "spiral mixer",
        "has waited",
        "Better: 4",
    ):
        assert said in page
    document = json.loads(written(capsys, *DAY, "--json"))
    jsonschema.validate(document, schema_of("scale-up"))
    assert 40 == sum(load["loaves"] for load in document["plan"]["loads"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--batches", "5", "--loaves", "3"), "no more batches than loaves"),
        (("--mixer", "blender"), "spiral mixer"),
        (("--batches", "2", "--loaves", "4", "--as", "yaml"), "leave out --as"),
        (("--dough-temp", "90"), "above 60 C"),
    ],
)
def test_a_day_that_cannot_be_is_refused_in_a_line(words, said, capsys):
    assert 2 == main(["write", "canteen-sandwich-loaf", *words])
    err = capsys.readouterr().err
    assert 1 == err.count("\n")
    assert said in err
