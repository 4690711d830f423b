"""The sections of the report, each made of an assessment: formula, numbers, proposals, cautions, sources."""

from __future__ import annotations

from collections.abc import Collection
from itertools import pairwise

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.wording import band_text, change_text, grams, number, percent, risk_text, state_text
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import allergens
from advisor.remedy.assessing import Assessment
from advisor.remedy.proposal import Proposal
from advisor.rendering.html import Html, items, name, paragraph, table, text
from advisor.rendering.report.report_causes import shown_ranks

PROPOSALS_SHOWN = 4


def summary_html(answer: Assessment, knowledge: Knowledge) -> Html:
    """What it comes down to, in a few lines."""
    found = answer.examination
    with_defaults, m = found.workings.dough_state.with_defaults, found.workings.measures
    pieces = with_defaults.slices * with_defaults.loaves
    structure = knowledge.structures[found.structure].name
    out = [
        paragraph(
            text(
                f"{grams(round(found.formula.dough_g))} of dough in {pieces} pieces; carried as: {structure}."
            )
        )
    ]
    carb, energy = m.value("net_carb_per_slice"), m.value("energy_kcal_per_slice")
    if carb is not None and energy is not None:
        said = f"A slice: {carb:.1f} g net carbohydrate (a convention, no regulated term), {energy:.0f} kcal."
        out.append(paragraph(text(said)))
    symptoms = found.situation.symptoms
    if seen := [knowledge.symptoms[s].name.lower() for s, there in symptoms.items() if there]:
        out.append(paragraph(text(f"The baked loaf showed: {', '.join(seen)}.")))
    limit = knowledge.coefficient("risk_limit")
    risks = sorted(found.diagnosis.risks.values(), key=lambda r: (-r.risk, r.symptom))
    over = [r for r in risks if r.risk >= limit][:5]
    if over:
        lead = "What may go wrong:" if answer.kind == "check" else "What the next loaf would risk:"
        out += [paragraph(text(lead)), items(
            text(f"{knowledge.symptoms[r.symptom].name}: {percent(r.risk)}. {knowledge.symptoms[r.symptom].says}")
            for r in over
        )]  # fmt: skip
    else:
        top = ", ".join(
            f"{knowledge.symptoms[r.symptom].name.lower()} ({percent(r.risk)})" for r in risks[:2]
        )
        out.append(paragraph(text(f"Nothing stands out. The largest risks are small: {top}.")))
    return "\n".join(out)


def formula_html(found: Examination) -> Html:
    """Every line with what it was taken to be, and the process with what was assumed."""
    total = found.formula.dough_g
    rows = [
        (
            name(line.text.strip() or line.ingredient.name),
            text(line.ingredient.name),
            text(grams(line.grams)),
            text(f"{100 * line.grams / total:.1f} %"),
            text(line.conversion),
        )
        for line in found.formula.lines
    ]
    head = ("as written", "taken to be", "weight", "of the dough", "how it was converted")
    return table("Ingredients", head, rows, figures=frozenset({2, 3}))


def numbers_html(found: Examination, knowledge: Knowledge) -> Html:
    """Every measure that has a band, those outside it first and in bold."""
    judged = sorted(found.inference.judged.items(), key=lambda item: (item[1].state == "in", -item[1].excess))
    rows = []
    for ident, lies in judged:
        if (entry := knowledge.measures.get(ident)) is None:
            continue
        unit = "" if entry.unit == "-" else f" {entry.unit}"
        state = text(state_text(lies))
        rows.append(
            (
                text(entry.name),
                text(number(lies.value, entry.decimals) + unit),
                text(band_text(lies, entry.decimals)),
                f'<span class="out">{state}</span>' if lies.state != "in" else state,
            )
        )
    head = ("measure", "here", "good", "so it is")
    return table("Measures and where they should lie", head, rows, figures=frozenset({1}))


def proposals_html(answer: Assessment, knowledge: Knowledge) -> Html:
    """What to change, best first, with what each does."""
    some = answer.plans.proposals[:PROPOSALS_SHOWN]
    if not some:
        return paragraph("No single change was found that helps more than it harms.")
    return items((_proposal(p, knowledge, answer.examination.seen) for p in some), "ol")


def _proposal(proposal: Proposal, knowledge: Knowledge, seen: Collection[str]) -> Html:
    what = "; ".join(change_text(change) for change in proposal.changes).rstrip(".")
    falls, rises = risk_text(proposal.risk, knowledge.symptoms, seen, 3)
    out = f"<strong>{text(proposal.says)}</strong>: {text(what)}. {text(proposal.because)}"
    if falls:
        out += f" Risk: {text(falls)}."
    if rises:
        out += f" Rises: {text(rises)}."
    if proposal.side_effects:
        out += f" Beside it: {text('; '.join(proposal.side_effects))}."
    return out


def cautions_html(answer: Assessment) -> Html:
    """Reminders, allergens and cautions in full, with who decides and the sources."""
    out = [items(text(reminder) for reminder in answer.reminders)]
    if held := allergens(answer.examination.formula):
        said = f"Allergens in it, to be named to whoever eats it: {', '.join(held)}."
        out.append(f'<p class="caution"><strong>{text(said)}</strong></p>')
    for caution in answer.cautions:
        decides = f" Decided by: {caution.defers_to}." if caution.defers_to else ""
        keys = f" [{', '.join(caution.sources)}]" if caution.sources else ""
        out.append(f'<p class="caution">{text(caution.text + decides + keys)}</p>')
    return "\n".join(part for part in out if part)


def granted_html(answer: Assessment) -> Html:
    """What was assumed, and warnings."""
    return items(text(x) for x in (*answer.assumed, *answer.warnings, *answer.broken))


def sources_html(answer: Assessment, knowledge: Knowledge) -> Html:
    """Works that the rules, links and cautions of this page rest on."""
    found = answer.examination
    cited: dict[str, None] = {}
    for rank in shown_ranks(answer):
        for rule in rank.rules:
            cited |= dict.fromkeys(knowledge.rules[rule].sources)
        steps = {pair for chain in rank.chains for pair in pairwise(chain)}
        for link in knowledge.links:
            if (link.start, link.to) in steps:
                cited |= dict.fromkeys(link.sources)
    for firing in found.inference.firings:
        cited |= dict.fromkeys(knowledge.rules[firing.rule].sources)
    for caution in answer.cautions:
        cited |= dict.fromkeys(caution.sources)
    rows = (f"{text(key)}: {text(knowledge.sources[key].cites)}" for key in sorted(cited))
    note = (
        "Rules, links and figures carry a grade: published (a work named here), practice (a fact of the trade without "
        "a source), memory (to be confirmed), calibrated (chosen so that known formulas come out right), demo."
    )
    return "\n".join(part for part in (items(rows), paragraph(text(note))) if part)
