"""One axis of minutes: what it starts and ends with, and that it agrees with the measures."""

from __future__ import annotations

import pytest
from case_files import demo, risen_names

from advisor import default_advisor
from advisor.formula.reading import read_formula_text
from advisor.models.loaf.timeline import timeline

NAMES = risen_names()


def line_of(formula, knowledge):
    work = default_advisor().examiner.examine(formula, after_bake=False).workings
    return work, timeline(work, knowledge)


@pytest.mark.parametrize("name", NAMES)
def test_gas_only_grows_and_ends_at_what_the_measures_say(name, knowledge):
    work, line = line_of(demo(name), knowledge)
    assert 0 == line.gas[0]
    assert all(b >= a - 1e-6 for a, b in zip(line.gas, line.gas[1:], strict=False))
    assert work.measures.value("co2_total") == pytest.approx(line.gas[-1], rel=1e-3)


@pytest.mark.parametrize("name", NAMES)
def test_gas_at_the_oven_door_is_that_of_the_bench(name, knowledge):
    work, line = line_of(demo(name), knowledge)
    door = line.stages[-1].start
    at = max(n for n, m in enumerate(line.minutes) if m <= door + 1e-9)
    assert work.measures.value("gas_before_oven") == pytest.approx(line.gas[at], rel=0.01, abs=0.5)


@pytest.mark.parametrize("name", NAMES)
def test_set_starts_at_nought_and_never_falls(name, knowledge):
    work, line = line_of(demo(name), knowledge)
    assert 0 == line.set_share[0]
    assert all(b >= a - 1e-9 for a, b in zip(line.set_share, line.set_share[1:], strict=False))
    assert work.measures.value("set_share_at_pull") == pytest.approx(line.set_share[-1], abs=1e-6)
    half = next(minute for minute, share in zip(line.minutes, line.set_share, strict=True) if share >= 0.5)
    door = line.stages[-1].start
    assert half - door < work.bake.core_set_min, "half the loaf has set before its core"


def test_stages_follow_each_other_and_all_lengths_agree(knowledge):
    _, line = line_of(demo("canteen-sandwich-loaf"), knowledge)
    assert ["mixing", "proof", "oven"] == [s.name for s in line.stages]
    assert all(a.end == b.start for a, b in zip(line.stages, line.stages[1:], strict=False))
    assert 1 == len({len(line.minutes), len(line.gas), len(line.set_share), len(line.core_c)})
    assert line.minutes == tuple(sorted(line.minutes))


def test_door_and_probe_stand_at_their_minutes(knowledge):
    text = "\n".join(
        ["300 g whole egg", "100 g almond flour", "6 g baking powder", "oven: 170 C for 50 min",
         "pan: 20 x 10 x 8 cm", "opened at: 20 min", "probed at: 40 min"]
    )  # fmt: skip
    _, line = line_of(read_formula_text(text, knowledge), knowledge)
    marks = {m.name: m for m in line.marks}
    assert (20, 40, 50) == tuple(marks[n].oven_min for n in ("door", "probe", "pull"))
    assert marks["door"].minute == pytest.approx(line.stages[-1].start + 20)


def test_a_dough_without_a_bake_ends_at_the_oven_door(knowledge):
    """An oven that no kitchen has is not computed; the bench still is."""
    text = "200 g bread flour\n130 g water\n3 g instant yeast\nproof: 60 min at 28 C\noven: 60 C for 30 min"
    work, line = line_of(read_formula_text(text, knowledge), knowledge)
    assert work.bake is None
    assert "oven" not in [s.name for s in line.stages]
    assert line.stages[-1].end == pytest.approx(line.minutes[-1])
