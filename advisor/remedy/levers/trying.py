"""Trying one lever on one formula: does it apply, how far must it turn, what does it do, is it worth naming."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from advisor.diagnosis.pipeline import Examination, Examiner, heaviest
from advisor.formula.formula import Formula
from advisor.inference.bands import BandTable
from advisor.inference.situation import Judged
from advisor.knowledge_base.rule_entries import Lever, LeverTarget
from advisor.remedy.change import Changed, moved
from advisor.remedy.constraints import Constraints, per_slice
from advisor.remedy.levers.baked_through import as_far_as_told, baked_through, oven_in_steps
from advisor.remedy.levers.candidate import Candidate, Candidates
from advisor.remedy.levers.effect import Effect, effect_of, heavier
from advisor.remedy.levers.effort import effort_of
from advisor.remedy.levers.kept_moist import kept_moist
from advisor.remedy.levers.out_of_place import out_of_place
from advisor.remedy.levers.small_step import SAYS, loaf_says_otherwise, small_step
from advisor.remedy.levers.solving import Solved, measure_reader, solve, solve_partly
from advisor.remedy.levers.stated_fault import says_so, undone
from advisor.remedy.levers.target import INSIDE, JUST_INSIDE, Aim, aim_at, away_from_an_edge
from advisor.remedy.levers.turning import dial_for, handling, kind_of
from advisor.remedy.levers.usual_amounts import to_the_usual
from advisor.remedy.proposal import Declined, Proposal
from advisor.remedy.sanity import against_what_was_seen, petty, unreasonable
from advisor.remedy.side_effects import side_effects

_ANOTHER_KIND = "the change makes another kind of loaf of it, where the measure is out of its band again"


@dataclass(frozen=True, slots=True)
class _AnotherKind:
    """A change after which other structures carry the loaf, and the measure is out of their band."""

    structures: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverTrial:
    """Tries levers on one examined formula under one set of limits."""

    examiner: Examiner
    before: Examination
    constraints: Constraints
    candidates: Candidates
    """Shared by all levers: several may lead to one changed formula."""
    solutions: dict[tuple[str, Aim, tuple[tuple[str, float], ...]], Solved] = field(default_factory=dict)
    """What was solved already: lever, aim and the weights of the structures held."""

    def __call__(self, lever: Lever) -> Proposal | Declined:
        """Solve, round, apply and look afresh; a proposal if it helps, or why not."""
        if (why_not := self._why_not(lever)) is not None:
            return _no(lever, why_not)
        if lever.until is None:
            return self._by_hand(lever)
        outcome: Proposal | Declined = _no(lever, "the measure that it would move is where it should be")
        for inside, usual in ((INSIDE, True), (INSIDE, False), (JUST_INSIDE, False)):
            outcome = self._turned(lever, lever.until, inside, usual)
            if isinstance(outcome, Proposal):
                break
        return outcome

    def amount(self, lever: Lever) -> Changed | None:
        """Solve an amount lever and round it, without baking what it gives; `None` where there is no amount."""
        if lever.until is None or lever.turn.process or self._why_not(lever) is not None:
            return None
        weights, now = self.before.inference.structures, self._now(lever.until)
        aim = aim_at(lever.until, now, self._bands, weights)
        return self._solved(lever, aim, now or 0.0, weights).changed if aim else None

    @property
    def _bands(self) -> BandTable:
        return self.examiner.kinds.of(self.before.workings.dough_state).bands

    def stated(self, lever: Lever) -> bool:
        """Whether the baker says himself that what this lever undoes went wrong."""
        return says_so(lever, self.before.situation.answers, self.before.formula, self.examiner.knowledge)

    def told(self, lever: Lever) -> bool:
        """Whether an answer of the baker says so, and not only a line of the formula."""
        return says_so(lever, self.before.situation.answers, None, self.examiner.knowledge)

    def _by_hand(self, lever: Lever) -> Proposal | Declined:
        """What the baker does otherwise; where the formula states the fault, looked at without it."""
        formula = undone(lever, self.before.formula, self.examiner.knowledge)
        if formula == self.before.formula:
            return self._judged(lever, None, "", self._effect(formula, lever))
        changed = Changed(formula=formula, changes=handling(lever))
        return self._judged(lever, changed, "", self._effect(formula, lever))

    def _now(self, target: LeverTarget) -> float | None:
        judged = self.before.inference.judged.get(target.measure)
        return judged.value if judged else self.before.workings.measures.value(target.measure)

    def _why_not(self, lever: Lever) -> str | None:
        return out_of_place(lever, self.before, self.examiner, self.constraints)

    def _effect(self, formula: Formula, lever: Lever) -> Effect:
        helps = self.examiner.shifts.efficacy_here(lever.id, lever.efficacy) if lever.efficacy else None
        return self._compared(formula, None if helps is None else {lever.for_: helps})

    def _compared(self, formula: Formula, cured: Mapping[str, float] | None) -> Effect:
        after = self.candidates.of(formula).examination if formula != self.before.formula else None
        unseen = self.candidates.unseen_of(self.before)
        return effect_of(self.examiner, self.before, formula, cured, after=after, unseen=unseen)

    def _turned(self, lever: Lever, target: LeverTarget, inside: float, usual: bool) -> Proposal | Declined:
        weights, now = self.before.inference.structures, self._now(target)
        if aim_at(target, now, self._bands, weights, inside) is None:
            return self._small_step(lever, usual)
        outcome = self._turned_as(lever, target, now or 0.0, inside, weights, usual)
        if isinstance(outcome, _AnotherKind) and heaviest(outcome.structures) in (
            self.before.structure,
            *lever.structures,
        ):
            # More egg makes a whole egg loaf of one that is carried by egg and some gum: solved once more, on the bands
            # of what it becomes, where the lever is for that too. Where something else would carry it, it is another
            # loaf than the baker wanted.
            outcome = self._turned_as(lever, target, now or 0.0, inside, outcome.structures, usual)
        return _no(lever, _ANOTHER_KIND) if isinstance(outcome, _AnotherKind) else outcome

    def _turned_as(
        self,
        lever: Lever,
        target: LeverTarget,
        now: float,
        inside: float,
        weights: Mapping[str, float],
        usual: bool,
    ) -> Proposal | Declined | _AnotherKind:
        """Turn a lever with the structure held at `weights`; tell when the dough it makes is of another kind."""
        aim = aim_at(target, now, self._bands, weights, inside)
        if aim is None:
            return _no(lever, _ANOTHER_KIND)
        solved = self._solved(lever, aim, now, weights)
        if solved.changed is None:
            return _no(lever, solved.reason)
        changed = as_far_as_told(lever, solved.changed, self.before)
        more = to_the_usual(lever, changed, self.before, weights, self.examiner.knowledge) if usual else None
        solved = replace(solved, changed=more[0], note=more[1]) if more else replace(solved, changed=changed)
        assert solved.changed is not None
        candidate = self.candidates.of(solved.changed.formula)
        unbaked = candidate.judged_at_rest.get(target.measure)
        if not solved.note and self._still_outside(target, unbaked) is None:
            return _AnotherKind(candidate.structures)
        changed = self._through(self._moistened(target, solved.changed, candidate))
        # Past an edge a measure's excess counts as whole: a change that comes only part of the way would seem to do
        # nothing, though it takes that part of the fault away.
        effect = self._compared(changed.formula, {lever.for_: solved.done} if solved.done < 1 else None)
        note = solved.note or self._still_outside(target, effect.after.inference.judged.get(target.measure))
        if note is None or effect.after.situation.measures.get(target.measure) is None:
            return _AnotherKind(candidate.structures)
        if (refused := self.constraints.refuses_more(self.before.formula, changed.formula)) is not None:
            return _no(lever, refused)
        if (over := self._over_the_limit(effect)) is not None:
            return _no(lever, over)
        return self._judged(lever, changed, note, effect)

    def _small_step(self, lever: Lever, usual: bool) -> Proposal | Declined:
        """Where the measure is in its band: a small step if the loaf says otherwise, else nothing."""
        knowledge = self.examiner.knowledge
        declined = _no(lever, "the measure that it would move is where it should be")
        if not loaf_says_otherwise(lever, self.before, knowledge):
            return declined
        changed = self._well_inside(lever) or small_step(lever, self.before, knowledge)
        changed = changed and as_far_as_told(lever, changed, self.before)
        if changed is None or self.constraints.refuses_more(self.before.formula, changed.formula) is not None:
            return declined
        weights = self.before.inference.structures
        more = to_the_usual(lever, changed, self.before, weights, knowledge) if usual else None
        changed, note = more or (changed, SAYS)
        changed = self._through(changed)
        helps = "learning_turned_efficacy" if more else "remedy_small_step_efficacy"
        cured = {lever.for_: knowledge.coefficient(helps)}
        effect = self._compared(changed.formula, cured)
        if (over := self._over_the_limit(effect)) is not None:
            return _no(lever, over)
        return self._judged(lever, changed, note, effect)

    def _well_inside(self, lever: Lever) -> Changed | None:
        """Solve for well inside the band where the number lies close to the edge that the lever leads away from."""
        weights, target = self.before.inference.structures, lever.until
        now = self._now(target) if target and not lever.turn.process else None
        aim = target and away_from_an_edge(target, now, self._bands, weights)
        solved = self._solved(lever, aim, now or 0.0, weights) if aim else None
        return solved.changed if solved and solved.done >= 1 else None

    def _solved(self, lever: Lever, aim: Aim, now: float, weights: Mapping[str, float]) -> Solved:
        key = (lever.id, aim, tuple(weights.items()))
        if key not in self.solutions:
            self.solutions[key] = self._solve(lever, aim, now, weights)
        return self.solutions[key]

    def _solve(self, lever: Lever, aim: Aim, now: float, weights: Mapping[str, float]) -> Solved:
        knowledge = self.examiner.knowledge
        dial = dial_for(lever, self.before.formula, weights, knowledge)
        if dial is None:
            return Solved(changed=None, setting=0.0, reason="nothing of that kind is in the formula")
        if lever.turn.process == "oven_c" and not lever.outright:
            dial = oven_in_steps(dial, self._bands.edges("oven_set_c", weights), knowledge)
        edges = self._bands.edges("specific_volume", weights)
        read = measure_reader(
            aim.measure, weights, edges.low if edges else None, knowledge, self.before.workings.warming
        )
        solved = solve(dial, aim, read)
        if solved.changed is None:
            return solve_partly(dial, aim, read, now, knowledge.measures[aim.measure])
        return solved

    def _moistened(self, target: LeverTarget, changed: Changed, candidate: Candidate) -> Changed:
        """Give the dough the water that the change costs it, where the target is reached all the same."""
        moist = kept_moist(changed, candidate, self.before)
        if moist is None:
            return changed
        held = self.candidates.of(moist.formula).judged_at_rest.get(target.measure)
        return changed if self._still_outside(target, held) is None else moist

    def _through(self, changed: Changed) -> Changed:
        """Give the loaf the minutes that the change costs its core."""
        return baked_through(changed, self.before, self.candidates, self.examiner.knowledge)

    def _still_outside(self, target: LeverTarget, held: Judged | None) -> str | None:
        """Where the changed dough is judged anew: '' in its band, a note if much nearer to it, None otherwise."""
        was = self.before.inference.judged.get(target.measure)
        if target.into != "band" or held is None or held.state == "in":
            return ""
        if was is None or held.excess > was.excess / 2:
            return None
        name = self.examiner.knowledge.measures[target.measure].name
        return f"{name} comes near its band, not all the way into it"

    def _trust_in(self, lever: Lever) -> float:
        """How a change solved on the models has done in this kitchen against what is expected of one: 1 as expected."""
        if lever.efficacy or lever.id not in self.examiner.shifts.efficacy:
            return 1.0
        expected = self.examiner.knowledge.coefficient("learning_turned_efficacy")
        return self.examiner.shifts.efficacy_here(lever.id, expected) / expected

    def _over_the_limit(self, effect: Effect) -> str | None:
        worse = self.constraints.refuses_worse(per_slice(self.before), per_slice(effect.after))
        return worse and f"it would bring {worse[:1].lower()}{worse[1:]}"

    def _judged(
        self, lever: Lever, changed: Changed | None, note: str, effect: Effect
    ) -> Proposal | Declined:
        """Drop what no baker would do, what helps little, and what worsens more than half of what it relieves."""
        knowledge = self.examiner.knowledge
        c = knowledge.coefficient
        handled = changed.changes if changed else handling(lever)
        told = (self.before.seen, self.before.situation.answers)
        about = self.before.structure_and_kind
        if (why := against_what_was_seen(lever.id, handled, told, about, knowledge)) is not None:
            return _no(lever, f"no baker would: {why}")
        was, outright = self.before.formula, lever.outright
        if changed and (why := unreasonable(was, changed.formula, about, knowledge, outright=outright)):
            return _no(lever, f"no baker would: {why}")
        if changed and note != SAYS and petty(changed.changes, self.before.formula.dough_g, knowledge):
            return _no(lever, "so little of it nobody would see")
        if effect.relieved < c("remedy_least_relief"):
            return _no(lever, "it would relieve next to nothing")
        for symptom in self.before.seen:
            risk, then = effect.risk[symptom]
            if then - risk > c("remedy_seen_may_rise"):
                return _no(lever, f"it would worsen what was seen ({knowledge.symptoms[symptom].name})")
        if changed and not self.before.after_bake and heavier(self.before, effect.after, knowledge):
            return _no(lever, "looked at afresh, it brings more than it takes")
        if effect.worsened > effect.relieved / 2 and not lever.outright:
            worst = max(effect.risk, key=lambda s: effect.risk[s][1] - effect.risk[s][0])
            name = knowledge.symptoms[worst].name
            return _no(lever, f"it would worsen more than half of what it helps ({name})")
        a, b = self.before.workings.measures, effect.after.workings.measures
        pairs = {name: (a.value(name), b.value(name)) for name in knowledge.measures}
        beside = side_effects(self.before, effect.after, knowledge) if changed else ()
        proposal = Proposal(
            lever=lever.id,
            cause=lever.for_,
            kind=kind_of(lever, changed),
            says=lever.says,
            because=lever.because,
            changes=handled,
            formula=changed.formula if changed else self.before.formula,
            measures={name: pair for name, pair in pairs.items() if moved(*pair)},
            risk={
                s: pair
                for s, pair in effect.risk.items()
                if abs(pair[0] - pair[1]) >= c("remedy_risk_shown_from")
            },
            net_carb_per_slice=(a.value("net_carb_per_slice"), b.value("net_carb_per_slice")),
            side_effects=beside,
            relief=effect.relief * self._trust_in(lever),
            effort=effort_of(lever, changed, self.before.formula, knowledge),
        )
        return replace(proposal, side_effects=(note, *beside)) if note else proposal


def _no(lever: Lever, reason: str) -> Declined:
    return Declined(lever=lever.id, cause=lever.for_, reason=reason)
