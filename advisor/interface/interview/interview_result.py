"""What an interview comes to, in the order in which a baker needs it: why, what else, and what to do first."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.diagnosis.pipeline import Examination
from advisor.diagnosis.ranking import CauseRank
from advisor.explanation.further import Further
from advisor.explanation.wording import change_text, likelihood, percent
from advisor.interface.desk.baker_measures import BakersMeasures
from advisor.interface.desk.further_advice import rescue_section
from advisor.knowledge_base.graph_entries import Cause, Mechanism, Symptom
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import allergens
from advisor.remedy.assessing import Assessment, filled
from advisor.remedy.change import Change
from advisor.remedy.plan.first_trial import FirstTrial
from advisor.remedy.proposal import Proposal
from advisor.rendering.text import Page

OTHERS_SHOWN, OTHERS_FROM = 3, 0.05
_CHANGES_SHOWN = 4


def result_lines(
    answer: Assessment, knowledge: Knowledge, further: Further, measures: BakersMeasures
) -> list[str]:
    """The whole answer on a screen or two; every other figure is on the page that `more` shows."""
    page = Page()
    found = answer.examination
    likeliest_section(page, found, knowledge)
    others_section(page, found, knowledge)
    _first_change(page, answer, knowledge, further, measures)
    if further.rescues:
        rescue_section(page, further.rescues, baked=True)
    _cautions(page, answer)
    if answer.assumed:
        page.heading("Taken for granted")
        page.paragraph("; ".join(answer.assumed) + ".", 2, 2)
    for warning in answer.warnings:
        page.item("-", warning, 2)
    return page.lines


def leading_causes(found: Examination) -> list[CauseRank]:
    """Causes worth naming, likeliest first: those that explain something seen, where anything was.

    A heading over kinds of itself is left to its kinds.
    """
    ranks = [r for r in found.diagnosis.causes if r.probability >= OTHERS_FROM]
    parents = {r.refines for r in ranks if r.refines}
    ranks = [r for r in ranks if r.id not in parents or r.own >= OTHERS_FROM]
    return [r for r in ranks if r.seen_for] or ranks


def likeliest_section(page: Page, found: Examination, knowledge: Knowledge) -> None:
    """The most likely cause in a sentence, why, and how it leads to what was seen."""
    ranks = leading_causes(found)
    page.heading("The most likely cause")
    if not ranks:
        page.paragraph("No cause that is known here stands out for what was told.", 2, 2)
        return
    first = ranks[0]
    cause = knowledge.causes[first.id]
    page.paragraph(
        f"{cause.name}: {likelihood(first.probability)} ({percent(first.probability)}). {cause.says}", 2, 2
    )
    for said in _for(first, found, knowledge):
        page.paragraph(said, 2, 2)
    for said in _against(first, found, knowledge):
        page.paragraph(f"Against it: {said}", 2, 2)
    if first.chains:
        named = _names(knowledge)
        page.paragraph(
            "How it comes about: " + " -> ".join(named[step] for step in first.chains[0]) + ".", 2, 4
        )


def others_section(page: Page, found: Examination, knowledge: Knowledge) -> None:
    """The other causes, each with what speaks for it and against it."""
    ranks = leading_causes(found)[1:]
    if not ranks:
        return
    page.heading("What else it may be")
    for place, rank in enumerate(ranks[:OTHERS_SHOWN], 2):
        name = knowledge.causes[rank.id].name
        page.item(f"{place}.", f"{name}: {likelihood(rank.probability)} ({percent(rank.probability)}).", 2)
        said_for, said_against = _for(rank, found, knowledge), _against(rank, found, knowledge)
        page.paragraph("For it: " + (" ".join(said_for) or "nothing but that it happens."), 5, 7)
        page.paragraph("Against it: " + (" ".join(said_against) or "nothing that was told."), 5, 7)
    if len(ranks) > OTHERS_SHOWN:
        rest = ", ".join(
            f"{knowledge.causes[r.id].name.lower()} ({percent(r.probability)})"
            for r in ranks[OTHERS_SHOWN : OTHERS_SHOWN + 4]
        )
        page.paragraph(f"Less likely: {rest}.", 2, 4)


def _for(rank: CauseRank, found: Examination, knowledge: Knowledge) -> list[str]:
    said = _sentences(rank.rules_for, found, knowledge)[:2]
    if rank.seen_for:
        seen = " and ".join(knowledge.symptoms[s].name.lower() for s in rank.seen_for[:3])
        said.append(f"It explains: {seen}.")
    return said


def _against(rank: CauseRank, found: Examination, knowledge: Knowledge) -> list[str]:
    said = _sentences(rank.rules_against, found, knowledge)[:1]
    if rank.absent_against:
        absent = " and ".join(knowledge.symptoms[s].name.lower() for s in rank.absent_against[:2])
        said.append(f"It would also have brought: {absent}.")
    unexplained = [s for s in found.seen if s not in rank.seen_for]
    if unexplained:
        said.append(
            "It does not explain: " + ", ".join(knowledge.symptoms[s].name.lower() for s in unexplained) + "."
        )
    return said


def _sentences(rules: tuple[str, ...], found: Examination, knowledge: Knowledge) -> list[str]:
    fired = {f.rule for f in found.inference.firings}
    said = [filled(knowledge.rules[r].because, found) for r in rules if r in fired]
    return list(dict.fromkeys(said))


def _first_change(
    page: Page, answer: Assessment, knowledge: Knowledge, further: Further, measures: BakersMeasures
) -> None:
    proposals = answer.plans.proposals
    page.heading("Bake this first")
    if not proposals:
        page.paragraph(
            "No single change was found that helps more than it harms. 'more' shows what is known.", 2, 2
        )
        return
    first = further.first.proposal if further.first is not None else proposals[0]
    cups = cups_of(knowledge) if measures.amounts == "cups" else {}
    page.paragraph(change_in_words(first, measures, cups), 2, 4)
    page.paragraph(first.because, 2, 2)
    if first.side_effects:
        page.paragraph("Beside it: " + "; ".join(first.side_effects) + ".", 2, 2)
    page.paragraph("Change nothing else, so that the next loaf tells.", 2, 2)
    others = [(n, p) for n, p in enumerate(proposals, 1) if p is not first][:_CHANGES_SHOWN]
    if others:
        page.paragraph("Other changes ('change 2' shows one in full):", 2, 2)
        for number, proposal in others:
            page.item(f"{number}.", change_in_words(proposal, measures, cups), 4)
    if further.first is not None:
        _next_time(page, further.first, knowledge)
    else:
        look_next_time(page, answer.examination, knowledge)


def change_in_words(proposal: Proposal, measures: BakersMeasures, cups: Mapping[str, float]) -> str:
    """A change as an instruction, with cups and spoons beside grams where the baker uses those."""
    return f"{proposal.says}: {'; '.join(_change(c, measures, cups).rstrip('.') for c in proposal.changes)}."


def _change(change: Change, measures: BakersMeasures, cups: Mapping[str, float]) -> str:
    said = change_text(change)
    if change.unit != "g" or change.before is None or change.after is None or change.count_after is not None:
        return said
    household = measures.household(abs(change.after - change.before), change.what, cups)
    more = "more" if change.after > change.before else "less"
    return f"{said} ({household} {more})" if household else said


def cups_of(knowledge: Knowledge) -> dict[str, float]:
    """Give ingredient name to grams in a cup, for those of which it is known."""
    return {i.name: i.weights["cup"].grams for i in knowledge.ingredients.values() if "cup" in i.weights}


def look_next_time(page: Page, found: Examination, knowledge: Knowledge) -> None:
    """What to look for in the next loaf, where one change would tell no cause from another."""
    seen = found.seen
    if not seen:
        return
    page.heading("What to look for next time")
    for symptom in seen[:3]:
        page.item("-", f"{knowledge.symptoms[symptom].name}: {knowledge.symptoms[symptom].look}", 2)
    page.paragraph("If that stays as it was, it was another cause: come back and say so.", 2, 2)


def _next_time(page: Page, trial: FirstTrial, knowledge: Knowledge) -> None:
    symptom = knowledge.symptoms[trial.symptom]
    page.heading("What to look for next time")
    page.paragraph(f"{symptom.name}: {symptom.look}", 2, 2)
    for e in sorted(trial.expectations, key=lambda e: -e.gone):
        goes = "it is most likely gone" if e.gone >= 0.5 else "it most likely stays"
        page.item("-", f"if {knowledge.causes[e.cause].name.lower()} was the cause, {goes}", 2)


def _cautions(page: Page, answer: Assessment) -> None:
    held = allergens(answer.examination.formula)
    page.heading("Cautions")
    if held:
        page.item("-", f"Allergens in it, to be named to whoever eats it: {', '.join(held)}.", 2)
    for caution in answer.cautions:
        if not (held and caution.id == "allergens_present"):
            page.item("-", caution.short, 2)
    page.paragraph("'more' has them in full. Local rules and qualified people come first.", 2, 2)
    if answer.reminders:
        page.heading("Mind")
    for reminder in answer.reminders:
        page.item("-", reminder, 2)


def _names(knowledge: Knowledge) -> dict[str, str]:
    entries: dict[str, Cause | Mechanism | Symptom] = {
        **knowledge.causes, **knowledge.mechanisms, **knowledge.symptoms
    }  # fmt: skip
    return {name: entry.name.lower() for name, entry in entries.items()}
