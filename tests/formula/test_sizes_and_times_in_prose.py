"""What the numbers of a method are where the sentence leaves much unsaid: times alone, doors, tins, sizes."""

from __future__ import annotations

from typing import Any

import pytest

from advisor.formula.formula import Process
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.knowledge import Knowledge

_YEASTED = "Canteen loaf\n200 g vital wheat gluten\n150 g water\n5 g instant yeast\n"
_RAISED_BY_POWDER = "Canteen rolls\n200 g almond flour\n150 g egg\n5 g baking powder\n"


def _found(knowledge: Knowledge, dough: str, method: str, wanted: dict[str, Any]) -> dict[str, Any]:
    process: Process = read_formula_text(dough + method, knowledge).process
    return {field: getattr(process, field) for field in wanted}


def _near(wanted: dict[str, Any]) -> dict[str, Any]:
    return {
        f: pytest.approx(v, abs=0.1) if isinstance(v, int | float) and not isinstance(v, bool) else v
        for f, v in wanted.items()
    }


@pytest.mark.parametrize(
    ("method", "wanted"),
    [
        ("Mould, in the 9.5 x 4.5 tin, an hour.", {"pieces": None, "pan_kind": "tin"}),
        ("Fold it all in. 9x5 lined. 165 C 40 min.", {"pieces": None, "pan_length_cm": 22.9}),
        ("Oiled tray 35 x 25. Dimple it.", {"pieces": None, "pan_length_cm": 35}),
        ("Spread in an oiled 9 x 13, level it", {"pieces": None, "pan_length_cm": 33}),
        ("Long sandwich pan 13 x 4 in, oiled. Proof 1 h.", {"pan_length_cm": 33, "pan_height_cm": 10.2}),
        ("small tin 14x7x6, fill two thirds", {"pan_length_cm": 14, "pan_height_cm": 6}),
        ("Baps x 9.", {"pieces": 9}),
        ("Scale 2 x 1060. Tins 24x10.", {"pieces": 2, "piece_g": 1060}),
        ("div 3 @ 280, shape 35 cm", {"pieces": 3, "piece_g": 280}),
        ("Divide into 6 straight away, about 100 g each.", {"pieces": 6, "piece_g": 100}),
        ("Bake at 200 C 30 min. Rest 10 minutes, cut in 8.", {"pieces": 8, "sliced_after_min": 10}),
        ("Bake at 200 C 30 min. You should get 25 to 30 slices.", {"slices": 28}),
        ("DT: want 27C got 28.", {"pieces": None}),
        ("Bake 30 min at 220 C with lid, then 15 min without.", {"bake_min": 45}),
    ],
)
def test_sizes_of_a_tin_count_no_pieces(knowledge: Knowledge, method: str, wanted: dict[str, Any]) -> None:
    assert _near(wanted) == _found(knowledge, _YEASTED, method, wanted)


@pytest.mark.parametrize(
    ("dough", "method", "wanted"),
    [
        (_YEASTED, "Knead 9 min. 1 hour. Shape, tin. 200 C 30 min.", {"mix_min": 9, "proof_min": 60}),
        (_YEASTED, "Mix 7 min. Rest 10. Round up, tray, not touching. 50 min. 210 C 18 min.",
         {"rest_min": 10, "proof_min": 50, "bake_min": 18}),
        (_YEASTED, "Pin out to 12 cm. 55 min till it wobbles. 220C 20 min.", {"proof_min": 55, "bake_min": 20}),
        (_RAISED_BY_POWDER, "Mix 2 min. 10 min. Bake at 180 C for 40 min.", {"mix_min": 12}),
        (_RAISED_BY_POWDER, "Oven 165. Whip 5 min. Scrape it in. 42 min, no peeking for the first 25.",
         {"bake_min": 42, "mix_min": 5, "opened_at_min": None, "rest_min": None}),
        (_RAISED_BY_POWDER, "Bake 170 C 50 min. Do not open the door before 40 min.",
         {"bake_min": 50, "opened_at_min": None}),
    ],
)  # fmt: skip
def test_a_time_that_stands_alone(
    knowledge: Knowledge, dough: str, method: str, wanted: dict[str, Any]
) -> None:
    assert _near(wanted) == _found(knowledge, dough, method, wanted)


