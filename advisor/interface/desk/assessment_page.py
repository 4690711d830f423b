"""The page that answers a check or a diagnosis, for a baker to read at 80 columns."""

from __future__ import annotations

from collections.abc import Collection

from advisor.diagnosis.ranking import CauseRank
from advisor.explanation.further import Further
from advisor.explanation.wording import (
    LIMITS,
    change_text,
    likelihood,
    number,
    percent,
    risk_text,
)
from advisor.interface.desk.assessment_numbers import (
    clock_section,
    head_section,
    numbers_section,
    oven_section,
)
from advisor.interface.desk.further_advice import (
    first_trial_section,
    joint_plan_section,
    rescue_section,
    slips_section,
)
from advisor.knowledge_base.graph_entries import Cause, Mechanism, Symptom
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import allergens
from advisor.remedy.assessing import Assessment, filled
from advisor.remedy.proposal import Proposal
from advisor.rendering.text import Page

CAUSES_SHOWN, PROPOSALS_SHOWN = 3, 3
STANDS_OUT_FROM = 0.25
"""Probability from which a cause can be called the likely one."""


def assessment_page(
    answer: Assessment,
    knowledge: Knowledge,
    risk_limit: float,
    *,
    all_of_it: bool = False,
    further: Further | None = None,
) -> str:
    """Write the whole page."""
    page = Page()
    found = answer.examination
    head_section(page, found, knowledge)
    numbers_section(page, found, knowledge, all_of_it=all_of_it)
    oven_section(page, found)
    clock_section(page, found, knowledge)
    _verdict(page, answer, knowledge, risk_limit)
    _causes(page, answer, knowledge, all_of_it, risk_limit)
    _proposals(page, answer, knowledge, all_of_it)
    if further is not None:
        _further(page, answer, knowledge, further)
    _notes(page, answer, all_of_it)
    return page.text()


def _verdict(page: Page, answer: Assessment, knowledge: Knowledge, risk_limit: float) -> None:
    found = answer.examination
    risks = sorted(found.diagnosis.risks.values(), key=lambda r: (-r.risk, r.symptom))
    if answer.kind == "check":
        page.heading("What may go wrong")
        over = [r for r in risks if r.risk >= risk_limit]
        if not over:
            top = ", ".join(
                f"{knowledge.symptoms[r.symptom].name.lower()} ({percent(r.risk)})" for r in risks[:2]
            )
            page.paragraph(f"Nothing stands out. The largest risks are small: {top}.", 2, 2)
        for r in over[:5]:
            page.item(
                percent(r.risk),
                f"{knowledge.symptoms[r.symptom].name}: {knowledge.symptoms[r.symptom].says}",
                2,
            )
        if len(over) > 5:
            page.paragraph(f"and {len(over) - 5} more that come with these.", 8, 8)
    for sentence in answer.broken:
        page.item("Limit:", sentence, 2)


def _causes(page: Page, answer: Assessment, knowledge: Knowledge, all_of_it: bool, risk_limit: float) -> None:
    found = answer.examination
    shown_from = 0.15 if answer.kind == "check" else 0.05
    ranks = [r for r in found.diagnosis.causes if r.probability >= shown_from]
    parents = {r.refines for r in ranks if r.refines}
    ranks = [r for r in ranks if r.id not in parents or r.own >= shown_from]
    if not ranks:
        return
    if answer.kind == "check":
        page.heading("Why" if answer.worst_risk >= risk_limit else "What comes nearest to a fault")
    else:
        page.heading("Most likely causes")
        if max(r.probability for r in ranks) < STANDS_OUT_FROM:
            page.paragraph("None stands out; these come nearest.", 2, 2)
    for place, rank in enumerate(ranks if all_of_it else ranks[:CAUSES_SHOWN], 1):
        _cause(page, place, rank, answer, knowledge)
    if not all_of_it and len(ranks) > CAUSES_SHOWN:
        rest = ", ".join(
            f"{knowledge.causes[r.id].name.lower()} ({percent(r.probability)})"
            for r in sorted(ranks[CAUSES_SHOWN:7], key=lambda r: -r.probability)
        )
        page.paragraph(f"Also possible: {rest}.", 3, 3)


