"""Process lines: each key, its units, and what is said of a wrong value."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula.writing.as_yaml import write_formula_yaml
from advisor.formula.writing.weighed import as_read_off

Read = Callable[..., Formula]


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("slices: 16", {"slices": 16}),
        ("Slices : 16 slices", {"slices": 16}),
        ("loaves: 2", {"loaves": 2}),
        (
            "pan: 25 x 10 x 10 cm",
            {"pan_kind": "tin", "pan_length_cm": 25, "pan_width_cm": 10, "pan_height_cm": 10},
        ),
        ("pan: 9 × 5 × 3 in", {"pan_kind": "tin", "pan_length_cm": 22.86, "pan_height_cm": 7.62}),
        ('pan: 9" by 5" by 3"', {"pan_kind": "tin", "pan_width_cm": 12.7}),
        (
            "pan: round 20 x 8 cm",
            {"pan_kind": "round", "pan_length_cm": 20, "pan_width_cm": 20, "pan_height_cm": 8},
        ),
        ("pan: free-standing", {"pan_kind": "free_standing", "pan_length_cm": None}),
        ("pan: rolls", {"pan_kind": "rolls"}),
        ("pan: flat", {"pan_kind": "flat"}),
        ("pan material: dark metal", {"pan_material": "dark metal"}),
        ("mix: 6 min", {"mix_min": 6}),
        ("water temp: 32 C", {"water_c": 32}),
        ("water temp: 90 °F", {"water_c": 32.2222}),
        ("added last: vinegar", {"added_last": "cider vinegar"}),
        ("added last: acid", {"added_last": "cider vinegar"}),
        ("whites: whipped", {"whites_whipped": True}),
        ("whites: not whipped", {"whites_whipped": False}),
        ("rest: 1 h 15 min", {"rest_min": 75}),
        ("rest: 1h15", {"rest_min": 75}),
        ("rest: 1 1/2 hours", {"rest_min": 90}),
        ("proof: 60 min at 27 C", {"proof_min": 60, "proof_c": 27}),
        ("proof: 12 hours at 4 C", {"proof_min": 720, "proof_c": 4}),
        ("proof: 50-70 min", {"proof_min": 60, "proof_c": None}),
        ("oven: 175 C for 70 min", {"oven_c": 175, "bake_min": 70, "oven_fan": None}),
        ("oven: 350 F, fan, 1 h 10 min", {"oven_c": 176.6667, "bake_min": 70, "oven_fan": True}),
        ("oven: 175 C for 70 min, no fan", {"oven_fan": False}),
        ("oven: 175,5 C for 70 min", {"oven_c": 175.5}),
        ("oven: 175 C for 70 min from cold", {"oven_c": 175, "bake_min": 70, "cold_start": True}),
        ("oven: cold oven, 175 C for 70 min, fan", {"cold_start": True, "oven_fan": True}),
        ("oven: 175 C, cold start", {"cold_start": True, "bake_min": None}),
        ("oven: 175 C for 70 min, preheated", {"cold_start": False}),
        ("oven: 175 C for 70 min", {"cold_start": None}),
        ("oven runs: 15 C cool", {"oven_offset_c": -15}),
        ("oven runs: 10 C hot", {"oven_offset_c": 10}),
        ("oven runs: -15 C", {"oven_offset_c": -15}),
        ("oven runs: +10 C", {"oven_offset_c": 10}),
        ("oven runs: 25 F cool", {"oven_offset_c": -13.88889}),
        ("oven runs: 25 F below its dial", {"oven_offset_c": -13.88889}),
        ("oven runs: true", {"oven_offset_c": 0}),
        ("opened at: 40 min", {"opened_at_min": 40, "opened_for_s": None}),
        ("opened at: 40 min for 30 s", {"opened_at_min": 40, "opened_for_s": 30}),
        ("opened at: 40 min for 1 min", {"opened_at_min": 40, "opened_for_s": 60}),
        ("tented at: 40 min", {"tented_at_min": 40}),
        (
            "pan: muffin tin 12 x 7 cm",
            {"pan_kind": "round", "pan_cups": 12, "pan_width_cm": 7, "pan_height_cm": None},
        ),
        ("pan: muffin tin 12x7x4 cm", {"pan_cups": 12, "pan_length_cm": 7, "pan_height_cm": 4}),
        ("pan: muffin tin, 6 cups of 3 in", {"pan_cups": 6, "pan_width_cm": 7.62}),
        ("pan: flat 2 cm", {"pan_kind": "flat", "pan_height_cm": 2, "pan_width_cm": None}),
        ("pan material: Glass dish", {"pan_material": "glass"}),
        ("pan material: stoneware", {"pan_material": "ceramic"}),
        ("pan material: non-stick steel", {"pan_material": "dark metal"}),
        ("pan material: bright tin", {"pan_material": "shiny metal"}),
        ("pan material: aluminium", {"pan_material": "metal"}),
        ("pan material: silicone", {"pan_material": "silicone"}),
        ("pan material: cast-iron pot", {"pan_material": "cast iron"}),
        ("probed at: 45 min", {"probed_at_min": 45}),
        ("target core: 94 C", {"target_core_c": 94}),
        ("core measured: 88 C", {"core_measured_c": 88}),
        ("cooled in pan: 20 min", {"cooled_in_pan_min": 20}),
        ("sliced after: 60 min", {"sliced_after_min": 60}),
        ("altitude: 1600 m", {"altitude_m": 1600}),
        ("altitude: 5250 ft", {"altitude_m": 1600.2}),
        ("kind: bagel", {"kind": "bagel"}),
        ("pieces: 8", {"pieces": 8, "slices": None}),
        ("piece weight: 3 oz each", {"piece_g": 85.0486}),
        ("thickness: 5 mm", {"thickness_cm": 0.5}),
        ('thickness: 1/8"', {"thickness_cm": 0.3175}),
        ("baked on: stone", {"baked_on": "stone"}),
        ("room temp: 70 F", {"room_c": 21.1111}),
        ("mixer: by hand", {"mixer": "by hand"}),
        ("mix: 4 min, then 6 min", {"mixes": (4, 6), "mix_min": 10}),
        ("target dough temp: 26 C", {"dough_wanted_c": 26, "dough_measured_c": None}),
        ("dough temp: 26 C", {"dough_measured_c": 26, "dough_wanted_c": None}),
        ("starter: fed 6 h ago", {"starter": "fed 6 h ago"}),
        ("rest: 45 min, then 20 min", {"rests": (45, 20), "rest_min": 65}),
        ("boil: 90 s", {"boil_min": 1.5}),
        ("steam: 12 min", {"steam_min": 12}),
        ("griddle: 2 min a side", {"griddle_side_min": 2}),
        ("griddle: 200 C, 90 sec per side", {"griddle_side_min": 1.5, "griddle_c": 200}),
        ("microwave: 90 seconds", {"microwave_min": 1.5}),
        ("preheat: 250 C", {"preheat_c": 250, "oven_c": None}),
        ("oven: gas mark 4 for 50 min", {"oven_c": 176.6667, "bake_min": 50}),
        ("oven: 350 for 50 min", {"oven_c": 176.6667, "bake_min": 50}),
        ("oven: 180 for 50 min", {"oven_c": 180, "bake_min": 50}),
        ("bake: 180 C for 50 min", {"oven_c": 180, "bake_min": 50}),
        ("cooled in: upside down", {"cooled_in": "upside down"}),
        ("weight after: 720 g", {"weight_after_g": 720}),
        ("height after: 4 in", {"height_after_cm": 10.16}),
        ("stored: 3 days in a tin", {"stored_min": 4320, "stored": "in a tin"}),
        ("fridge: 4 C for 8 h", {"proof_c": 4, "proof_min": 480}),
    ],
)
def test_key_gives_fields(read: Read, text: str, fields: dict[str, object]) -> None:
    process = read(f"100 g water\n10 g cider vinegar\n{text}").process
    for field, expected in fields.items():
        found = getattr(process, field)
        assert (pytest.approx(expected, rel=1e-5) if isinstance(expected, int | float) else expected) == found


@pytest.mark.parametrize(
    ("text", "column", "what", "do"),
    [
        ("slices: many", 9, "cannot be read", "slices: 16"),
        ("slices: 3.5", 9, "no whole number", "slices: 16"),
        ("slices: 0", 9, "no whole number", "slices: 16"),
        ("pan: 25 x 10 x 90", 6, "no unit", "25 x 10 x 10 cm"),
        ("pan: 900 x 10 x 10 cm", 6, "between 1 and 200", "cm"),
        ("oven: 75", 7, "cannot be read", "oven: 175 C for 70 min"),
        ("oven: 1750 C for 70 min", 7, "not between 60 and 350", "175 C"),
        ("oven: 175 C then gently", 18, "cannot be read", "175 C for 70 min"),
        ("lid: 25 min", 6, "cannot be read", "on 25 min, off 15 min"),
        ("thickness: 3 m", 12, "no unit", "5 mm"),
        ("piece weight: much", 15, "cannot be read", "90 g"),
        ("oven runs: 15 C", 12, "hot or cool is not said", "15 C cool"),
        ("oven runs: -15 C cool", 12, "once too many", "15 C cool"),
        ("oven runs: 90 C cool", 12, "more than 60 C off", "15 C cool"),
        ("opened at: 40 min for 20 min", 19, "not between 1 and 600 s", "for 30 s"),
        ("tented at: foil", 12, "cannot be read", "tented at: 40 min"),
        ("pan: muffin tin", 6, "a number of cups", "muffin tin 12 x 7 cm"),
        ("pan: 7 cm", 6, "a length, a width and a height", "25 x 10 x 10 cm"),
        ("proof: warmly", 8, "cannot be read", "60 min at 27 C"),
        ("rest: 2 weeks", 7, "not between 0 and", "rest: 15 min"),
        ("rest: 900 hours", 7, "not between 0 and", "rest: 15 min"),
        ("water temp: 32", 13, "cannot be read", "C or F"),
        ("water temp: -40 C", 13, "not between", "C or F"),
        ("whites: maybe", 9, "cannot be read", "whipped"),
        ("altitude: 5,250 ft", 11, "5250 or 5", "write 5250"),
        ("added last: sugar", 13, "no ingredient of this formula", "water, cider vinegar"),
        ("mix:", 1, "says nothing", "mix: 6 min"),
    ],
)
def test_wrong_value_says_what_was_expected(read: Read, text: str, column: int, what: str, do: str) -> None:
    with pytest.raises(FormulaFault) as caught:
        read(f"100 g water\n10 g cider vinegar\n{text}")
    (problem,) = caught.value.problems
    assert 3 == problem.line
    assert what in problem.what
    assert do in problem.do
    if problem.column != 1:
        assert column == problem.column


def test_repeated_key_names_the_first_line(read: Read) -> None:
    with pytest.raises(FormulaFault, match=r"^formula:3:1: 'mix' stands already on line 2; keep one"):
        read("100 g water\nmix: 6 min\nMix: 8 min")


def test_unknown_material_is_kept_and_the_known_ones_are_named(read: Read) -> None:
    formula = read("100 g water\npan material: bamboo")
    assert "bamboo" == formula.process.pan_material
    (said,) = [said for said in formula.assumed if "bamboo" in said]
    for known in ("glass", "ceramic", "silicone", "cast iron", "dark metal", "shiny metal"):
        assert known in said


@pytest.mark.parametrize(
    "text",
    [
        "oven: 175 C for 70 min, fan, from cold",
        "oven: 175 C, preheated",
        "oven runs: 25 F cool",
        "oven runs: true",
        "opened at: 40 min for 30 s",
        "tented at: 40 min",
        "pan: muffin tin 12 x 7 cm",
        "pan: muffin tin 12 x 7 x 4 cm",
        "pan: flat 2 cm",
        "pan material: cast iron",
        "oven: 425 F for 10 min then 350 F for 45 min, fan",
        "oven: 230 C for 20 min with lid and steam, then 22 min without lid",
        "oven: 230 C with steam, then 200 C for 20 min",
        "proof: 45 min at 28 C, then 12 h at 4 C in the fridge, then until doubled",
        "proof: 40 min somewhere warm until it reaches the rim",
        "mix: 4 min, then 6 min",
        "rest: 45 min, then 20 min",
        "kind: bagel\npieces: 8\npiece weight: 92 g\nthickness: 3 mm\nbaked on: hot stone\nroom temp: 64 F",
        "mixer: by hand\ntarget dough temp: 26 C\ndough temp: 28.5 C\nstarter: fed 6 h ago, doubled",
        "boil: 90 s\nsteam: 12 min\ngriddle: 2 min a side at 200 C\nmicrowave: 90 s\npreheat: 250 C",
        "cooled in: upside down\nweight after: 744 g\nheight after: 11.2 cm\nstored: 4 days in the fridge",
        "stored: in a bag",
    ],
)
@pytest.mark.parametrize("write", [write_formula_text, write_formula_yaml], ids=["text", "yaml"])
def test_oven_and_pan_read_back(read: Read, write: Callable[[Formula], str], text: str) -> None:
    first = read(f"100 g water\n{text}")
    assert read(write(first)).process == as_read_off(first.process)
    assert read(write_formula_text(first, exact=True)).process == first.process
    assert first.process != read("100 g water").process


def test_steps_give_the_single_numbers_that_the_models_use(read: Read) -> None:
    process = read(
        "100 g water\noven: 220 C for 10 min, then 180 C for 30 min\nproof: 30 min at 28 C, then 55 min at 32 C"
    ).process
    assert (190, 40) == (pytest.approx(process.oven_c), process.bake_min)
    assert (55, 32) == (process.proof_min, process.proof_c)
    assert [(220, 10), (180, 30)] == [(s.celsius, s.minutes) for s in process.bakes]
    assert [(30, 28), (55, 32)] == [(r.minutes, r.celsius) for r in process.rises]


def test_one_step_is_given_as_a_step_too(read: Read) -> None:
    process = read("100 g water\noven: 180 C for 30 min\nproof: 55 min").process
    assert [(180, 30)] == [(s.celsius, s.minutes) for s in process.bakes]
    assert [(55, None)] == [(r.minutes, r.celsius) for r in process.rises]
    assert () == read("100 g water").process.bakes


def test_a_longer_and_hotter_bake_keeps_the_steps(read: Read) -> None:
    formula = read("100 g water\noven: 220 C for 10 min, then 180 C for 30 min")
    longer = formula.with_process(bake_min=50.0).process
    assert [(220, 10), (180, 40)] == [(s.celsius, s.minutes) for s in longer.oven_steps]
    hotter = formula.with_process(oven_c=200.0).process
    assert [(230, 10), (190, 30)] == [(pytest.approx(s.celsius), s.minutes) for s in hotter.oven_steps]
    short = formula.with_process(bake_min=8.0).process
    assert [(220, 8)] == [(s.celsius, s.minutes) for s in short.bakes]


def test_lines_of_their_own_are_further_steps(read: Read) -> None:
    process = read(
        "100 g water\nbulk: 30 min\nfinal proof: 55 min at 90 F\nautolyse: 20 min\nrest: 10 min"
    ).process
    assert [30, 55] == [r.minutes for r in process.rises]
    assert (20, 10) == process.rests


def test_two_words_for_one_key_may_not_differ(read: Read) -> None:
    with pytest.raises(FormulaFault, match="says otherwise than a line above"):
        read("100 g water\nweight after: 700 g\nbaked weight: 650 g")


def test_what_is_missing_and_decides_is_asked_by_its_weight(read: Read) -> None:
    asked = read("Loaf\n100 g almond flour\nwater").asked
    assert ["how much water", "how hot the oven is", "how long it bakes", "the pan or the shape"] == [
        entry.what for entry in asked[:4]
    ]
    full = "oven: 175 C for 60 min\npan: 20 x 10 x 8 cm\nsliced after: 60 min"
    assert () == read(f"Loaf\n100 g almond flour\n90 g water\n{full}").asked


@pytest.mark.parametrize("write", [write_formula_text, write_formula_yaml], ids=["text", "yaml"])
def test_how_warm_an_ingredient_goes_in_reads_back(read: Read, write: Callable[[Formula], str]) -> None:
    first = read("Loaf\n100 g water\n50 g butter at 20 C\n60 g whole milk at 5 C")
    assert [None, 20, 5] == [line.celsius for line in first.lines]
    again = read(write(first))
    assert [line.celsius for line in first.lines] == [line.celsius for line in again.lines]


def test_what_no_model_uses_is_said(read: Read) -> None:
    warnings = read("100 g water\nboil: 1 min\nproof: 30 min, then 60 min").warnings
    assert any("not used for the figures yet: boil, the rises before the last" in said for said in warnings)


@pytest.mark.parametrize(
    ("line", "field", "value"),
    [("ovn: 175 C", "oven_c", 175), ("slice: 16", "slices", 16), ("pan: 25 x 10 x 10", "pan_length_cm", 25)],
)
def test_a_key_nearly_right_is_read_and_said(read: Read, line: str, field: str, value: float) -> None:
    formula = read(f"100 g water\n10 g cider vinegar\n{line}")
    assert value == getattr(formula.process, field)
    assert any("is read as" in said or "is taken at" in said for said in formula.assumed)