@pytest.mark.parametrize(
    ("method", "wanted"),
    [
        ("175 C 20 min in the tin, turn out, 40 min more on the rack.", {"bake_min": 60, "cooled_in_pan_min": None}),
        ("Bake at 170 C 50 min. 12 min in the tin, then the rack.", {"bake_min": 50, "cooled_in_pan_min": 12}),
        ("Bake at 190 C, steam first 10 min, 44 min in all.", {"bake_min": 44}),
        ("Bake at 200 C, 45 min. Out at 10 min, cool 2 h.", {"cooled_in_pan_min": 10, "sliced_after_min": 120}),
        ("Bake at 190 C, 30 min. On a rack, out of the tin within 5 min, so the bottom stays crisp.",
         {"cooled_in_pan_min": 5, "sliced_after_min": None}),
        ("Bake at 180 C 40 min. Leave a quarter of an hour before you turn it out.", {"cooled_in_pan_min": 15}),
        ("Bake at 180 C 40 min, two hours on a wire before you slice.", {"sliced_after_min": 120}),
        ("Bake at 180 C 40 min. Rack, an hour.", {"sliced_after_min": 60}),
        ("Bake at 160 C 40 min, then cool 10 min in the oven with the door ajar.", {"sliced_after_min": None}),
        ("Bake at 160 C 40 min. Let the door stand open a spoon wide for 30 min.", {"sliced_after_min": None}),
        ("Bake 25 min at 180 C. Leave on a rack in the warm oven, door open, 10 min", {"opened_at_min": None}),
        ("165 C 18 min, the outer ones come off a few minutes sooner.", {"bake_min": 18}),
        ("Bake 24 min at 180 C. Costs Rs 156 a batch.", {"bake_min": 24, "oven_c": 180}),
        ("Melt the cheese, cool 2 min, knead in the rest. Bake 12 min at 210 C.", {"sliced_after_min": None}),
        ("Heap six mounds 2 cm high. Bake 25 min at 150 C.", {"height_after_cm": None}),
        ("Cast iron pot heated 40 min at 245 C. Lid on 30 min, lid off 20 min at 210 C.",
         {"oven_c": 231, "bake_min": 50, "griddle_c": None}),
        ("Stone heated 40 min at 260 C. Load two at a time, 5 minutes.", {"bake_min": 5, "oven_c": 260}),
    ],
)  # fmt: skip
def test_on_which_side_of_the_oven_door(knowledge: Knowledge, method: str, wanted: dict[str, Any]) -> None:
    assert _near(wanted) == _found(knowledge, _RAISED_BY_POWDER, method, wanted)


@pytest.mark.parametrize(
    ("method", "wanted"),
    [
        ("Mix 3 slow + 2 second, dough 27 C", {"mix_min": 5}),
        ("Mix: 5 low + 3 second", {"mix_min": 8}),
        ("Mix 1st 3 min, 2nd 5 min, rest 10 min", {"mix_min": 8, "proof_min": None}),
        ("9 min on low, oil after 2 min.", {"mix_min": 9}),
        ("Knead 3, rest covered 25.", {"mix_min": 3, "rest_min": 25}),
        ("Melt it. If it goes stiff, ten seconds more in the micro.", {"mix_min": None}),
        ("At minute 5 of mixing look at it, 3 min of mixing left", {"rest_min": None}),
        ("The eggs were left out an hour so they weren't cold.", {"proof_min": None}),
        ("Weighed it, 96 g, in the cup.", {"weight_after_g": None}),
        ("Cooler 40 h at 4 C.", {"proof_min": 2400}),
        ("DT 26 C", {"dough_wanted_c": 26}),
    ],
)  # fmt: skip
def test_words_of_the_work_beside_a_number(knowledge: Knowledge, method: str, wanted: dict[str, Any]) -> None:
    assert _near(wanted) == _found(knowledge, _YEASTED, method, wanted)


@pytest.mark.parametrize(
    ("method", "minutes"),
    [
        ("Foil caps, tight. Into a steamer over a steady boil, lid on, 30 min.", 30),
        ("Steam on a rolling boil 14 min, cloth round the lid. Heat off, lid ajar 5 min.", 14),
        ("Stand it on a trivet in a big pot of water, lid on, gentle boil for 2 hours.", 120),
    ],
)
def test_what_boils_under_a_steamer_steams(knowledge: Knowledge, method: str, minutes: float) -> None:
    wanted = {"steam_min": minutes, "boil_min": None, "bake_min": None}
    assert _near(wanted) == _found(knowledge, _RAISED_BY_POWDER, method, wanted)


