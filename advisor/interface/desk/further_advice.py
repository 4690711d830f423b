"""What stands below the single changes: which to bake first, several at once, the loaf at hand, slips of the scales."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from advisor.explanation.wording import change_text, grams, percent, risk_text
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.texts import Rescue
from advisor.remedy.plan.first_trial import FirstTrial
from advisor.remedy.plan.joint_plan import JointPlan
from advisor.remedy.sensitivity import Slip
from advisor.rendering.text import Page

SLIPS_SHOWN = 5
SLIP_SAID_FROM = 0.02


def first_trial_section(page: Page, trial: FirstTrial, place: int, knowledge: Knowledge) -> None:
    """Say which change tells most, and what the next loaf shows under each cause."""
    page.heading("Which one first")
    what = "; ".join(change_text(c) for c in trial.proposal.changes).rstrip(".")
    page.paragraph(
        f"Number {place} tells most about the cause ({what}). Look at the next loaf for "
        f"{knowledge.symptoms[trial.symptom].name.lower()}:", 2, 2,
    )  # fmt: skip
    for e in trial.expectations:
        name = knowledge.causes[e.cause].name.lower()
        goes = "goes" if e.gone >= 0.5 else "stays"
        page.item("-", f"if it is {name}, it most likely {goes} ({percent(e.gone)} gone)", 2)


def joint_plan_section(page: Page, plan: JointPlan, knowledge: Knowledge, seen: Collection[str]) -> None:
    """Write the plan that changes several amounts, with what it does and what it cannot."""
    page.heading("Several amounts at once")
    page.paragraph("The smallest changes that together bring the dough into its bands:", 2, 2)
    for change in plan.changes:
        page.item("-", change_text(change), 2)
    falls, rises = risk_text(plan.risk, knowledge.symptoms, seen, 3)
    if falls:
        page.paragraph(f"Risk: {falls}.", 2, 2)
    if rises:
        page.paragraph(f"Rises: {rises}.", 2, 2)
    was, now = plan.net_carb_per_slice
    page.paragraph(f"Net carbohydrate a slice: {was:.1f} to {now:.1f} g.", 2, 2)
    if plan.unmet:
        names = ", ".join(knowledge.measures[n].name for n in plan.unmet)
        page.paragraph(f"Still outside: {names}.", 2, 2)
    if plan.relaxed:
        page.paragraph(f"To reach all of them, give up this limit: {' and '.join(plan.relaxed)}.", 2, 2)


def rescue_section(page: Page, rescues: Sequence[Rescue], *, baked: bool) -> None:
    """Say what can be done with what stands on the table."""
    page.heading("This loaf" if baked else "If this dough is mixed already")
    for rescue in rescues:
        page.item("-", f"{rescue.says} {rescue.because}")
        if rescue.mind:
            page.paragraph(rescue.mind, 2, 2)


def slips_section(page: Page, found: Sequence[Slip], knowledge: Knowledge) -> None:
    """A short table: each line weighed a little off, and what rises."""
    page.heading("If the scales are off")
    share = knowledge.coefficient("slip_share")
    if not found or found[0].rise < SLIP_SAID_FROM:
        page.paragraph(
            f"No line weighed {percent(share)} off moves any risk by as much as two in a hundred.", 2, 2
        )
        return
    page.paragraph(f"Each line weighed {percent(share)} off, the worse way; those that matter most:", 2, 2)
    for slip in found[:SLIPS_SHOWN]:
        if slip.rise < SLIP_SAID_FROM:
            break
        sign = "+" if slip.off > 0 else "-"
        leaves = "".join(f"; {knowledge.measures[n].name} leaves its band" for n in slip.leaves[:1])
        page.item(
            "-",
            f"{slip.what} {sign}{grams(abs(slip.off))}: {knowledge.symptoms[slip.symptom].name.lower()} "
            f"{percent(slip.risk[0])} to {percent(slip.risk[1])}{leaves}",
            2,
        )
