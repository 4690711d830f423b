"""What a kind of bake, its leaven, its shape and its salt change in a look before the bake."""

from __future__ import annotations

from advisor import default_advisor, read_formula

CRACKERS = (
    "Seed crackers\n150 g almond flour\n40 g ground flaxseed\n1 egg\n20 g water\n3 g salt\nthickness: 0.3 cm\n"
    "oven: {oven} C for {minutes} min"
)
RYE = (
    "Rye loaf\n300 g rye flour\n150 g bread flour\n250 g water\n200 g sourdough starter\n9 g salt\n"
    "pan: 23 x 11 x 10 cm\nmix: 5 min\nproof: 180 min at 27 C\noven: 220 C for 50 min{more}"
)
RINGS = (
    "Chewy rolls\n500 g bread flour\n285 g water\n5 g instant yeast\n10 g salt\npieces: 8\npan: rolls\nmix: 10 min\n"
    "proof: 28 min at 24 C\noven: 220 C for 19 min{more}"
)
BRICK = (
    "{name}\n140 g sunflower seeds\n100 g pumpkin seeds\n80 g whole linseed\n70 g whole almonds\n30 g psyllium husks\n"
    "340 g water\n7 g salt\npan: 23 x 13 x 7 cm\noven: 175 C for 65 min"
)
CHEESE = (
    "{name}\n270 g low-moisture mozzarella\n55 g cream cheese\n170 g almond flour\n2 large eggs\n12 g baking powder\n"
    "pieces: 6\npan: rolls\noven: 200 C for 15 min"
)


def look(text, **fields):
    return default_advisor().examiner.examine(read_formula(text.format(**fields)), after_bake=False)


def risk(found, symptom):
    return found.diagnosis.risks[symptom].risk


def test_a_dough_that_a_starter_lifts_is_not_blamed_for_its_gas_whatever_its_kind():
    found = look(RYE, more="")
    assert "rye" == found.workings.dough_state.with_defaults.kind
    assert "too_little_leavening" not in {cause.id for cause in found.diagnosis.causes}
    assert {"starter", "starter_bake"} <= {gap.id for gap in found.not_judged}
    assert "co2_total" not in found.far_out
    yeasted = look(RYE.replace("9 g salt", "9 g salt\n5 g instant yeast"), more="")
    assert "starter" not in {gap.id for gap in yeasted.not_judged}


def test_a_ring_that_is_boiled_may_proof_short():
    plain, boiled = look(RINGS, more=""), look(RINGS, more="\nboil: 1.5 min")
    least = [found.inference.judged["specific_volume"].low for found in (boiled, plain)]
    assert least[0] < least[1]
    assert risk(boiled, "dense_crumb") < risk(plain, "dense_crumb") - 0.1


def test_whole_seeds_without_leaven_are_a_seed_loaf_without_its_name():
    found = look(BRICK, name="Birdseed brick")
    assert "seed_loaf" == found.workings.dough_state.with_defaults.kind
    leavened = look(BRICK.replace("7 g salt", "7 g salt\n10 g baking powder"), name="Birdseed brick")
    assert "seed_loaf" != leavened.workings.dough_state.with_defaults.kind


def test_salt_is_judged_by_its_share_of_the_dough():
    wet = look(RINGS.replace("285 g water", "330 g water"), more="")
    salty = look(RINGS.replace("10 g salt", "24 g salt"), more="")
    assert "in" == wet.inference.judged["salt_pct"].state
    assert "high" == salty.inference.judged["salt_pct"].state
    assert risk(salty, "too_salty") > 0.35 > risk(wet, "too_salty")


def test_a_cracker_is_dark_where_it_is_hot_long_after_it_is_dry_and_soft_where_it_is_not_dry():
    good = look(CRACKERS, oven=160, minutes=30)
    hot = look(CRACKERS, oven=200, minutes=30)
    short = look(CRACKERS, oven=150, minutes=9)
    assert "in" == good.inference.judged["toasting_min"].state
    assert risk(hot, "dark_crust") > 0.35 > risk(good, "dark_crust")
    assert risk(short, "not_crisp") > 0.35 > risk(good, "not_crisp")


def test_a_rope_is_done_before_a_ball_of_the_same_dough():
    ball, rope = look(CHEESE, name="Cheese rolls"), look(CHEESE, name="Cheese rings")
    done = [found.workings.measures.value("core_done_min") for found in (rope, ball)]
    assert done[0] < 0.8 * done[1]
