"""Why a cause is thought to be at work or not, as a tree of rules and facts with their numbers."""

from __future__ import annotations

from itertools import pairwise

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import number, percent, with_article
from advisor.inference.proof import Missed, Proof, why, why_not
from advisor.knowledge_base.graph_entries import Cause, Mechanism, Symptom
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import SUPPORTING, Condition
from advisor.remedy.assessing import filled
from advisor.rendering.text import Page

_SPEAKS = {
    "weak": "speaks for it a little", "moderate": "speaks for it", "strong": "speaks for it strongly",
    "told": "says it outright",
    "against": "speaks against it", "rules_out": "rules it out",
}  # fmt: skip
_RULES_MISSED_SHOWN = 5


def why_lines(found: Examination, knowledge: Knowledge, cause: str) -> list[str]:
    """All that was concluded of a cause: its chance, the rules that spoke with what they stood on, and symptoms."""
    page = Page()
    entry = knowledge.causes[cause]
    rank = next((r for r in found.diagnosis.causes if r.id == cause), None)
    chance = rank.probability if rank else found.diagnosis.own.get(cause, 0.0)
    page.paragraph(
        f"{entry.name}: {Thresholds.read(knowledge).likelihood(chance)}, {percent(chance)}. {entry.says}"
    )
    prior = found.diagnosis.priors.get(cause, entry.base_rate)
    page.paragraph(
        f"In general about {100 * entry.base_rate:.0f} failed loaves in 100 have it; what this formula says makes it "
        f"{percent(prior)}"
        + (f", and with what the loaf shows {percent(chance)}." if found.after_bake else ".")
    )
    proof = why(found.inference, knowledge.rules.values(), "suspect", cause)
    if proof is not None:
        page.heading("What the rules say")
        for firing in proof.children:
            _firing(page, firing, found, knowledge, 0)
    if rank is not None and (rank.seen_for or rank.absent_against):
        page.heading("What the loaf says")
        for symptom in rank.seen_for:
            page.item("-", f"{knowledge.symptoms[symptom].name.lower()} is there, as it would be", 2)
        for symptom in rank.absent_against:
            page.item("-", f"{knowledge.symptoms[symptom].name.lower()} is missing, which it would bring", 2)
    if rank is not None and rank.chains:
        page.heading("How it gets there")
        for chain in rank.chains:
            _chain(page, chain, knowledge)
    return page.lines


def why_not_lines(found: Examination, knowledge: Knowledge, cause: str) -> list[str]:
    """What would have spoken for a cause and did not: the nearest rules, and how far they were from holding."""
    missed = why_not(found.situation, found.inference, knowledge.rules.values(), cause)
    helpful = [m for m in missed if m.evidence in SUPPORTING]
    # A number that is nearly there tells more than a fact that nobody gave.
    helpful.sort(key=lambda m: (not m.known, m.distance is None, _relative(m, found), m.rule))
    page = Page()
    if not helpful:
        return page.lines
    page.lines.append("")
    page.heading("Signs of it that are missing")
    for one in helpful[:_RULES_MISSED_SHOWN]:
        page.item("-", f"{_wanted(one, found, knowledge)} ({one.rule})")
    if len(helpful) > _RULES_MISSED_SHOWN:
        more = len(helpful) - _RULES_MISSED_SHOWN
        page.paragraph(f"and {more} {'rule' if more == 1 else 'rules'} further off.", 2, 2)
    return page.lines


def symptom_lines(found: Examination, knowledge: Knowledge, symptom: str) -> list[str]:
    """Where the risk of a symptom comes from: the causes that bring it, with their chains."""
    page = Page()
    entry, risk = knowledge.symptoms[symptom], found.diagnosis.risks[symptom]
    page.paragraph(f"{entry.name}: risk {percent(risk.risk)}. {entry.says}")
    page.paragraph(f"Without any of these causes it still happens in {percent(risk.leak)} of loaves.")
    page.heading("Where the risk comes from")
    chains = {r.id: r.chains for r in found.diagnosis.causes}
    for part in [c for c in risk.contributions if c.share >= 0.01][:6]:
        page.item("-", f"{knowledge.causes[part.cause].name.lower()}: {percent(part.share)} by itself", 2)
        for chain in chains.get(part.cause, ()):
            if chain[-1] == symptom:
                _chain(page, chain, knowledge, 4)
                break
    return page.lines


def _chain(page: Page, chain: tuple[str, ...], knowledge: Knowledge, indent: int = 2) -> None:
    names: dict[str, Cause | Mechanism | Symptom] = {
        **knowledge.causes,
        **knowledge.mechanisms,
        **knowledge.symptoms,
    }
    acts = {(link.start, link.to): link.acts.replace("_", " ") for link in knowledge.links}
    said = names[chain[0]].name.lower()
    for start, to in pairwise(chain):
        said += f" -> ({acts[(start, to)]}) {names[to].name.lower()}"
    page.paragraph(said, indent, indent + 2)