def _cause(page: Page, place: int, rank: CauseRank, answer: Assessment, knowledge: Knowledge) -> None:
    cause = knowledge.causes[rank.id]
    page.item(
        f"{place}.",
        f"{cause.name} ({likelihood(rank.probability)}, {percent(rank.probability)}). {cause.says}",
    )
    fired = {f.rule for f in answer.examination.inference.firings}
    said = [filled(knowledge.rules[r].because, answer.examination) for r in rank.rules_for if r in fired]
    for sentence in list(dict.fromkeys(said))[:2]:
        page.paragraph(sentence, 3, 3)
    against = [
        filled(knowledge.rules[r].because, answer.examination) for r in rank.rules_against if r in fired
    ]
    if answer.kind == "diagnosis" and against:
        page.paragraph(f"Against it: {against[0]}", 3, 3)
    if rank.chains:
        names: dict[str, Cause | Mechanism | Symptom] = {
            **knowledge.causes,
            **knowledge.mechanisms,
            **knowledge.symptoms,
        }
        page.paragraph(" -> ".join(names[step].name.lower() for step in rank.chains[0]), 3, 3)


def _proposals(page: Page, answer: Assessment, knowledge: Knowledge, all_of_it: bool) -> None:
    proposals = answer.plans.proposals
    if not proposals:
        if answer.examination.diagnosis.causes and answer.worst_risk >= knowledge.coefficient("risk_limit"):
            page.heading("What to change")
            page.paragraph("No single change was found that helps more than it harms.", 2, 2)
        return
    page.heading("What to change: one at a time, the best first")
    for place, proposal in enumerate(proposals if all_of_it else proposals[:PROPOSALS_SHOWN], 1):
        _proposal(page, place, proposal, knowledge, answer.examination.seen)
    if not all_of_it and len(proposals) > PROPOSALS_SHOWN:
        page.paragraph(f"{len(proposals) - PROPOSALS_SHOWN} more with --all.", 3, 3)


def _proposal(
    page: Page, place: int, proposal: Proposal, knowledge: Knowledge, seen: Collection[str]
) -> None:
    what = "; ".join(change_text(c) for c in proposal.changes)
    page.item(f"{place}.", f"{proposal.says}: {what.rstrip('.')}.")
    page.paragraph(proposal.because, 3, 3)
    falls, rises = risk_text(proposal.risk, knowledge.symptoms, seen)
    if falls:
        page.paragraph(f"Risk: {falls}.", 3, 3)
    if rises:
        page.paragraph(f"Rises: {rises}.", 3, 3)
    lever = knowledge.levers[proposal.lever]
    if lever.until is not None and (pair := proposal.measures.get(lever.until.measure)):
        entry = knowledge.measures[lever.until.measure]
        if pair[0] is not None and pair[1] is not None:
            a, b = number(pair[0], entry.decimals), number(pair[1], entry.decimals)
            page.paragraph(f"{entry.name.capitalize()} {a} to {b}.", 3, 3)
    if proposal.side_effects:
        page.paragraph("Beside it: " + "; ".join(proposal.side_effects) + ".", 3, 3)


def _further(page: Page, answer: Assessment, knowledge: Knowledge, further: Further) -> None:
    if further.first is not None and len(answer.plans.proposals) > 1:
        place = answer.plans.proposals.index(further.first.proposal) + 1
        first_trial_section(page, further.first, place, knowledge)
    if further.joint is not None:
        joint_plan_section(page, further.joint, knowledge, answer.examination.seen)
    if further.rescues:
        rescue_section(page, further.rescues, baked=answer.kind == "diagnosis")
    if further.slips is not None:
        slips_section(page, further.slips, knowledge)


def _notes(page: Page, answer: Assessment, all_of_it: bool) -> None:
    if answer.reminders:
        page.heading("Mind")
        for text in answer.reminders:
            page.item("-", text)
    if answer.cautions:
        page.heading("Cautions")
        held = allergens(answer.examination.formula)
        if held:
            page.item("-", f"Allergens in it, to be named to whoever eats it: {', '.join(held)}.")
        for caution in answer.cautions:
            if held and not all_of_it and caution.id == "allergens_present":
                continue
            decides = f" (Decided by: {caution.defers_to}.)" if caution.defers_to else ""
            page.item("-", caution.text + decides if all_of_it else caution.short)
        if not all_of_it:
            page.paragraph(
                "In full, with who decides, by --all. Local rules and qualified people come first.", 2, 2
            )
    if answer.assumed or answer.warnings:
        page.heading("Taken for granted")
        if answer.assumed:
            page.paragraph("Not stated, so assumed: " + "; ".join(answer.assumed) + ".", 2, 2)
        for warning in answer.warnings:
            page.item("-", warning)
    page.blank()
    page.paragraph(LIMITS)
