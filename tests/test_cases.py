"""Cases that a baker can read: faults put in and found again, good formulas on which silence is required, pairs.

Every runner names the case, what was expected and what was found. Figures come with Wilson's 95 % intervals.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache

import pytest
from case_files import CASES, balanced_names, demo, entries, sound_cases
from edited_texts import counted, edited

from advisor import default_advisor, load_knowledge
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.remedy.assessing import Assessment

RISK_LIMIT = 0.35
INJECTED = entries(CASES / "injected.yaml")
OPEN = [c for c in INJECTED if not c["heldout"]]
HELD_OUT = [c for c in INJECTED if c["heldout"]]
PAIRS = [p for p in entries(CASES / "pairs.yaml") if p["grade"] != "published"]
SISTERS = sorted(n for n, p in load_knowledge().formulas.items() if "# fault:" in p.read_text("utf-8"))


def by_id(cases):
    return [pytest.param(c, id=c["id"]) for c in cases]


@cache
def _answer(case_id: str) -> Assessment:
    case = next(c for c in INJECTED if c["id"] == case_id)
    formula = edited(case, case["inject"], case["id"])
    return default_advisor().diagnose(formula, saw=case["saw"], not_seen=case.get("not_seen") or [])


def injected_causes(case) -> list[str]:
    return case["causes"] if "causes" in case else [case["cause"]]


def accepted(case) -> set[str]:
    return {*injected_causes(case), *(case.get("also_accept") or [])}


def place(case, wanted: set[str]) -> int:
    """Place of the first wanted cause in the ranking, from 1."""
    order = [rank.id for rank in _answer(case["id"]).examination.diagnosis.causes]
    return min(order.index(w) + 1 for w in wanted if w in order)


def top(case, many: int = 4) -> str:
    ranks = _answer(case["id"]).examination.diagnosis.causes[:many]
    return ", ".join(f"{r.id} {r.probability:.2f}" for r in ranks)


# ---- faults put in


def test_cases_are_what_the_figures_below_suppose():
    assert 45 <= len(OPEN)
    assert 15 <= len(HELD_OUT)
    formulas_open, formulas_held = {c["formula"] for c in OPEN}, {c["formula"] for c in HELD_OUT}
    assert set() == formulas_open & formulas_held, "a held-out formula is also tuned on"
    blurred = [c for c in INJECTED if c.get("left_out") or c.get("added")]
    assert len(INJECTED) / 4 <= len(blurred), "a symptom missing or one that has nothing to do with it"


@pytest.mark.parametrize("case", by_id(OPEN))
def test_the_injected_cause_is_among_the_first_three(case):
    assert place(case, accepted(case)) <= 3, f"{sorted(accepted(case))} expected among: {top(case)}"


def test_the_injected_cause_is_mostly_first():
    accepted_first = [c for c in OPEN if place(c, accepted(c)) == 1]
    strictly_first = [c for c in OPEN if place(c, set(injected_causes(c))) == 1]
    later = "; ".join(f"{c['id']}: {top(c, 2)}" for c in OPEN if c not in strictly_first)
    assert 0.70 * len(OPEN) <= len(accepted_first), (
        f"{counted(len(accepted_first), len(OPEN))} first; {later}"
    )
    assert 0.60 * len(OPEN) <= len(strictly_first), (
        f"{counted(len(strictly_first), len(OPEN))} first without what else is accepted; {later}"
    )


def test_held_out_cases_are_found_as_well():
    """Never tuned on: three formulas whose faults were kept away from every rule, band and rate."""
    first = [c for c in HELD_OUT if place(c, accepted(c)) == 1]
    third = [c for c in HELD_OUT if place(c, accepted(c)) <= 3]
    strict = [c for c in HELD_OUT if place(c, set(injected_causes(c))) <= 3]
    missed = "; ".join(f"{c['id']}: {top(c)}" for c in HELD_OUT if c not in third)
    said = (
        f"first {counted(len(first), len(HELD_OUT))}, among three {counted(len(third), len(HELD_OUT))}, "
        f"among three without what else is accepted {counted(len(strict), len(HELD_OUT))}; missed: {missed}"
    )
    assert 0.80 * len(HELD_OUT) <= len(third), said
    assert 0.80 * len(HELD_OUT) <= len(strict), said


@pytest.mark.parametrize("case", by_id([c for c in OPEN if "causes" in c]))
def test_of_two_faults_both_are_among_the_first_five(case):
    # a kind of cause heads its list, so that five places hold about four causes
    order = [rank.id for rank in _answer(case["id"]).examination.diagnosis.causes[:5]]
    assert set(case["causes"]) <= set(order), f"{case['causes']} expected among: {top(case, 6)}"


@pytest.mark.parametrize("case", by_id(INJECTED))
def test_probabilities_and_risks_are_such(case):
    found = _answer(case["id"]).examination.diagnosis
    assert all(0 <= rank.probability <= 1 for rank in found.causes)
    assert all(0 <= risk.risk <= 1 for risk in found.risks.values())


# ---- the cure goes back the way the fault came


PROCESS_AMOUNTS = {
    ("opened at", "min"): "opened_at_min",
    ("oven", "min"): "bake_min",
    ("oven", "C"): "oven_c",
    ("proof", "min"): "proof_min",
    ("water temp", "C"): "water_c",
}
COUNTED = {"eggs": "whole_egg"}


def amount(formula: Formula, undo) -> float:
    """Read off a formula the amount that was injected, in the unit of the case."""
    what, unit = undo["what"], undo["unit"]
    if what == "pan":
        return formula.process.pan_volume_ml
    if (field := PROCESS_AMOUNTS.get((what, unit))) is not None:
        return getattr(formula.process, field)
    if unit == "count":
        return sum(line.counted or 0 for line in formula.lines if line.ingredient.id == COUNTED[what])
    what = what.lower()
    names = {what, f"{what}s", what.rstrip("s")}
    return sum(
        line.grams
        for line in formula.lines
        if names & {line.ingredient.name.lower(), *(n.lower() for n in line.ingredient.also)}
    )


def reaches_target(lever, formula: Formula) -> str | None:
    """Say how a changed formula misses what its lever is turned for; `None` if it does not."""
    found = default_advisor().examiner.examine(formula, after_bake=True)
    name, target = lever.until.measure, lever.until
    value = found.situation.measures.get(name)
    if value is None:
        return f"{name} has no value"
    if target.into == "band":
        judged = found.inference.judged[name]
        return None if judged.state == "in" else f"{name} {value:.3g} is {judged.state}, not in its band"
    if target.above is not None and value < target.above - 1e-6:
        return f"{name} {value:.3g} is not above {target.above:g}"
    if target.below is not None and value > target.below + 1e-6:
        return f"{name} {value:.3g} is not below {target.below:g}"
    return None


def undo_fault(case) -> str | None:
    """Say what is wrong with the best proposal that goes back the way the fault came; `None` if nothing is."""
    undo, answer = case["undo"], _answer(case["id"])
    before = answer.examination.formula
    start = amount(before, undo)
    if start != pytest.approx(undo["from"], abs=1e-6):
        return f"the case says {undo['from']} {undo['unit']} of {undo['what']}, the formula has {start}"
    levers = load_knowledge().levers
    # One change can cure two causes; it is then proposed once, for either of them.
    merged = any(d.cause in accepted(case) and "same change" in d.reason for d in answer.plans.declined)
    moved = [
        p
        for p in answer.plans.proposals
        if (merged or p.cause in accepted(case)) and amount(p.formula, undo) != pytest.approx(start, abs=1e-9)
    ]
    if not moved:
        offered = [f"{p.lever} for {p.cause}" for p in answer.plans.proposals]
        refused = [f"{d.lever}: {d.reason}" for d in answer.plans.declined if d.cause in accepted(case)]
        return f"no proposal turns {undo['what']}; proposed {offered}, declined {refused}"
    best = moved[0]
    share = (amount(best.formula, undo) - start) / (undo["to"] - undo["from"])
    if not 0 < share <= 1.10:
        return f"{best.lever} undoes {100 * share:.0f} % ({start:g} to {amount(best.formula, undo):g} {undo['unit']})"
    if levers[best.lever].until is not None and (miss := reaches_target(levers[best.lever], best.formula)):
        return f"{best.lever}: {miss}"
    return None


@pytest.mark.parametrize("case", by_id([c for c in OPEN if "undo" in c]))
def test_the_cure_goes_back_the_way_the_fault_came_and_not_beyond(case):
    assert undo_fault(case) is None, undo_fault(case)


def test_held_out_cures_go_back_as_well():
    with_undo = [c for c in HELD_OUT if "undo" in c]
    faults = {c["id"]: said for c in with_undo if (said := undo_fault(c)) is not None}
    good = len(with_undo) - len(faults)
    assert 0.80 * len(with_undo) <= good, f"{counted(good, len(with_undo))}; {faults}"


# ---- failing sisters of the demo formulas


@pytest.mark.parametrize("name", SISTERS)
def test_a_failing_sister_is_caught_before_the_bake(name):
    text = load_knowledge().formulas[name].read_text("utf-8")
    fault = next(line.split(":")[1].strip() for line in text.splitlines() if line.startswith("# fault"))
    found = default_advisor().examiner.examine(demo(name), after_bake=False)
    worst = max(r.risk for r in found.diagnosis.risks.values())
    ranks = ", ".join(f"{r.id} {r.probability:.2f}" for r in found.diagnosis.causes[:4])
    assert worst >= RISK_LIMIT, f"worst risk {worst:.2f}; {ranks}"
    assert fault == found.diagnosis.causes[0].id, ranks


# ---- good formulas: silence


def loud(formula: Formula) -> dict[str, float]:
    found = default_advisor().examiner.examine(formula, after_bake=False)
    return {s: round(r.risk, 2) for s, r in found.diagnosis.risks.items() if r.risk > RISK_LIMIT}


@pytest.mark.parametrize("case", [pytest.param(c, id=c.id) for c in sound_cases()])
def test_a_good_formula_is_met_with_silence(case):
    formula = read_formula_text(case.text, load_knowledge(), name=case.id)
    found = default_advisor().examiner.examine(formula, after_bake=False)
    assert found.structure in {case.structure, *case.also}, found.inference.structures
    assert {} == loud(formula)


def test_every_structure_has_three_good_formulas():
    for structure in load_knowledge().structures:
        assert 3 <= sum(c.structure == structure for c in sound_cases()), structure


@pytest.mark.parametrize("name", balanced_names())
def test_a_balanced_demo_formula_is_met_with_silence(name):
    assert {} == loud(demo(name))


def jittered(formula: Formula, chance: random.Random, by: float) -> Formula:
    lines = (replace(line, grams=line.grams * (1 + chance.uniform(-by, by))) for line in formula.lines)
    return formula.with_lines(tuple(lines))


def test_careless_weighing_raises_few_false_alarms():
    """Every line of a balanced formula up to 5 % off, ten times each: at most one alarm in ten."""
    chance = random.Random(20240229)
    alarms = {}
    trials = 0
    for name in balanced_names():
        for turn in range(10):
            trials += 1
            if found := loud(jittered(demo(name), chance, 0.05)):
                alarms[f"{name} {turn}"] = found
    assert len(alarms) <= 0.10 * trials, f"{counted(len(alarms), trials)} false alarms: {alarms}"


# ---- pairs: one amount apart (those from published experiments stand in tests/outside/)


@pytest.mark.parametrize("pair", by_id(PAIRS))
def test_the_faulty_one_of_a_pair_is_worse(pair):
    assert pair_fault(pair) is None, pair_fault(pair)


def pair_fault(pair) -> str | None:
    """Say what does not hold of a pair; `None` if all does."""
    examine = default_advisor().examiner.examine
    sound = examine(edited(pair, pair["sound"], pair["id"]), after_bake=False)
    faulty = examine(edited(pair, pair["faulty"], pair["id"]), after_bake=False)
    was, now = (x.diagnosis.risks[pair["risk_rises"]].risk for x in (sound, faulty))
    if not now >= was + 0.01:
        return f"risk of {pair['risk_rises']} {was:.3f} to {now:.3f}: does not rise by 0.01"
    a, b = (_value(x, pair["measure"]) for x in (sound, faulty))
    if a is None or b is None:
        return f"{pair['measure']} has no value: {a} and {b}"
    if (b > a) != (pair["moves"] == "up") or b == a:
        return f"{pair['measure']} {a:.4g} to {b:.4g}: does not go {pair['moves']}"
    return None


def _value(found, name: str) -> float | None:
    """A measure of what is not in the formula (an enzyme) is nothing, not unknown."""
    absent = found.workings.measures.by_id[name].reason == "not in this formula"
    return 0.0 if absent else found.situation.measures.get(name)