def _firing(page: Page, firing: Proof, found: Examination, knowledge: Knowledge, depth: int) -> None:
    indent = 2 + 4 * depth
    speaks = f" This {_SPEAKS[firing.evidence]}" if firing.evidence else ""
    strength = ""
    if firing.evidence and firing.excess is not None and firing.evidence != "rules_out":
        share = firing.depth if firing.evidence == "against" else firing.excess
        strength = f", at {percent(share)} of its full weight" if share is not None and share < 0.995 else ""
    text = filled(firing.text, found) if firing.text else ""
    if firing.share < 1.0:
        # What was only assumed is told as what it is, with the little that it counts.
        text = f"Assumed: {text}"
        strength = f", but nobody stated it, so it counts for {percent(firing.share)}"
    said = f"- {text}{speaks}{strength}{'.' if speaks else ''} [{firing.rule}]"
    page.paragraph(said, indent, indent + 2)
    for fact in firing.children:
        _fact(page, fact, found, knowledge, depth)


def _fact(page: Page, fact: Proof, found: Examination, knowledge: Knowledge, depth: int) -> None:
    kind, name = fact.fact
    indent = 6 + 4 * depth
    # A denied fact is one that would have kept the rule from firing.
    no = "not otherwise: " if fact.denied else ""
    if fact.children and depth < 3:
        page.paragraph(f"* {no}{_named(kind, name, knowledge)}, since", indent, indent + 2)
        for firing in fact.children:
            _firing(page, firing, found, knowledge, depth + 2)
        return
    page.paragraph(f"* {no}{_given(kind, name, found, knowledge)}", indent, indent + 2)


def _named(kind: str, name: str, knowledge: Knowledge) -> str:
    if kind == "structure":
        return f"it is {with_article(knowledge.structures[name].name)}"
    return name.replace("_", " ")


def _given(kind: str, name: str, found: Examination, knowledge: Knowledge) -> str:
    """A fact with its number and where its band lies."""
    situation = found.situation
    if kind == "measure" and name in situation.measures:
        entry, judged = knowledge.measures[name], found.inference.judged.get(name)
        unit = "" if entry.unit == "-" else f" {entry.unit}"
        said = f"{entry.name} {number(situation.measures[name], entry.decimals)}{unit}"
        if judged is None:
            return said
        low = "" if judged.low is None else number(judged.low, entry.decimals)
        high = "" if judged.high is None else number(judged.high, entry.decimals)
        band = f"{low} to {high}" if low and high else (f"{low} or more" if low else f"up to {high}")
        return f"{said} ({'in its band' if judged.state == 'in' else judged.state}; good is {band})"
    if kind == "symptom":
        seen = situation.symptoms.get(name)
        state = {True: "seen", False: "looked for, not there", None: "not told"}[seen]
        return f"{knowledge.symptoms[name].name.lower()}: {state}"
    if kind == "answer":
        question = knowledge.questions[name]
        given = situation.answers.get(name)
        return f"{question.question} {question.answers[given] if given else 'Not told.'}"
    if kind == "trait":
        grams = situation.traits.get(name)
        says = knowledge.traits[name].says.rstrip(".")
        return f"{says} ({grams:.1f} g in 100 g of dough)" if grams else f"none in the formula: {says}"
    if kind == "process":
        value = situation.process_numbers.get(name, situation.process_words.get(name))
        shown = (
            "not stated" if value is None else (f"{value:.4g}" if isinstance(value, float) else str(value))
        )
        return f"{name.rsplit('_', 1)[0].replace('_', ' ')}: {shown}"
    return _named(kind, name, knowledge)


def _relative(missed: Missed, found: Examination) -> float:
    """Distance from holding as a share of the value, to rank rules that read unlike units."""
    if missed.distance is None:
        return float("inf")
    name = missed.condition.name
    value = found.situation.measures.get(name, found.situation.process_numbers.get(name, 1.0))
    return missed.distance / max(abs(value), 1e-9)


def _wanted(missed: Missed, found: Examination, knowledge: Knowledge) -> str:
    c = missed.condition
    subject = _given(c.subject, c.name, found, knowledge)
    if not missed.known:
        return f"would need to be known: {subject}"
    if missed.denied:
        return f"{subject}: it would have to be otherwise"
    far = ""
    if missed.distance is not None:
        decimals = knowledge.measures[c.name].decimals if c.subject == "measure" else 1
        far = f"; {number(missed.distance, decimals)} short of it"
    return f"{subject}: wanted {_condition(c)}{far}"


def _condition(c: Condition) -> str:
    if c.is_ is not None:
        return {"not_low": "not low", "not_high": "not high", "in": "in its band"}.get(
            c.is_, c.is_.replace("_", " ")
        )
    parts = [
        f"above {c.above:g}" if c.above is not None else "",
        f"below {c.below:g}" if c.below is not None else "",
    ]
    said = " and ".join(p for p in parts if p)
    if said:
        return said
    return "stated" if c.stated else "it to be so"
