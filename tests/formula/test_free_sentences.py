"""Free sentences are kept and named; of the process they give what can be meant in one way alone, and say so."""

from __future__ import annotations

import re

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.process.steps import OvenStep, Rise
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
    ["20 g nosuch, whisk it in well", "sprinkle of nosuch", "nosuch: only 1 1/2 tsp!!", "30 g nosuch", "nosuch 30 g"],
)  # fmt: skip
def test_an_amount_of_what_is_not_known_asks_back(knowledge: Knowledge, line: str) -> None:
    with pytest.raises(FormulaFault) as caught:
        _read(knowledge, line)
    assert 4 == caught.value.problems[0].line


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("Bake at 350F for 1 hour, tent with foil after 35 min.",
         {"oven_c": 176.667, "bake_min": 60, "tented_at_min": 35}),
        ("Oven 180C / 160 fan / gas 4. Mix it all.", {"oven_c": 180}),
        ("Shape it, then bake 375 for 40 min.", {"oven_c": 190.556, "bake_min": 40}),
        ("Let it set. 400 degrees 13-16 min.", {"oven_c": 204.444, "bake_min": 14.5}),
        ("Bake for 40 minutes at 180C, on the low shelf.", {"oven_c": 180, "bake_min": 40}),
        ("Stir well. 170C fan 55 mins.", {"oven_c": 170, "oven_fan": True, "bake_min": 55}),
        ("Bake at 350°F (175°C) until golden, 30-40 min.", {"oven_c": 176.667, "bake_min": 35}),
        ("Preheat the oven to 230C.\nBake at 200C for 30 min, no more.",
         {"oven_c": 200, "bake_min": 30, "preheat_c": 230}),
        ("Mix and knead for about 8 min.", {"mix_min": 8}),
        ("Cover and let rise until doubled, 60-70 minutes.",
         {"proof_min": 65, "proofs": (Rise(minutes=65, until="doubled"),)}),
        ("Cover. Prove 60 min at 27 C, then score.", {"proof_min": 60, "proof_c": 27}),
        ("Mix, rest 1 hr (or overnight), press in a lined 1lb loaf tin.",
         {"rest_min": 60, "pan_kind": "tin", "pan_length_cm": 17, "pan_width_cm": 10, "pan_height_cm": 7}),
        ("Press it in a 9 x 5 inch tin.",
         {"pan_kind": "tin", "pan_length_cm": 22.9, "pan_width_cm": 12.7, "pan_height_cm": 7}),
        ("Spread it in a 9 x 13 pan.", {"pan_kind": "flat", "pan_length_cm": 33, "pan_width_cm": 22.9}),
        ("Line a 30 x 11 x 8 cm loaf tin.",
         {"pan_kind": "tin", "pan_length_cm": 30, "pan_width_cm": 11, "pan_height_cm": 8}),
        ("Put it in a loaf pan.", {"pan_kind": "tin"}),
        ("Divide into 6 small rolls and bake.", {"pan_kind": "rolls", "slices": 6, "pieces": 6}),
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
        exact = isinstance(value, str | bool | tuple)
        assert (value if exact else pytest.approx(value, rel=1e-4)) == found[field]
    assert any("taken as" in said for said in formula.assumed)


@pytest.mark.parametrize(
    ("text", "absent", "warning"),
    [
        ("Bake 180C for 15 mins.\nBake at 220C for 40 mins.", "bake_min", "differ"),
        ("For sticks bake 200C 13 min. For crackers bake 180C 16 min.", "oven_c", "differ"),
        ("Proof the yeast in water 10 min.", "proof_min", ""),
        ("Bake it well. Let it rest 20 min.", "rest_min", ""),
        ("Let it rest 20 min before slicing.", "rest_min", ""),
        ("Turn the oven off and leave it in there 20 min.", "bake_min", "'20 min' is not taken"),
        ("Ten minutes later it fell by 3 cm.", "proof_min", "'3 cm' is not taken"),
        ("Nutrition\nI baked it at 350F for 1 hour.", "oven_c", "under a heading of the method and not read"),
        ("Pour the rest over 1 cup water and wait for a good while.", "rest_min", "('1 cup water' in it"),
    ],
)
def test_what_can_mean_more_is_left_and_said(
    knowledge: Knowledge, text: str, absent: str, warning: str
) -> None:
    formula = _read(knowledge, text)
    assert getattr(formula.process, absent) is None
    assert not warning or any(warning in said for said in formula.warnings), formula.warnings


