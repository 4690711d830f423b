"""Whipped white makes foam in the measure of its protein; the enzyme needs dose, protein, time and warmth."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.dough.crosslinking import crosslinking
from advisor.models.dough.foam import air_share, is_foam, white_share
from advisor.models.measuring import dough_state_of

FOAM = "{white}\n40 g almond flour\nwhites: whipped\n"


def at_rest(text, knowledge):
    return dough_state_of(read_formula_text(text, knowledge), knowledge)


def test_powder_and_water_are_as_much_white_as_liquid(knowledge):
    wet = at_rest(FOAM.format(white="300 g egg white"), knowledge)
    dry = at_rest(FOAM.format(white="40.3 g egg white powder\n259.7 g water"), knowledge)
    shares = [white_share(g.frame, g.dough.total, knowledge) for g in (wet, dry)]
    assert shares[0] == pytest.approx(300 / 340, rel=0.01)
    assert shares[0] == pytest.approx(shares[1], rel=0.03)
    assert all(is_foam(g.formula, g.frame, g.dough.total, knowledge) for g in (wet, dry))


def test_whipping_brings_air_and_kneading_little(knowledge):
    whipped = at_rest(FOAM.format(white="300 g egg white"), knowledge)
    plain = at_rest("300 g egg white\n40 g almond flour\n", knowledge)
    airs = [
        air_share(g.formula, g.frame, g.dough.total, {s: 1.0}, knowledge)
        for g, s in ((whipped, "egg_set"), (plain, "egg_set"), (plain, "kneaded_gluten"))
    ]
    assert airs == sorted(airs, reverse=True)
    assert knowledge.coefficient("air_whipped") == pytest.approx(airs[0])


DOUGH = "100 g casein powder\n150 g water\n{more}"


def test_no_enzyme_or_nothing_to_link_is_no_crosslinking(knowledge):
    assert crosslinking(at_rest(DOUGH.format(more=""), knowledge).frame, ((60, 40),), knowledge) is None
    sugar = at_rest("100 g sugar\n5 g transglutaminase\n100 g water", knowledge)
    found = crosslinking(sugar.frame, ((60, 40),), knowledge)
    assert found is None or found.exposure >= 0


def test_exposure_grows_with_time_and_dose_and_is_least_where_it_is_cold_or_too_hot(knowledge):
    frame = at_rest(DOUGH.format(more="2 g transglutaminase"), knowledge).frame
    more = at_rest(DOUGH.format(more="4 g transglutaminase"), knowledge).frame

    def exposed(frame, minutes, temperature):
        found = crosslinking(frame, ((minutes, temperature),), knowledge)
        assert found is not None
        return found.exposure

    assert 2 * exposed(frame, 30, 45) == pytest.approx(exposed(frame, 60, 45))
    assert exposed(frame, 60, 45) < exposed(more, 60, 45)
    assert exposed(frame, 60, 5) < exposed(frame, 60, 25) < exposed(frame, 60, 50)
    assert 0 == exposed(frame, 60, 75)