@pytest.mark.parametrize(
    ("dough", "method", "wanted"),
    [
        (_RAISED_BY_POWDER, "Dry 30 s, eggs in, water last, 45 s only! Bake at 180 C for 40 min.", {"mix_min": 1.25}),
        (_YEASTED, "Let it stand in the tin 50 minutes next to the heater and then bake it 45 min at 180 C.",
         {"proof_min": 50, "cooled_in_pan_min": None}),
        (_RAISED_BY_POWDER, "All into the blender; 3 min. Bake at 180 C for 40 min.", {"mix_min": 3}),
        (_RAISED_BY_POWDER, "Beat for a minute or two. Bake 50 mins to 1 hour at 180 C.",
         {"mix_min": 1.5, "bake_min": 55}),
        (_RAISED_BY_POWDER, "Rest 5 min. It needs about 45 min, skewer clean.", {"rest_min": 5, "bake_min": 45}),
        (_YEASTED, "deck 220 C w. steam 15', then 190 C 30'", {"bake_min": 45, "steam_min": None}),
        (_YEASTED, "put into a preheated oven at 180 C for 45 min, after 30 min put foil",
         {"bake_min": 45, "tented_at_min": 30}),
        (_YEASTED, "Station: mixer 2 / deck B\nMix 4 min", {"mix_min": 4}),
        (_RAISED_BY_POWDER, "Blend. + boiling water in a stream, 45 s, STOP.", {"mix_min": 0.75, "boil_min": None}),
        (_YEASTED, "Drop in boiling water 1 min. Bake 15 min at 230 C.", {"boil_min": 1}),
        (_YEASTED, "prebake 4 mins at 250 C, then 6 mins.", {"bake_min": 10}),
        (_YEASTED, "Bake 40 min at 180 C. We had it an inch thick.", {"thickness_cm": None}),
        (_YEASTED, "Ten minutes of kneading. Final 50 min. 200 C 30 min.", {"mix_min": 10, "proof_min": 50}),
        (_YEASTED, "Mix 4 min. After five minutes of kneading look in. Bake 200 C 30 min.", {"mix_min": 4}),
        (_YEASTED, "Beat the eggs 1 full minute. 200 C 30 min.", {"mix_min": 1}),
        (_YEASTED, "Put the husk in the water and milk for 5 min. Mix 4 min. 200 C 30 min.",
         {"rest_min": 5, "mix_min": 4}),
        (_YEASTED, "Cast iron pot into the oven and preheat to 250 C for 40 min. Bake at 220 C, 30 min.",
         {"preheat_c": 250, "bake_min": 30}),
        (_YEASTED, "Preheat steel 45 min at 260 C. Bake 6 min.", {"bake_min": 6, "preheat_c": 260}),
        (_YEASTED, "bake 18 min at 160 C (fan), don't open before 14 min.", {"bake_min": 18}),
        (_YEASTED, "Take the eggs out an hour before. Bake 40 min at 180 C.", {"bake_min": 40}),
        (_YEASTED, "Bake 40 min at 180 C. After 5 min take out from tin, full cool 1 hr.",
         {"cooled_in_pan_min": 5, "sliced_after_min": 60}),
        (_YEASTED, "Bake 40 min at 180 C. Ten minutes in the tin and I cut it after an hour and a quarter.",
         {"cooled_in_pan_min": 10, "sliced_after_min": 75}),
        (_YEASTED, "Bake 40 min at 180 C. The loaf cools for 2 hours.", {"sliced_after_min": 120}),
        (_YEASTED, "Bake 40 min at 180 C. Next day 20 seconds in the microwave.", {"microwave_min": None}),
        (_YEASTED, "Bake 40 min at 180 C. In a closed tin they keep 3 weeks.", {"stored_min": 30240}),
    ],
)  # fmt: skip
def test_works_and_what_lies_beside_them(
    knowledge: Knowledge, dough: str, method: str, wanted: dict[str, Any]
) -> None:
    assert _near(wanted) == _found(knowledge, dough, method, wanted)


@pytest.mark.parametrize(
    ("method", "steps"),
    [
        ("Bake 220 C, 14-16 min, steam for the first 5 min.", [(220, 5, True), (220, 10, None)]),
        ("combi 170 C, 24 min, first 5 min steam", [(170, 5, True), (170, 19, None)]),
        ("bk 210C 15' steam -> 190C 50'", [(210, 15, True), (190, 50, None)]),
        ("350F 50 min. And the oven was 325F, I changed that.", [(162.8, 50, None)]),
        ("Oven: 350F\nBake 45-50 minutes. Cool 1 hour.", [(176.7, 47.5, None)]),
    ],
)
def test_first_minutes_are_part_of_a_bake_and_what_is_put_right_counts(
    knowledge: Knowledge, method: str, steps: list[tuple[float, float, bool | None]]
) -> None:
    found = read_formula_text(_YEASTED + method, knowledge).process.bakes
    assert steps == [(pytest.approx(s.celsius, abs=0.1), s.minutes, s.steam) for s in found]


@pytest.mark.parametrize(
    ("method", "wanted"),
    [
        ("Makes one 355 g loaf", {"piece_g": 355, "weight_after_g": None}),
        ("Makes one 320 g loaf", {"piece_g": None, "weight_after_g": 320}),
        ("Makes one 2 lb loaf", {"piece_g": None, "weight_after_g": None}),
        ("Yield: 12 loaves of 850 g (approx. 750 g each baked)",
         {"loaves": 12, "piece_g": 850, "weight_after_g": 750}),
        ("(1 loaf, about 1.1 kg before the oven)", {"piece_g": 1100}),
        ('Bake 40 min at 180 C. Wt 702 g. Ht 4.25".', {"weight_after_g": 702, "height_after_cm": 10.8}),
        ("Bake 40 min at 180 C. It came out 655 g.", {"weight_after_g": 655}),
        ("Prep: 15 min | Rise: 1 hr | Bake: 1 hr 10 min\nProof 1 hour. Bake at 200 C for 70 min.",
         {"proof_min": 60, "bake_min": 70}),
    ],
)  # fmt: skip
def test_what_a_loaf_weighs_before_its_bake_and_behind_it(
    knowledge: Knowledge, method: str, wanted: dict[str, Any]
) -> None:
    assert _near(wanted) == _found(knowledge, _YEASTED, method, wanted)