def test_process_line_wins_over_a_sentence(knowledge: Knowledge) -> None:
    formula = _read(knowledge, "Bake it at 350F for 1 hour.\noven: 160 C for 75 min")
    assert (160, 75) == (formula.process.oven_c, formula.process.bake_min)
    assert any(
        "'350F for 1 hour' is not used; oven: 160 C for 75 min is" in said for said in formula.warnings
    )


def test_formula_told_in_one_sentence(knowledge: Knowledge) -> None:
    text = "so its 2 cups almond flour, 3 eggs, 1 tsp salt and 2 tbsp butter. mix, then bake 350 for 40 min"
    formula = read_formula_text(text, knowledge)
    assert ["almond_flour", "whole_egg", "salt", "butter"] == [line.ingredient.id for line in formula.lines]
    assert 40 == formula.process.bake_min


def test_formula_told_in_one_sentence_leaves_no_amount_out(knowledge: Knowledge) -> None:
    told = "its 2 cups almond flour, 1 tsp salt, 3 eggs and 2 cups zorblax, mixed well"
    report = report_on_text(told, knowledge)
    assert report.formula is None
    assert ["zorblax" in problem.what for problem in report.problems] == [True]
    assert report.rest is not None
    assert 3 == len(report.rest.lines)


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


_AT = "oven_steps"


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("Bake 220C for 15 mins then 200C for 20.",
         {_AT: (OvenStep(celsius=220, minutes=15), OvenStep(celsius=200, minutes=20))}),
        ("Into a 200C oven for 10 min, turn down to 170C and give it another half an hour.",
         {_AT: (OvenStep(celsius=200, minutes=10), OvenStep(celsius=170, minutes=30))}),
        ("Bake 25 minutes lid on and 20 lid off at 230C.",
         {_AT: (OvenStep(celsius=230, minutes=25, lid=True), OvenStep(celsius=230, minutes=20, lid=False))}),
        ("Bake 170C 55 mins, turn out, another 10 mins.",
         {_AT: (OvenStep(celsius=170, minutes=55), OvenStep(celsius=170, minutes=10))}),
        ("Bake at 180C for 30 min, cover with foil, 15 min more.", {"tented_at_min": 30, "bake_min": 45}),
        ("Bake one hour at 350.", {"oven_c": 176.667, "bake_min": 60}),
        ("bake at 200 for 40 min, not a minute longer", {"oven_c": 200, "bake_min": 40}),
        ("Preheat 230C. Bake 12 minutes, drop to 200C and bake 20 more.",
         {_AT: (OvenStep(celsius=230, minutes=12), OvenStep(celsius=200, minutes=20))}),
        ("Bake at 220C for 10 min then 180C for 45, lid off for the last 15.",
         {_AT: (OvenStep(celsius=220, minutes=10), OvenStep(celsius=180, minutes=30),
                OvenStep(celsius=180, minutes=15, lid=False))}),
        ("Two rises: 2 hours, then 50 minutes in the tin.", {"proofs": (Rise(minutes=120), Rise(minutes=50))}),
        ("Gas mark 4 for three quarters of an hour.", {"oven_c": 176.667, "bake_min": 45}),
        ("Into a cold oven, bake 180C 50 min.", {"cold_start": True, "bake_min": 50}),
        ("Knead 5 min.\nThen knead it again 10 min.", {"mixes": (5, 10), "mix_min": 15}),
        ("Rise 1 hr, shape, rise 40 min.", {"proofs": (Rise(minutes=60), Rise(minutes=40)), "proof_min": 40}),
        ("Prove for an hour and a quarter at 26C. Second prove: 45 mins at 30C.",
         {"proofs": (Rise(minutes=75, celsius=26), Rise(minutes=45, celsius=30))}),
        ("Into the fridge for 16 hours at 4 C, then 1 hour on the counter.", {"proof_min": 60}),
        ("The dough was 27 C off the hook, kitchen about 19 C.", {"dough_measured_c": 27, "room_c": 19}),
        ("Desired dough temp is 78F.", {"dough_wanted_c": 25.556}),
        ("Bake till it is 96C inside.", {"target_core_c": 96}),
        ("The middle was 88C when I pulled it.", {"core_measured_c": 88}),
        ("Boil them 30 seconds a side, then bake 230C 15 min.", {"boil_min": 1, "bake_min": 15}),
        ("Steam 12 minutes over a pan of water.", {"steam_min": 12}),
        ("Cook on a dry griddle, 90 seconds each side.", {"griddle_side_min": 1.5}),
        ("Roll out 3 mm thick and bake 200C 12 min.", {"thickness_cm": 0.3}),
        ("Divide into 8 pieces of 95 g each.", {"pieces": 8, "piece_g": 95}),
        ("Leave in the tin for 10 minutes, then 2 hours on a rack before slicing.",
         {"cooled_in_pan_min": 10, "sliced_after_min": 120}),
        ("We sliced it straight away.", {"sliced_after_min": 0}),
        ("Keeps 4 days in the fridge.", {"stored_min": 5760}),
        ("The loaf weighed 820 g out of the oven and stood 9 cm tall.", {"weight_after_g": 820, "height_after_cm": 9}),
        ("We live at 1500 m.", {"altitude_m": 1500}),
        ("Bake in a 10 inch springform at 180C for 40 min.", {"pan_kind": "round", "pan_length_cm": 25.4}),
        ("Pour it into a 12-cup muffin tin.", {"pan_cups": 12}),
        ("Whip the whites to stiff peaks.", {"whites_whipped": True}),
        ("Nuke it for 90 secs.", {"microwave_min": 1.5}),
    ],
)  # fmt: skip
def test_sentence_gives_all_its_numbers(knowledge: Knowledge, text: str, fields: dict[str, object]) -> None:
    formula = _read(knowledge, text)
    for field, value in fields.items():
        found = getattr(formula.process, field)
        exact = isinstance(value, str | bool | tuple)
        assert (value if exact else pytest.approx(value, rel=1e-4)) == found, (field, formula.warnings)


