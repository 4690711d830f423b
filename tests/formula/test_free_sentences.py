"""Free sentences are kept and named; of the process they give what can be meant in one way alone, and say so."""

from __future__ import annotations

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text, report_on_text
from advisor.knowledge_base.knowledge import Knowledge

_TOP = "Seed loaf\n100 g vital wheat gluten\n90 g water\n"


def _read(knowledge: Knowledge, text: str) -> Formula:
    return read_formula_text(_TOP + text, knowledge)


@pytest.mark.parametrize(
    "sentence",
    [
        "Whisk the dry things together.",
        "stir in a greased bowl, wait a moment & toast",
        "Everything into the bowl, then scrape it down again.",
        "butter the tin well",
        "Then gently fold it in",
        "This one keeps well in the box for days.",
        "Don't open the door before the time is up!",
    ],
)
def test_sentence_is_kept_and_named(knowledge: Knowledge, sentence: str) -> None:
    report = report_on_text(_TOP + sentence, knowledge)
    assert (4,) == report.numbers("comment")
    assert any(w.startswith("line 4 is not read: '") for w in report.required().warnings)


@pytest.mark.parametrize(
    "line",
    ["nosuch flour, sifted and mixed", "kneed 5 min", "add 20 g butter", "20 g nosuch, whisk it in well",
     "ovn: 175 C for 70 min", "nosuch flour", "sprinkle of nosuch"],
)  # fmt: skip
def test_what_could_be_an_ingredient_or_a_process_line_stays_a_problem(
    knowledge: Knowledge, line: str
) -> None:
    with pytest.raises(FormulaFault) as caught:
        _read(knowledge, line)
    assert 4 == caught.value.problems[0].line


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("Bake at 350F for 1 hour, tent with foil after 35 min.", {"oven_c": 176.667, "bake_min": 60}),
        ("Oven 180C / 160 fan / gas 4. Mix it all.", {"oven_c": 180}),
        ("Shape it, then bake 375 for 40 min.", {"oven_c": 190.556, "bake_min": 40}),
        ("Let it set. 400 degrees 13-16 min.", {"oven_c": 204.444, "bake_min": 14.5}),
        ("Bake for 40 minutes at 180C, on the low shelf.", {"oven_c": 180, "bake_min": 40}),
        ("Stir well. 170C fan 55 mins.", {"oven_c": 170, "oven_fan": True, "bake_min": 55}),
        ("Bake at 350°F (175°C) until golden, 30-40 min.", {"oven_c": 176.667, "bake_min": 35}),
        ("Preheat the oven to 230C.\nBake at 200C for 30 min, no more.", {"oven_c": 200, "bake_min": 30}),
        ("Mix and knead for about 8 min.", {"mix_min": 8}),
        ("Cover and let rise until doubled, 60-70 minutes.", {"proof_min": 65}),
        ("Cover. Prove 60 min at 27 C, then score.", {"proof_min": 60, "proof_c": 27}),
        ("Mix, rest 1 hr (or overnight), press in a lined 1lb loaf tin.",
         {"rest_min": 60, "pan_kind": "tin", "pan_length_cm": 16, "pan_width_cm": 9.5, "pan_height_cm": 6.5}),
        ("Press it in a 9 x 5 inch tin.",
         {"pan_kind": "tin", "pan_length_cm": 22.9, "pan_width_cm": 12.7, "pan_height_cm": 7}),
        ("Spread it in a 9 x 13 pan.", {"pan_kind": "flat", "pan_length_cm": 33, "pan_width_cm": 22.9}),
        ("Line a 30 x 11 x 8 cm loaf tin.",
         {"pan_kind": "tin", "pan_length_cm": 30, "pan_width_cm": 11, "pan_height_cm": 8}),
        ("Put it in a loaf pan.", {"pan_kind": "tin"}),
        ("Divide into 6 small rolls and bake.", {"pan_kind": "rolls", "slices": 6}),
        ("Turn it out. Makes 12 slices.", {"slices": 12}),
        ("Bake 40 min, then cool in the tin for 10 min.", {"bake_min": 40, "cooled_in_pan_min": 10}),
        ("Method\nWhisk it.\nBake at 180 C for 45 min.", {"oven_c": 180, "bake_min": 45}),
    ],
)  # fmt: skip
def test_process_is_read_where_it_can_mean_one_thing(
    knowledge: Knowledge, text: str, fields: dict[str, object]
) -> None:
    formula = _read(knowledge, text)
    process = formula.process
    found = {k: v for k in process.__slots__ if (v := getattr(process, k)) not in (None, ())}
    assert set(fields) == set(found)
    for field, value in fields.items():
        exact = isinstance(value, str | bool)
        assert (value if exact else pytest.approx(value, rel=1e-4)) == found[field]
    assert any("taken as" in said for said in formula.assumed)


