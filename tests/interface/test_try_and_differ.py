"""`advisor try` and `advisor differ`, and what stands beside the single changes."""

from __future__ import annotations

import json

import jsonschema
import pytest
from case_files import balanced_names

from advisor.interface.commands.command_line import main
from advisor.rendering.documents.schemas import schema_of

LOAF, WET = "canteen-sandwich-loaf", "canteen-sandwich-loaf-excess-water"


def said(capsys, *arguments):
    code = main(list(arguments))
    out = capsys.readouterr()
    return code, out.out, out.err


def document(capsys, *arguments):
    code, out, _ = said(capsys, *arguments, "--json")
    found = json.loads(out)
    jsonschema.validate(found, schema_of(found["kind"]))
    return code, found


def test_trying_a_cure_is_better_and_a_fault_is_worse(capsys):
    _, cure = document(capsys, "try", WET, "water -80 g")
    _, fault = document(capsys, "try", LOAF, "water +90 g")
    assert cure["burden"][1] < cure["burden"][0] - 0.5
    assert fault["burden"][1] > fault["burden"][0] + 0.5
    assert [{"what": "water", "unit": "g", "from": 240.0, "to": 160.0, "kitchen": "about 2/3 cup"}] == cure[
        "changes"
    ]


def test_try_and_differ_tell_the_same(capsys):
    _, tried = document(capsys, "try", LOAF, "water +90 g")
    _, apart = document(capsys, "differ", LOAF, WET)
    assert set(tried["measures"]) == set(apart["measures"])
    assert all(tried["measures"][n] == pytest.approx(apart["measures"][n]) for n in tried["measures"])
    assert tried["burden"] == pytest.approx(apart["burden"])
    assert ["water"] == [one["change"]["what"] for one in apart["singly"]]


def test_a_formula_differs_from_itself_in_nothing(capsys):
    code, found = document(capsys, "differ", LOAF, LOAF)
    assert 0 == code
    assert ([], {}, []) == (found["changes"], found["measures"], found["singly"])


@pytest.mark.parametrize(
    ("first", "second"), [(LOAF, "almond-egg-loaf"), ("psyllium-rolls", "rice-reference-loaf")]
)
def test_unlike_formulas_can_be_laid_side_by_side(first, second, capsys):
    code, out, err = said(capsys, "differ", first, second)
    assert (0, "") == (code, err)
    for head in ("CHANGED", "WHAT MOVES", "RISKS BEFORE THE BAKE", "WHAT EACH DIFFERENCE DOES ON ITS OWN"):
        assert head in out


def test_each_difference_alone_adds_up_to_a_known_whole(capsys):
    """Every difference is listed once: ingredients of both, and the process."""
    _, found = document(capsys, "differ", LOAF, "gluten-fibre-tin-loaf")
    names = [c["what"] for c in found["changes"]]
    assert len(names) == len(set(names))


def test_pages_fit_any_width(capsys, monkeypatch):
    for width in (40, 60, 80):
        monkeypatch.setenv("COLUMNS", str(width))
        for arguments in (("try", LOAF, "water +90 g", "oven 160 C"), ("differ", LOAF, WET)):
            _, out, _ = said(capsys, *arguments)
            assert all(len(line) <= width for line in out.splitlines())


def test_a_changed_formula_can_be_saved_and_checked(capsys, tmp_path):
    _, text, _ = said(capsys, "try", WET, "water -80 g", "--apply")
    path = tmp_path / "next.txt"
    path.write_text(text, "utf-8")
    code, out, _ = said(capsys, "check", str(path))
    assert 0 == code
    assert "Nothing looks wrong" in out


def test_a_proposal_can_be_saved_and_is_better(capsys, tmp_path):
    code, text, _ = said(capsys, "check", WET, "--apply", "1")
    assert 1 == code
    (tmp_path / "next.txt").write_text(text, "utf-8")
    _, found = document(capsys, "differ", WET, str(tmp_path / "next.txt"))
    assert found["burden"][1] < found["burden"][0]


def test_the_plan_of_several_amounts_can_be_saved(capsys, tmp_path):
    name = "psyllium-rolls-too-little-binder"
    _, text, _ = said(capsys, "check", name, "--apply", "together")
    (tmp_path / "next.txt").write_text(text, "utf-8")
    code, _, _ = said(capsys, "check", str(tmp_path / "next.txt"))
    assert 0 == code


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("try", LOAF, "water -900 g"), "only 150 g"),
        (("try", LOAF, "omit unicorn"), "there is no 'unicorn'"),
        (("try", LOAF, "? instead of unicorn"), "there is no 'unicorn'"),
        (("differ", LOAF, "no-such-loaf"), "no demo formula"),
        (("check", LOAF, "--apply", "1"), "no change '1'"),
        (("check", WET, "--apply", "99"), "no change '99'"),
        (("check", LOAF, "--apply", "together"), "no plan of several amounts"),
    ],
)
def test_what_cannot_be_is_one_line(arguments, words, capsys):
    code, out, err = said(capsys, *arguments)
    assert (2, "") == (code, out)
    assert words in err
    assert 1 == err.count("\n")


