"""What bakes teach, and what they may not: expected outcomes shift nothing, caps hold, too few bakes wait."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kept_bakes import loaf
from pytest import approx

from advisor.diagnosis.kitchen_shifts import KitchenShifts, shifted
from advisor.formula.files import formula_from_file
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.trial_record.bake import Foreseen
from advisor.trial_record.learning import Terms, TrialReading, kitchen_of, learn, weight_of
from advisor.trial_record.looking_back import evidence_of
from advisor.trial_record.trials import Outcome, Trial, trials_in

_SHARES = st.floats(0.01, 0.95)


@pytest.fixture(scope="module")
def terms(knowledge: Knowledge) -> Terms:
    return Terms.read(knowledge)


def trial(outcome: Outcome, p: float = 0.4, e: float = 0.8, number: int = 1) -> Trial:
    return Trial(
        number=number, lever="cut-water", cause="excess_water", probability=p, efficacy=e, outcome=outcome
    )


def readings(*values: float) -> tuple[TrialReading, ...]:
    return tuple(TrialReading(number=n, value=value) for n, value in enumerate(values, 1))


@given(p=_SHARES, e=_SHARES, s=st.floats(0.02, 0.5))
def test_what_is_expected_of_a_trial_shifts_nothing(p: float, e: float, s: float) -> None:
    """Weighed by how likely each outcome is, the counts come to what the knowledge expects."""
    worked = p * (e + (1 - e) * s) + (1 - p) * s
    good, bad = weight_of(trial("worked", p, e), s), weight_of(trial("failed", p, e), s)
    assert p == approx(worked * good.cause + (1 - worked) * bad.cause)
    assert p * e == approx(worked * good.cured + (1 - worked) * bad.cured)


@given(p=_SHARES, e=_SHARES, s=st.floats(0.02, 0.5))
def test_weights_are_those_of_bayes_rule_in_odds(p: float, e: float, s: float) -> None:
    for outcome in ("worked", "failed"):
        one = trial(outcome, p, e)
        assert shifted(p, evidence_of(one, s)) == approx(weight_of(one, s).cause)


@pytest.mark.parametrize(("outcome", "up"), [("worked", True), ("failed", False)])
def test_causes_and_changes_shift_the_way_of_the_outcome_and_no_further_than_the_cap(
    outcome: Outcome, up: bool, terms: Terms
) -> None:
    before = {"cause": 1.0, "change": 1.0}
    for count in range(1, 40):
        shifts = learn([trial(outcome, number=n) for n in range(count)], (), (), terms)
        for shift in shifts:
            assert (shift.value > 1) == up
            assert 1 / terms.most_factor <= shift.value <= terms.most_factor
            assert (shift.value >= before[shift.kind] - 1e-9) == up or shift.value == approx(
                before[shift.kind]
            )
            before[shift.kind] = shift.value
    assert (terms.most_factor if up else 1 / terms.most_factor) == before["cause"]


def test_without_bakes_nothing_is_learnt(terms: Terms) -> None:
    assert () == learn((), (), (), terms)
    assert KitchenShifts() == kitchen_of(())


@pytest.mark.parametrize(
    ("values", "offset"),
    [
        ((-14.0, -16.0, -15.0), -15.0),
        ((-14.0, -16.0), None),
        ((-14.0, -16.0, 30.0), None),
        ((-14.0, -16.0, -15.0, 30.0), -15.0),
        ((-2.0, -3.0, -1.0), None),
        ((-1.0, -8.0, -15.0), None),
        ((-50.0, -51.0, -52.0), -30.0),
        ((-15.0, -16.0, -14.0, 20.0, 21.0, 22.0), None),
    ],
)
def test_the_oven_is_corrected_where_three_or_more_bakes_agree(
    values: tuple[float, ...], offset: float | None, terms: Terms
) -> None:
    shifts = learn((), readings(*values), (), terms)
    assert ([] if offset is None else [("oven", offset)]) == [
        (s.kind, s.value) for s in shifts if s.kind == "oven"
    ]
    assert ({} if offset is None else {"oven_too_cool": terms.most_factor}) == kitchen_of(shifts).base_rates


@pytest.mark.parametrize(
    ("values", "strength"),
    [
        ((0.6, 0.65, 0.55), 0.6),
        ((0.6, 0.65), None),
        ((0.95, 0.9, 1.0), None),
        ((0.3, 0.31, 0.3), 0.5),
        ((1.0, 0.6, 0.3), None),
    ],
)
def test_the_powder_is_corrected_where_three_or_more_bakes_agree(
    values: tuple[float, ...], strength: float | None, terms: Terms
) -> None:
    shifts = learn((), (), readings(*values), terms)
    assert ([] if strength is None else [strength]) == [s.value for s in shifts if s.kind == "powder"]
    assert ({} if strength is None else {"spent_leavening": terms.most_factor}) == kitchen_of(
        shifts
    ).base_rates


def test_only_single_changes_whose_fault_was_looked_for_again_teach() -> None:
    told = Foreseen(
        cause="excess_water",
        cause_probability=0.4,
        efficacy=0.8,
        single=True,
        risk={"gummy_centre": (0.6, 0.1)},
    )
    before = loaf(seen=("gummy_centre",), absent=(), key="a")
    after = loaf(seen=(), absent=("gummy_centre",), followed="cut-water", follows="a", foreseen=told)
    assert ["worked"] == [t.outcome for t in trials_in([(after, before)])]
    stayed = replace(after, seen=("gummy_centre",), absent=())
    assert ["failed"] == [t.outcome for t in trials_in([(stayed, before)])]
    untaught = (
        (after, None),
        (replace(after, followed=None), before),
        (replace(after, absent=()), before),
        (replace(after, foreseen=replace(told, single=False)), before),
        (replace(after, foreseen=None), before),
        (replace(after, foreseen=replace(told, risk={"gummy_centre": (0.6, 0.6)})), before),
    )
    assert () == trials_in(untaught)


def test_an_advisor_in_a_kitchen_without_shifts_is_as_it_was(advisor: Advisor, knowledge: Knowledge) -> None:
    formula = formula_from_file(knowledge.formulas["canteen-sandwich-loaf"], knowledge)
    assert advisor.check(formula) == advisor.in_kitchen(KitchenShifts()).check(formula)


def test_shifts_move_causes_oven_and_powder_and_leave_without_a_trace(
    advisor: Advisor, knowledge: Knowledge
) -> None:
    formula = formula_from_file(knowledge.formulas["canteen-sandwich-loaf"], knowledge)
    plain = advisor.check(formula)
    shifts = KitchenShifts(
        base_rates={"underbaked": 2.0}, oven_offset_c=-20, powder_strength=0.6, says=("learnt",)
    )
    here = advisor.in_kitchen(shifts).check(formula)
    assert here.examination.diagnosis.priors["underbaked"] > plain.examination.diagnosis.priors["underbaked"]
    a, b = (x.examination.workings.measures for x in (plain, here))
    assert (b.value("core_done_min") or 0) > (a.value("core_done_min") or 1e9)
    assert 0.6 == approx(b.value("leavening_strength"))
    assert "learnt" in here.assumed
    assert plain == advisor.check(formula)


def test_what_a_formula_says_of_oven_and_powder_goes_before_what_was_learnt(knowledge: Knowledge) -> None:
    formula = formula_from_file(knowledge.formulas["canteen-sandwich-loaf"], knowledge)
    stated = replace(
        formula.with_process(oven_offset_c=0.0),
        lines=tuple(replace(x, age_months=2.0) for x in formula.lines),
    )
    here = KitchenShifts(oven_offset_c=-20, powder_strength=0.6).formula_here(stated, knowledge)
    assert (stated.process, stated.lines) == (here.process, here.lines)
