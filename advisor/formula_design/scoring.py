"""What a formula is worth: its risks, what is out of its band, how usual it is, and whether it keeps its limits.

score = sum severity x risk + w_out x sum excess + w_far x (far out and not judged) + w_unusual x distance^2
      + w_limit x sum of limits passed, as shares of themselves + w_passed x their number
      + w_over x risk over the limit of a check
The less, the better. Weights stand in knowledge/coefficients.yaml (design_*).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner, Measured
from advisor.diagnosis.risk import burden
from advisor.formula.formula import Formula
from advisor.formula_design.dough_parts import DoughParts
from advisor.formula_design.plausibility import Plausibility, plausibility_of
from advisor.knowledge_base.style_entries import Spread, Style
from advisor.models.measuring import dough_state_of, measure
from advisor.remedy.constraints import Constraints, per_slice

Aim = Callable[[Examination, Formula], float]
"""What an aim adds to the score: the less, the nearer to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """A formula with its look, what it is worth, and how usual it is (`None` where no style is near)."""

    formula: Formula
    look: Examination
    score: float
    usual: Plausibility | None


class Scorer:
    """Scores formulas against the same style, limits, mass and aim."""

    def __init__(
        self,
        examiner: Examiner,
        *,
        style: Style | None,
        limits: Constraints,
        mass: Spread | None = None,
        at_most: Mapping[str, float] | None = None,
        aim: Aim | None = None,
    ) -> None:
        self.examiner, self.style, self.limits, self.mass, self.aim = examiner, style, limits, mass, aim
        self.at_most = at_most or {}
        """Grams that there are of an ingredient, by its id."""
        self.knowledge = examiner.knowledge
        self._parts = DoughParts(examiner.knowledge)

    def more_than_there_is(self, formula: Formula) -> tuple[str, ...]:
        """Ids of ingredients of which a formula takes more than there is."""
        return tuple(n for n, most in self.at_most.items() if formula.grams_of(n) > most + 1e-6)

    def full(self, formula: Formula) -> Scored:
        """Score a formula by the same look that a check takes."""
        return self._scored(formula, self.examiner.examine(formula, after_bake=False, ranked=False))

    def quick(self, formula: Formula, like: Examination) -> Scored:
        """Score a formula without baking it: its gas follows the warming of a look at one that is much like it."""
        state = dough_state_of(formula, self.knowledge)
        workings = measure(state, self.knowledge, with_bake=False, warmed_like=like.workings.warming)
        known = Measured(workings=workings, structures=self.examiner.structure_of(state))
        look = self.examiner.examine(formula, after_bake=False, ranked=False, measured=known)
        return self._scored(formula, replace(look, not_judged=()))

    def _scored(self, formula: Formula, look: Examination) -> Scored:
        c = self.knowledge.coefficient
        risks = look.diagnosis.risks
        score = burden(risks, self.knowledge.symptoms)
        score += c("design_out_weight") * sum(
            j.excess for j in look.inference.judged.values() if j.state != "in"
        )
        gaps = sum(gap.decides for gap in look.not_judged)
        score += c("design_far_weight") * (len(look.far_out) + gaps)
        worst = max((r.risk for r in risks.values()), default=0.0)
        score += c("design_over_risk_weight") * max(worst - c("design_risk_kept") * c("risk_limit"), 0.0)
        over = self.limits.passed(per_slice(look))
        # A limit is a limit: a hair over it is no bargain for any gain elsewhere.
        score += c("design_limit_weight") * sum(over.values()) + c("design_limit_passed") * len(over)
        usual = None
        if self.style is not None:
            usual = plausibility_of(formula.lines, self.style, self._parts, self.knowledge)
            score += c("design_unusual_weight") * usual.distance**2
        if self.mass is not None:
            past = max(self.mass.least - formula.dough_g, formula.dough_g - self.mass.most, 0.0)
            score += c("design_limit_weight") * past / self.mass.usual
        for name, most in self.at_most.items():
            score += c("design_limit_weight") * max(formula.grams_of(name) / most - 1, 0.0)
        if self.aim is not None:
            score += self.aim(look, formula)
        return Scored(formula=formula, look=look, score=score, usual=usual)
