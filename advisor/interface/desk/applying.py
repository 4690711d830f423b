"""A proposal as a formula: written out, to be saved and baked."""

from __future__ import annotations

from advisor.formula.writing.as_text import write_formula_text
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.assessing import Advisor, Assessment
from advisor.remedy.constraints import Constraints
from advisor.remedy.proposal import Proposal

TOGETHER = "together"


def applied(advisor: Advisor, answer: Assessment, limits: Constraints, which: str) -> str:
    """Give the formula with change number `which` applied, or with the joint plan (`together`), as text.

    Raises:
        InputFault: there is no such change, or it is one of handling, which a formula does not show.
    """
    if which == TOGETHER:
        plan = advisor.plan_together(answer, limits)
        if plan is None:
            raise InputFault(
                "advisor: there is no plan of several amounts for this formula; name a change by its number"
            )
        return write_formula_text(plan.formula)
    return write_formula_text(proposal_of(answer, which).formula)


def proposal_of(answer: Assessment, which: str) -> Proposal:
    """Give the change that is printed under a number.

    Raises:
        InputFault: there is no such change, or it is one of handling, which a formula does not show.
    """
    proposals = answer.plans.proposals
    if not which.isdigit() or not 1 <= int(which) <= len(proposals):
        known = f"1 to {len(proposals)}, or {TOGETHER}" if proposals else "none: nothing is proposed"
        raise InputFault(f"advisor: no change '{which[:20]}'; there are {known}")
    proposal = proposals[int(which) - 1]
    if proposal.formula == answer.examination.formula:
        raise InputFault(
            f"advisor: change {which} is one of handling, which no line of a formula holds: {proposal.changes[0].what}"
        )
    return proposal
