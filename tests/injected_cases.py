"""Faults put in (tests/cases/injected*.yaml) and what the answer makes of them; tests and tests/bench share it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import pytest
from case_files import CASES, entries, sound_cases
from edited_texts import apply_edits, ground_text

from advisor import default_advisor, load_knowledge
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.assessing import Assessment

FIRST_CASES = entries(CASES / "injected.yaml")
MORE_CASES = entries(CASES / "injected_more.yaml")
INJECTED = [*FIRST_CASES, *MORE_CASES]
_SOUND = {case.id: case.text for case in sound_cases()}
_BY_ID = {case["id"]: case for case in INJECTED}


def injected_causes(case) -> list[str]:
    """The fault or faults put in."""
    return case["causes"] if "causes" in case else [case["cause"]]


def accepted(case) -> set[str]:
    """The faults put in, what is a kind of them, and what a master baker would take as the same finding."""
    named = {*injected_causes(case), *(case.get("also_accept") or [])}
    return named | {c.id for c in load_knowledge().causes.values() if c.refines in injected_causes(case)}


def kind(case) -> str:
    """`handling` where only an answer or a statement brings the cause, else `measured`."""
    by_hand = all(load_knowledge().causes[cause].handling for cause in injected_causes(case))
    return case.get("kind") or ("handling" if by_hand else "measured")


@cache
def answer(case_id: str) -> Assessment:
    """Diagnose a case once, with its proposals."""
    case = _BY_ID[case_id]
    dough_state = _SOUND.get(case["formula"]) or ground_text(case)
    formula = read_formula_text(apply_edits(dough_state, case["inject"]), load_knowledge(), name=case_id)
    return default_advisor().diagnose(
        formula, saw=case["saw"], not_seen=case.get("not_seen") or [], answers=case.get("answers")
    )


def headings(cause: str) -> set[str]:
    """What a cause is a kind of: such a heading stands over it and takes no place of its own."""
    above = set()
    while (parent := load_knowledge().causes[cause].refines) is not None:
        above.add(parent)
        cause = parent
    return above


def order(case) -> list[str]:
    """Causes in the order of the answer, headings among them."""
    return [rank.id for rank in answer(case["id"]).examination.diagnosis.causes]


def place(case, wanted: set[str]) -> int:
    """Place of the first wanted cause in the ranking, from 1, headings counted."""
    ranking = order(case)
    return min(ranking.index(w) + 1 for w in wanted if w in ranking)


def first_cause(case) -> str:
    """The first cause that is no heading over the next."""
    ranking = order(case)
    at = 0
    while ranking[at] in headings(ranking[at + 1]):
        at += 1
    return ranking[at]


def top(case, many: int = 4) -> str:
    """The first causes with their probabilities, for messages."""
    ranks = answer(case["id"]).examination.diagnosis.causes[:many]
    return ", ".join(f"{r.id} {r.probability:.2f}" for r in ranks)


# ---- proposals


def curable(case) -> set[str]:
    """The causes whose levers are right: those accepted, what they are kinds of, and their kinds."""
    wanted = accepted(case)
    kinds = {name for name in load_knowledge().causes if headings(name) & wanted}
    return wanted.union(kinds, *(headings(cause) for cause in wanted))


def treatable(case) -> bool:
    """Tell whether any lever is known for what was put in."""
    return any(lever.for_ in curable(case) for lever in load_knowledge().levers.values())


def right_lever(case, many: int = 2) -> bool:
    """Tell whether a lever for the fault stands among the first proposals.

    One change can cure two causes and is then proposed once, for either: its lever counts for both.
    """
    plans = answer(case["id"]).plans
    first = plans.proposals[:many]
    if any(p.cause in curable(case) for p in first):
        return True
    merged = any(d.cause in curable(case) and "same change" in d.reason for d in plans.declined)
    return merged and "undo" in case and any(_share(case, p.formula) > 0 for p in first)


# ---- amounts


PROCESS_AMOUNTS = {
    ("opened at", "min"): "opened_at_min",
    ("oven", "min"): "bake_min",
    ("oven", "C"): "oven_c",
    ("proof", "min"): "proof_min",
    ("rest", "min"): "rest_min",
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


def _share(case, changed: Formula) -> float:
    """How much of the injection a changed formula undoes: 0 nothing, 1 all of it."""
    undo = case["undo"]
    start = amount(answer(case["id"]).examination.formula, undo)
    return (amount(changed, undo) - start) / (undo["to"] - undo["from"])


@dataclass(frozen=True)
class Undoing:
    """How far the best proposal that turns the injected amount goes back: `share` 1 undoes it all."""

    share: float | None
    fault: str | None


def reaches_target(lever: Lever, formula: Formula) -> str | None:
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


@cache
def undoing(case_id: str) -> Undoing:
    """Judge the best proposal that turns what was injected, and say what is wrong with it."""
    case = _BY_ID[case_id]
    undo, found = case["undo"], answer(case_id)
    start = amount(found.examination.formula, undo)
    if start != pytest.approx(undo["from"], abs=1e-6):
        said = f"the case says {undo['from']} {undo['unit']} of {undo['what']}, the formula has {start}"
        return Undoing(None, said)
    # One change can cure two causes; it is then proposed once, for either of them.
    merged = any(d.cause in accepted(case) and "same change" in d.reason for d in found.plans.declined)
    moved = [
        p
        for p in found.plans.proposals
        if (merged or p.cause in accepted(case)) and amount(p.formula, undo) != pytest.approx(start, abs=1e-9)
    ]
    if not moved and undo["what"] == "oven" and found.examination.formula.process.oven_offset_c:
        # The formula states that the oven runs off: the cure is to mend that, not to turn the dial against it.
        mended = [p for p in found.plans.proposals if not p.formula.process.oven_offset_c]
        if any(p.cause in accepted(case) for p in mended):
            return Undoing(1.0, None)
    if not moved:
        offered = [f"{p.lever} for {p.cause}" for p in found.plans.proposals]
        refused = [f"{d.lever}: {d.reason}" for d in found.plans.declined if d.cause in accepted(case)]
        said = f"no proposal turns {undo['what']}; proposed {offered}, declined {refused}"
        return Undoing(None, said)
    best, share = moved[0], _share(case, moved[0].formula)
    if not 0 < share <= 1.10:
        end = amount(best.formula, undo)
        return Undoing(
            share, f"{best.lever} undoes {100 * share:.0f} % ({start:g} to {end:g} {undo['unit']})"
        )
    lever = load_knowledge().levers[best.lever]
    if lever.until is not None and (miss := reaches_target(lever, best.formula)):
        return Undoing(share, f"{best.lever}: {miss}")
    return Undoing(share, None)
