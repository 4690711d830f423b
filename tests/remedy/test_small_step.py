"""Where the figures find nothing wrong and the loaf says otherwise, a small step is proposed and said to be one."""

from __future__ import annotations

from case_files import demo

from advisor import read_formula
from advisor.remedy.levers.small_step import SAYS


def test_a_sound_formula_that_baked_wet_gets_a_little_less_water(advisor):
    found = advisor.diagnose(
        demo("canteen-sandwich-loaf"),
        saw=["gummy_centre", "runny_dough", "collapse_on_cooling"],
        not_seen=["dry_crumb"],
    )
    best = found.plans.proposals[0]
    (change,) = best.changes
    assert ("water", 150.0) == (change.what, change.before)
    assert 0.8 * 150 <= change.after < 150
    assert SAYS in best.side_effects


def test_a_loaf_just_done_on_paper_that_came_out_wet_is_baked_a_quarter_longer(advisor):
    # A baker who finds the middle wet adds ten or fifteen minutes to three quarters of an hour, and not two.
    # Common practice, no source.
    formula = read_formula(
        "Seed bread\n200 g ground almonds\n60 g milled golden flax\n15 g psyllium powder\n3 eggs\n180 ml warm water\n"
        "2 tsp baking powder\n1 tsp salt\n1 tbsp cider vinegar\npan: 20 x 10 x 6 cm\noven: 177 C for 45 min"
    )
    found = advisor.diagnose(formula, saw=["gummy_base", "collapse_on_cooling"])
    assert "underbaked" == found.examination.diagnosis.causes[0].id
    (change,) = found.plans.proposals[0].changes
    assert ("bake_min", 45) == (change.field, change.before)
    assert 55 <= change.after <= 60


def test_before_a_bake_nothing_is_turned_that_is_where_it_should_be(advisor):
    found = advisor.check(demo("canteen-sandwich-loaf"))
    assert not any(SAYS in p.side_effects for p in found.plans.proposals)


def test_a_cause_that_is_hardly_likely_gets_no_step(advisor):
    found = advisor.diagnose(demo("canteen-sandwich-loaf"), saw=["bitter_taste"])
    assert not any(SAYS in p.side_effects for p in found.plans.proposals)


def test_a_cooler_oven_never_asks_for_a_shorter_bake(advisor):
    formula = demo("lupin-egg-rolls").with_process(oven_c=250.0)
    for proposal in advisor.check(formula).plans.proposals:
        turned = {c.what: (c.before, c.after) for c in proposal.changes}
        if "oven" in turned and turned["oven"][1] < turned["oven"][0] and "bake" in turned:
            assert turned["bake"][1] >= turned["bake"][0]
