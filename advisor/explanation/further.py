"""What is worked out beside the single changes, for page and JSON alike."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.diagnosis.hand_slips import HandSlips, hand_slips
from advisor.diagnosis.uncertainty import Uncertainty, uncertainty_of
from advisor.knowledge_base.texts import Rescue
from advisor.remedy.assessing import Advisor, Assessment
from advisor.remedy.constraints import Constraints
from advisor.remedy.plan.first_trial import FirstTrial
from advisor.remedy.plan.joint_plan import JointPlan
from advisor.remedy.sensitivity import Slip


@dataclass(frozen=True, slots=True, kw_only=True)
class Further:
    """What is worked out beside the single changes, where it was asked for."""

    joint: JointPlan | None = None
    first: FirstTrial | None = None
    rescues: tuple[Rescue, ...] = ()
    slips: tuple[Slip, ...] | None = None
    sure: Uncertainty | None = None
    """Intervals of the numbers and agreement of the verdicts."""
    hand: HandSlips | None = None
    """Slips of the hand, weighed beside the faults of the formula; `None` where nothing was seen."""

    @classmethod
    def of(
        cls,
        advisor: Advisor,
        answer: Assessment,
        limits: Constraints,
        *,
        joint: bool,
        slips: bool = False,
        sure: bool = False,
    ) -> Further:
        """Work it out: the joint plan where it is wanted, since it needs an optimiser; slips and how sure all is
        likewise.
        """
        troubled = answer.worst_risk >= advisor.knowledge.coefficient("risk_limit") or answer.kind != "check"
        return cls(
            joint=advisor.plan_together(answer, limits) if joint and troubled else None,
            first=advisor.bake_first(answer) if troubled else None,
            rescues=advisor.rescues(answer) if troubled else (),
            slips=advisor.weighing_slips(answer) if slips else None,
            sure=uncertainty_of(answer.examination, advisor.examiner) if sure else None,
            hand=hand_slips(advisor.examiner, answer.examination) if answer.examination.seen else None,
        )
