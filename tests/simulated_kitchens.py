"""Kitchens with a hidden bias, simulated: what is really there makes the loaves, the record only sees what comes out.

A kitchen bakes sound formulas of the test kitchen, but its oven is 15 C cool, its powder has lost half its strength, or
its eggs are small. The causes that are really there are drawn from the priors of the formula as it really was (the
cause of the bias at least half the time), symptoms from the cause graph. Every loaf that fails is diagnosed without
anything learnt, the first change for the first cause is followed, and the next loaf says whether that helped; where it
did not, the next cause is tried.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from random import Random

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.diagnosis import signs_of
from advisor.diagnosis.kitchen_shifts import KitchenShifts
from advisor.diagnosis.pipeline import Examination, Examiner, Measured
from advisor.formula.files import formula_from_file
from advisor.formula.formula import Formula
from advisor.trial_record.bake import Bake, CameOut, Foreseen
from advisor.trial_record.foreseeing import (
    FALLEN,
    Curve,
    Sizes,
    core_by_oven,
    expected_of,
    oven_at,
    size_by_powder,
    strength_at,
)
from advisor.trial_record.learning import Terms, TrialReading, kitchen_of, learn
from advisor.trial_record.looking_back import evidence_of, trial_of
from advisor.trial_record.trials import trials_in

FORMULAS = ("almond-egg-loaf", "coconut-breakfast-loaf", "egg-white-loaf", "canteen-sandwich-loaf")
BIASES = {
    "oven": ("underbaked", "oven_too_cool"),
    "powder": ("spent_leavening",),
    "eggs": ("too_little_setting_protein",),
}
"""Bias to the causes that are right; the first is the one that it brings."""
OVEN_C, POWDER, EGGS = -15.0, 0.5, 0.75
LEAST = 0.5
CORE_SD_C, SIZE_SD, WEIGHT_SD = 1.5, 0.04, 0.01
BAKES = 10


@dataclass(frozen=True)
class Loaf:
    """One loaf: the causes really there, what brought each symptom, and what was measured."""

    name: str
    causes: frozenset[str]
    brought: dict[str, frozenset[str]]
    came_out: CameOut


def examiner() -> Examiner:
    return default_advisor().examiner


@cache
def stated(name: str) -> Formula:
    """The formula as the kitchen believes it, baked until the core is just done."""
    knowledge = load_knowledge()
    formula = formula_from_file(knowledge.formulas[name], knowledge)
    done = examiner().examine(formula, after_bake=False).workings.measures.value("core_done_min")
    assert done is not None
    return formula.with_process(bake_min=float(math.ceil(done) + 1))


@cache
def really(name: str, bias: str | None) -> Examination:
    """The formula as it really was, examined."""
    formula, knowledge = stated(name), load_knowledge()
    if bias == "oven":
        formula = formula.with_process(oven_offset_c=OVEN_C)
    elif bias == "powder":
        formula = KitchenShifts(powder_strength=POWDER).formula_here(formula, knowledge)
    elif bias == "eggs":
        lines = tuple(
            replace(line, grams=line.grams * EGGS) if "egg" in line.ingredient.id else line
            for line in formula.lines
        )
        formula = formula.with_lines(lines)
    return examiner().examine(formula, after_bake=True)


@cache
def core_curve(name: str) -> Curve:
    return core_by_oven(examiner(), stated(name), really(name, None))


@cache
def size_curve(name: str) -> Sizes:
    return size_by_powder(examiner(), stated(name), really(name, None))


@cache
def measured(name: str, oven_c: float | None, powder: float | None) -> Measured:
    """The stated formula measured as a kitchen that learnt this would."""
    learnt_so = KitchenShifts(oven_offset_c=oven_c, powder_strength=powder)
    return examiner().measured(learnt_so.formula_here(stated(name), load_knowledge()))


def diagnosed(name: str, seen: tuple[str, ...], shifts: KitchenShifts) -> Examination:
    absent = tuple(s for s in load_knowledge().symptoms if s not in seen)
    known = measured(name, shifts.oven_offset_c, shifts.powder_strength)
    return (
        examiner()
        .in_kitchen(shifts)
        .examine(stated(name), saw=seen, not_seen=absent, after_bake=True, measured=known)
    )


def bake(name: str, bias: str | None, chance: Random, *, with_bias: bool = False) -> Loaf:
    found = really(name, bias)
    main = BIASES[bias][0] if bias else None
    causes = set()
    for cause, p in sorted(found.diagnosis.priors.items()):
        if chance.random() < (max(p, LEAST) if cause == main else p) or (with_bias and cause == main):
            causes.add(cause)
    brought = {}
    for symptom, sign in signs_of(examiner().graph_of(found.formula), load_knowledge().symptoms).items():
        by = {c for c in sorted(causes) if chance.random() < sign.influence.get(c, 0.0)}
        if chance.random() < sign.leak:
            by.add("leak")
        if by:
            brought[symptom] = frozenset(by)
    true = expected_of(found.workings)
    came = CameOut(
        core_c=_read(true.core_c, chance.gauss(0, CORE_SD_C)),
        height_cm=_read(true.height_cm, (true.height_cm or 0.0) * chance.gauss(0, SIZE_SD)),
        weight_g=_read(true.weight_g, (true.weight_g or 0.0) * chance.gauss(0, WEIGHT_SD)),
    )
    return Loaf(name, frozenset(causes), brought, came)


def _read(true: float | None, off: float) -> float | None:
    return None if true is None else round(true + off, 1)


def mended(
    loaf: Loaf, cause: str, efficacy: float, bias: str | None, chance: Random, by_itself: float
) -> Loaf:
    """The same loaf again after a change for one cause: its symptoms go where nothing else brings them."""
    cured = {cause} if chance.random() < efficacy else set()
    left = {symptom: by - cured - {"leak"} for symptom, by in loaf.brought.items()}
    brought = {s: by for s, by in left.items() if by and chance.random() >= by_itself}
    return Loaf(loaf.name, loaf.causes - cured, brought, bake(loaf.name, bias, chance).came_out)


def recorded(bias: str | None, chance: Random) -> list[tuple[Bake, Bake | None]]:
    """Ten bakes as a record gives them to those who learn."""
    knowledge = load_knowledge()
    by_itself = knowledge.coefficient("learning_gone_by_itself")
    out: list[tuple[Bake, Bake | None]] = []
    while len(out) < BAKES:
        loaf = bake(chance.choice(FORMULAS), bias, chance)
        kept = _kept(loaf, len(out) + 1, None, None)
        out.append((kept, None))
        failed: dict[str, float] = {}
        while kept.seen and len(out) < BAKES:
            before = diagnosed(loaf.name, kept.seen, KitchenShifts(base_rates=failed))
            lever = next(
                lever
                for rank in before.diagnosis.causes
                for lever in knowledge.levers.values()
                if lever.for_ == rank.id and rank.own > 0
            )
            efficacy = lever.efficacy or knowledge.coefficient("learning_turned_efficacy")
            loaf = mended(loaf, lever.for_, efficacy, bias, chance, by_itself)
            reached = examiner().graph_of(stated(loaf.name)).influence[lever.for_]
            told = Foreseen(
                cause=lever.for_,
                cause_probability=before.diagnosis.own[lever.for_],
                efficacy=efficacy,
                single=True,
                # What a change promises: less of what its cause leads to.
                risk={s: (0.5, 0.5 * (1 - reached[s])) for s in kept.seen if reached.get(s, 0.0) > 0},
            )
            again = _kept(loaf, len(out) + 1, told, lever.id)
            out.append((again, kept))
            if (trial := trial_of(again, kept)) is not None and trial.outcome == "failed":
                failed[trial.cause] = failed.get(trial.cause, 1.0) * evidence_of(trial, by_itself)
            kept = again
    return out


def _kept(loaf: Loaf, number: int, told: Foreseen | None, lever: str | None) -> Bake:
    seen = tuple(loaf.brought)
    absent = tuple(s for s in load_knowledge().symptoms if s not in loaf.brought)
    core = loaf.came_out.core_c
    foreseen = replace(
        told or Foreseen(),
        oven_offset_c=None if core is None else oven_at(core_curve(loaf.name), core, examiner()),
        powder_strength=None
        if FALLEN & set(seen)
        else strength_at(size_curve(loaf.name), loaf.came_out, examiner()),
    )
    return Bake(
        formula=loaf.name, formula_text=loaf.name, baked_on="2026-05-01", seen=seen, absent=absent,
        came_out=loaf.came_out, foreseen=foreseen, followed=lever, number=number, key=str(number),
    )  # fmt: skip


def learnt(pairs: list[tuple[Bake, Bake | None]]) -> KitchenShifts:
    told = [(b.number, b.foreseen) for b, _ in pairs if b.foreseen]
    oven = [TrialReading(number=n, value=f.oven_offset_c) for n, f in told if f.oven_offset_c is not None]
    powder = [
        TrialReading(number=n, value=f.powder_strength) for n, f in told if f.powder_strength is not None
    ]
    return kitchen_of(learn(trials_in(pairs), oven, powder, Terms.read(load_knowledge())))


def right_first(bias: str | None, shifts: KitchenShifts, loaf: Loaf) -> tuple[bool, bool]:
    """Whether the first cause is right, without and with what was learnt."""
    knowledge = load_knowledge()
    right = set(BIASES[bias]) if bias else set(loaf.causes)
    right |= {parent for c in right if (parent := knowledge.causes[c].refines)}
    out = []
    for each in (KitchenShifts(), shifts):
        found = diagnosed(loaf.name, tuple(loaf.brought), each)
        out.append(found.diagnosis.causes[0].id in right)
    return out[0], out[1]


def fresh(bias: str | None, chance: Random) -> Loaf:
    """A loaf that shows what is to be found: the bias at work, or any cause."""
    while True:
        loaf = bake(chance.choice(FORMULAS), bias, chance, with_bias=bias is not None)
        wanted = {BIASES[bias][0]} if bias else set(loaf.causes)
        if any(by & wanted for by in loaf.brought.values()):
            return loaf


def run(bias: str | None, kitchens: int, seed: int, tried: int = 3) -> tuple[int, int, int]:
    """Give how often the right cause came first without and with learning, and of how many loaves."""
    without = with_learning = loaves = 0
    for kitchen in range(kitchens):
        chance = Random(f"{seed} {bias} {kitchen}")
        shifts = learnt(recorded(bias, chance))
        for _ in range(tried):
            a, b = right_first(bias, shifts, fresh(bias, chance))
            without, with_learning, loaves = without + a, with_learning + b, loaves + 1
    return without, with_learning, loaves
