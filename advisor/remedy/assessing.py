"""The whole answer to one formula: examination, proposals, reminders, cautions, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from advisor.diagnosis.kitchen_shifts import KitchenShifts
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.knowledge_base.text_fields import filled_in
from advisor.knowledge_base.texts import Caution, Rescue
from advisor.remedy.constraints import Constraints
from advisor.remedy.plan.first_trial import FirstTrial, first_trial
from advisor.remedy.plan.joint_plan import JointPlan, joint_plan
from advisor.remedy.plan.two_at_once import two_at_once
from advisor.remedy.proposing import Plans, propose
from advisor.remedy.rescuing import rescues_for
from advisor.remedy.sensitivity import Slip, slips


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """What `check` and `diagnose` give."""

    kind: str
    examination: Examination
    plans: Plans
    reminders: tuple[str, ...]
    cautions: tuple[Caution, ...]
    broken: tuple[str, ...]
    assumed: tuple[str, ...]
    warnings: tuple[str, ...]

    @property
    def deciding_risk(self) -> float:
        """The risk (0..1) that decides a check: certain where a limit is broken, a number is far out of its band, or
        something that decides could not be judged. There is no all-clear beside one of these."""
        return 1.0 if self.broken or self.examination.no_all_clear else self.worst_risk

    @property
    def worst_risk(self) -> float:
        """The largest risk of any symptom (0..1)."""
        return max((r.risk for r in self.examination.diagnosis.risks.values()), default=0.0)


def guesses_in(found: Examination) -> tuple[str, ...]:
    """What was not read, what decides and is not stated, and what could not be judged: none of it passes `--strict`."""
    formula = found.formula
    open_still = [
        m for m in formula.asked if m.field not in found.situation.stated and m.field != _ASKED_LATER
    ]
    return (
        *formula.warnings,
        *(f"not stated: {missing.what}" for missing in open_still),
        *(gap.says for gap in found.not_judged),
    )


_ASKED_LATER = "sliced_after_min"
"""When a loaf is cut no formula says before the bake."""


def filled(template: str, examination: Examination) -> str:
    """Fill a rule's sentence with the numbers of this formula; quantities in it stay fields."""
    numbers: dict[str, object] = {
        **examination.situation.process_words,
        **examination.situation.process_numbers,
    }
    numbers |= examination.situation.measures
    return filled_in(template, numbers)


class Advisor:
    """Knowledge with everything that is compiled from it; one serves any number of formulas and threads."""

    def __init__(self, examiner: Examiner) -> None:
        self.examiner = examiner
        self.knowledge = examiner.knowledge

    def in_kitchen(self, shifts: KitchenShifts) -> Advisor:
        """Give an advisor that knows what a kitchen's own bakes have taught; this one stays as it is."""
        return Advisor(self.examiner.in_kitchen(shifts))

    def check(self, formula: Formula, constraints: Constraints | None = None) -> Assessment:
        """Look at a formula before it is baked."""
        return self._assess("check", formula, self.examiner.examine(formula, after_bake=False), constraints)

    def look(self, formula: Formula, constraints: Constraints | None = None) -> Assessment:
        """Look at a formula as `check` does, without looking for changes: what an amount that is being moved needs."""
        found = self.examiner.examine(formula, after_bake=False)
        return self._assess("check", formula, found, constraints, Plans(proposals=(), declined=()))

    def diagnose(
        self,
        formula: Formula,
        *,
        saw: Iterable[str] = (),
        not_seen: Iterable[str] = (),
        answers: Mapping[str, str] | None = None,
        constraints: Constraints | None = None,
    ) -> Assessment:
        """Find why a baked loaf failed.

        Raises:
            KeyError: a symptom, question or answer that is not known.
        """
        found = self.examiner.examine(
            formula, saw=tuple(saw), not_seen=tuple(not_seen), answers=answers, after_bake=True
        )
        return self._assess("diagnosis", formula, found, constraints)

    def plan_together(self, answer: Assessment, constraints: Constraints | None = None) -> JointPlan | None:
        """Give the plan that moves several things at once, where more than one measure is out or two causes are likely.

        Amounts alone, or the cures of the two likeliest causes: whichever helps more.
        """
        found, proposals = answer.examination, answer.plans.proposals
        best = max((p.relief for p in proposals), default=0.0)
        amounts = joint_plan(self.examiner, found, constraints or Constraints(), best_single=best)
        both = two_at_once(self.examiner, found, proposals)
        if amounts is None or both is None:
            return amounts or both
        return amounts if amounts.relief >= both.relief else both

    def bake_first(self, answer: Assessment) -> FirstTrial | None:
        """Choose the proposal whose outcome tells most about the causes that compete."""
        return first_trial(self.examiner, answer.examination, answer.plans.proposals)

    def rescues(self, answer: Assessment) -> tuple[Rescue, ...]:
        """Say what can be done with the dough or the loaf at hand."""
        return rescues_for(
            answer.examination, self.knowledge, least=self.knowledge.coefficient("rescue_cause_from")
        )

    def weighing_slips(self, answer: Assessment) -> tuple[Slip, ...]:
        """Weigh every line a little off; the slips that matter most come first."""
        return slips(self.examiner, answer.examination)

    def _assess(
        self,
        kind: str,
        formula: Formula,
        found: Examination,
        constraints: Constraints | None,
        plans: Plans | None = None,
    ) -> Assessment:
        limits = constraints or Constraints()
        cautions = tuple(self.knowledge.cautions[c] for c in found.inference.cautions)
        reminders = tuple(dict.fromkeys(filled(text, found) for _, text in found.inference.reminders))
        return Assessment(
            kind=kind,
            examination=found,
            plans=propose(self.examiner, found, limits) if plans is None else plans,
            reminders=reminders,
            cautions=cautions,
            broken=limits.broken_by(found),
            assumed=(*found.formula.assumed, *found.workings.measures.assumed, *self.examiner.shifts.says),
            warnings=(*formula.warnings, *found.diagnosis.warnings),
        )