def test_a_stand_in_is_named_with_its_amounts(capsys):
    code, out, _ = said(capsys, "try", LOAF, "? instead of butter")
    assert 0 == code
    assert "add 24 g" in out, "30 g of butter have 24 g of fat"


def test_an_exchange_by_what_it_does_is_solved(capsys):
    """Coconut flour does the work of about four times its weight of almond flour (common practice, no source)."""
    _, found = document(capsys, "try", "almond-egg-loaf", "coconut flour instead of almond flour")
    come = next(c for c in found["changes"] if c["what"] == "coconut flour")
    gone = next(c for c in found["changes"] if c["what"] == "almond flour")
    assert 3 <= gone["from"] / come["to"] <= 6


def test_what_no_amount_can_match_is_said(capsys):
    _, out, _ = said(capsys, "try", "almond-egg-loaf", "coconut flour instead of almond flour")
    assert "No amount of it does this as well: filler ratio" in out


def test_all_of_it_has_the_plan_and_the_scales(capsys):
    name = "psyllium-rolls-too-little-binder"
    _, out, _ = said(capsys, "check", name, "--all", "--sensitivity")
    for head in (
        "SEVERAL AMOUNTS AT ONCE",
        "NOT SURE OF THE CAUSE?",
        "IF THIS DOUGH IS MIXED ALREADY",
        "IF THE SCALES ARE OFF",
    ):
        assert head in out


def test_json_holds_the_joint_plan(capsys):
    _, found = document(capsys, "check", "psyllium-rolls-too-little-binder")
    assert found["joint_plan"]["changes"]
    assert found["first_trial"]["expect"]
    assert found["rescues"]


@pytest.mark.parametrize("name", balanced_names())
def test_a_sound_formula_is_told_nothing_of_the_kind(name, capsys):
    _, found = document(capsys, "check", name)
    assert (None, None, []) == (found["joint_plan"], found["first_trial"], found["rescues"])


def test_a_raw_loaf_is_not_offered_to_the_toaster_without_a_word(capsys):
    _, found = document(capsys, "diagnose", LOAF, "--saw", "gummy_centre", "wet_base")
    toasted = [r for r in found["rescues"] if "toast" in r["says"]]
    assert all("71 C" in r["mind"] for r in toasted)


def test_no_sentence_stands_twice_on_a_page(capsys):
    for name in ("psyllium-rolls-too-little-binder", WET, "almond-egg-loaf-too-little-setting-protein"):
        _, out, _ = said(capsys, "check", name, "--all")
        text = " ".join(out.split())
        sentences = [s for s in text.split(". ") if len(s) > 45 and not s.startswith(("Risk", "Beside"))]
        assert [] == sorted({s for s in sentences if sentences.count(s) > 1})


def test_water_written_as_boiling_is_another_water(tmp_path, capsys):
    hot, cold = tmp_path / "hot.txt", tmp_path / "cold.txt"
    text = (
        "Rolls\n150 g almond flour\n30 g psyllium husk powder\n3 large egg whites\n250 g {}water\nslices: 5\n"
    )
    hot.write_text(text.format("boiling "), "utf-8")
    cold.write_text(text.format("") + "water temp: 30 C\n", "utf-8")
    assert 0 == main(["differ", str(hot), str(cold)])
    page = " ".join(capsys.readouterr().out.split())
    assert "water: as it is instead of boiling" in page
    assert "water temperature: 30 C, not stated before" in page
    assert "both are the same" not in page


def test_meat_stands_in_for_meat_alone(capsys):
    _, out, _ = said(capsys, "try", "canteen-sandwich-loaf", "? instead of whole egg", "--avoid", "egg")
    assert "whey protein" in out
    assert not {"beef", "chicken", "turkey"} & set(out.replace(";", " ").split())


def test_a_printed_change_is_tried_by_its_number(capsys):
    code, out, _ = said(capsys, "try", WET, "1", "--apply")
    assert (0, said(capsys, "check", WET, "--apply", "1")[1]) == (code, out)


def test_a_direction_without_an_amount_is_answered_with_the_amount_that_helps(capsys):
    code, _, err = said(capsys, "try", WET, "less water")
    assert 2 == code
    assert "how much less water? What helps this formula: 'water -95 g' (change 1" in err


def test_only_weights_are_written_in_grams(capsys):
    """A number of slices is no weight; a unit that no kitchen has stands once, beside the name."""
    _, out, _ = said(capsys, "differ", LOAF, "almond-egg-loaf", "--units", "us")
    assert "slices: 14 instead of 16 (2 less)" in out
    assert "oven: 340 F instead of 345 F\n" in out
    assert "gas in all, mL per 100 g" in out


def test_a_pipeline_can_fail_on_what_got_worse(capsys):
    sound, wet = "canteen-sandwich-loaf", "canteen-sandwich-loaf-excess-water"
    assert main(["differ", sound, wet, "--worse-fails"]) == 1
    assert main(["differ", wet, sound, "--worse-fails"]) == 0
    assert main(["differ", sound, sound, "--worse-fails", "--json"]) == 0
    assert main(["differ", sound, wet]) == 0