@pytest.mark.parametrize(
    ("text", "absent", "warning"),
    [
        ("Put it in and bake at 200 for 40 min.", "oven_c", "'200' has no C or F"),
        ("Bake 220C for 15 mins then 200C for 20.", "bake_min", "more than one oven temperature"),
        ("Rise 1 hr, shape, rise 40 min.", "proof_min", "rises more than once"),
        ("Rise 75 min. Shape it, 45 min more.", "proof_min", "rises more than once"),
        ("Proof the yeast in water 10 min.", "proof_min", "is not read"),
        ("Bake it well. Let it rest 20 min.", "rest_min", "is not read"),
        ("Let it rest 20 min before slicing.", "rest_min", "is not read"),
        ("Notes\nI baked it at 350F for 1 hour.", "oven_c", "under a heading of the method and not read"),
        ("Knead 5 min.\nThen knead it again 10 min.", "proof_min", "differ"),
        ("Bake 170C 55 mins, turn out, another 10 mins.", "rest_min", "'another 10 mins' behind the bake"),
        ("Pour the rest over 1 cup water and wait for a good while.", "rest_min", "('1 cup water' in it"),
    ],
)
def test_what_can_mean_more_is_left_and_said(
    knowledge: Knowledge, text: str, absent: str, warning: str
) -> None:
    formula = _read(knowledge, text)
    assert getattr(formula.process, absent) is None
    assert any(warning in said for said in formula.warnings), formula.warnings


def test_process_line_wins_over_a_sentence(knowledge: Knowledge) -> None:
    formula = _read(knowledge, "Bake it at 350F for 1 hour.\noven: 160 C for 75 min")
    assert (160, 75) == (formula.process.oven_c, formula.process.bake_min)
    assert any("'350F for 1 hour' is not used; oven: 160 C is" in said for said in formula.warnings)


def test_formula_told_in_one_sentence(knowledge: Knowledge) -> None:
    text = "so its 2 cups almond flour, 3 eggs, 1 tsp salt and 2 tbsp butter. mix, then bake 350 for 40 min"
    formula = read_formula_text(text, knowledge)
    assert ["almond_flour", "whole_egg", "salt", "butter"] == [line.ingredient.id for line in formula.lines]
    assert 40 == formula.process.bake_min


def test_formula_told_in_one_sentence_leaves_no_amount_out(knowledge: Knowledge) -> None:
    with pytest.raises(FormulaFault, match="no ingredient is called"):
        read_formula_text(
            "its 2 cups almond flour, 1 tsp salt, 3 eggs and 2 cups zorblax, mixed well", knowledge
        )


def test_long_paragraph_is_a_sentence_and_a_long_line_is_not(knowledge: Knowledge) -> None:
    long = "Whisk the dry things together. " * 15
    assert any("line 4 is not read" in said for said in _read(knowledge, long).warnings)
    with pytest.raises(FormulaFault, match="more than 300"):
        _read(knowledge, "nosuch " * 60)


@pytest.mark.parametrize(
    ("title", "slices", "loaves", "kind"),
    [
        ("Psyllium burger buns, makes 6", 6, None, "rolls"),
        ("SEED ROLLS (makes 8)", 8, None, "rolls"),
        ("Plain loaf (makes 2 loaves)", None, 2, None),
        ("Plain loaf - makes 2", None, 2, None),
        ("Plain loaf, makes 12", 12, None, None),
        ("Plain loaf (2lb tin)", None, None, "tin"),
    ],
)
def test_title_says_what_comes_of_it(
    knowledge: Knowledge, title: str, slices: int | None, loaves: int | None, kind: str | None
) -> None:
    formula = read_formula_text(f"{title}\n100 g vital wheat gluten", knowledge)
    assert title == formula.name
    assert (slices, loaves, kind) == (
        formula.process.slices, formula.process.loaves, formula.process.pan_kind,
    )  # fmt: skip