@pytest.mark.parametrize(
    "text", ["Fridge 14 hours then bake 230C 40 min.", "Add the baking powder, then rest 10 min."]
)
def test_a_number_has_one_meaning_alone(knowledge: Knowledge, text: str) -> None:
    process = _read(knowledge, text).process
    assert (process.stored_min, process.mix_min, process.bake_min in (None, 40)) == (None, None, True)


@pytest.mark.parametrize(
    ("line", "grams"),
    [
        ("add 20 g butter", {"butter": 20}),
        ("Then whisk in 30 g butter and a pinch of salt.", {"butter": 30}),
        ("60 g butter rubbed in", {"butter": 60}),
        ("30 g butter. Stir, stand 15 mins till soft", {"butter": 30}),
        ("Wet: 2 eggs, 250 g cottage cheese blended smooth, 30 g butter.", {"butter": 30, "cottage_cheese": 250}),
        ("20 g oat fibre, soaked in 40 g milk", {"oat_fibre": 20, "whole_milk": 40}),
    ],
)  # fmt: skip
def test_an_amount_in_prose_counts_where_no_line_gives_it(
    knowledge: Knowledge, line: str, grams: dict[str, float]
) -> None:
    formula = _read(knowledge, line)
    assert grams == {name: formula.grams_of(name) for name in grams}


@pytest.mark.parametrize(
    "line",
    ["tyre: 25 x 10 cm", "Serves 8", "pepper to taste", "What I used (spoons of 20 ml, before anyone asks!)",
     "Weight out: 688 g",
     "Two paper-lined tins 20 x 10 x 7 cm, 360 g each.", "Should I add 100 g butter next time?",
     "egg wash (1 egg, used maybe half)", "14 slices, each about 40g."],
)  # fmt: skip
def test_what_is_no_ingredient_is_never_a_fault(knowledge: Knowledge, line: str) -> None:
    before = _read(knowledge, "It went well.")
    formula = _read(knowledge, line)
    assert len(before.lines) == len(formula.lines)


@pytest.mark.parametrize(
    "sentence", ["Leave 7 there.", "It stood at 55 somewhere, by 12.", "Bake 33 and 44 in it."]
)
def test_a_number_of_the_method_has_a_home_or_is_listed(knowledge: Knowledge, sentence: str) -> None:
    formula = _read(knowledge, sentence)
    told = " ".join((*formula.warnings, *formula.assumed))
    assert all(f"'{number}" in told or f" {number}" in told for number in re.findall(r"[0-9]+", sentence))


@pytest.mark.parametrize(
    ("told", "number"),
    [
        ("grind at 380 C", "380 C"),
        ("let it rest for 400 hours", "400 hours"),
        ("we live at 16000 m altitude", "16000 m"),
        ("pat it out 0 cm thick", "0 cm"),
    ],
)
def test_a_sentence_takes_no_number_that_a_line_of_its_own_would_refuse(
    told: str, number: str, knowledge: Knowledge
) -> None:
    formula = _read(knowledge, f"Loaf\n200 g almond flour\n150 g water\n{told}")
    process = formula.process
    assert (None, None, None) == (process.oven_c, process.rest_min, process.altitude_m)
    assert any(f"'{number}' is not taken" in said for said in formula.warnings)
