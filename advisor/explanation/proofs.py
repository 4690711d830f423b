"""Why a cause is thought to be at work or not: what speaks for it, what that stands on, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.blocks import Block, Heading, Item, Paragraph
from advisor.explanation.chains import names_of
from advisor.explanation.facts import fact_line
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import number, percent, sentence, with_article
from advisor.inference.proof import Missed, Proof, why, why_not
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import SUPPORTING, Condition
from advisor.remedy.assessing import filled

_SPEAKS = {
    "weak": "speaks for it a little", "moderate": "speaks for it", "strong": "speaks for it strongly",
    "told": "says it outright",
    "against": "speaks against it", "rules_out": "rules it out",
}  # fmt: skip
_RULES_MISSED_SHOWN = 5
_DEEP = 2
"""Rules below one that speaks of a cause that are told unasked."""


def why_blocks(found: Examination, knowledge: Knowledge, cause: str) -> tuple[Block, ...]:
    """All that was concluded of a cause: its chance, the rules that spoke with what they stood on, and symptoms."""
    return tuple(_why(found, knowledge, cause))


def _why(found: Examination, knowledge: Knowledge, cause: str) -> Iterator[Block]:
    entry = knowledge.causes[cause]
    rank = next((r for r in found.diagnosis.causes if r.id == cause), None)
    chance = rank.probability if rank else found.diagnosis.own.get(cause, 0.0)
    likely = Thresholds.read(knowledge).likelihood(chance)
    yield Paragraph(runs=sentence(f"{entry.name}: {likely}, {percent(chance)}. {entry.says}"))
    prior = found.diagnosis.priors.get(cause, entry.base_rate)
    seen = f", and with what the loaf shows {percent(chance)}." if found.after_bake else "."
    usual = f"In general about {100 * entry.base_rate:.0f} failed loaves in 100 have it"
    yield Paragraph(runs=(f"{usual}; what this formula says makes it {percent(prior)}{seen}",))
    proof = why(found.inference, knowledge.rules.values(), "suspect", cause)
    if proof is not None:
        yield Heading(text="What the formula says")
        yield from (_firing(firing, found, knowledge, _DEEP) for firing in proof.children)
    if rank is not None and (rank.seen_for or rank.absent_against):
        yield Heading(text="What the loaf says")
        for symptom in rank.seen_for:
            yield _item(f"{knowledge.symptoms[symptom].name} is there, as it would be.")
        for symptom in rank.absent_against:
            yield _item(f"{knowledge.symptoms[symptom].name} is missing, which it would bring.")
    if rank is not None and rank.chains:
        yield Heading(text="How it gets there")
        yield from (_item(_chain(chain, knowledge)) for chain in rank.chains)


def why_not_blocks(found: Examination, knowledge: Knowledge, cause: str) -> tuple[Block, ...]:
    """What would have spoken for a cause and did not: the nearest rules, and how far they were from holding."""
    missed = why_not(found.situation, found.inference, knowledge.rules.values(), cause)
    helpful = [m for m in missed if m.evidence in SUPPORTING]
    # A number that is nearly there tells more than a fact that nobody gave.
    helpful.sort(key=lambda m: (not m.known, m.distance is None, _relative(m, found), m.rule))
    wanted = list(dict.fromkeys(_wanted(one, found, knowledge) for one in helpful))
    if not wanted:
        return ()
    items = tuple(_item(f"{one}.") for one in wanted[:_RULES_MISSED_SHOWN])
    more = len(wanted) - _RULES_MISSED_SHOWN
    further = (Paragraph(runs=(f"And {more} more, further off.",)),) if more > 0 else ()
    return (Heading(text="Signs of it that are missing"), *items, *further)


def symptom_blocks(found: Examination, knowledge: Knowledge, symptom: str) -> tuple[Block, ...]:
    """Where the risk of a symptom comes from: the causes that bring it, with their chains."""
    entry, risk = knowledge.symptoms[symptom], found.diagnosis.risks[symptom]
    chains = {r.id: r.chains for r in found.diagnosis.causes}
    items = []
    for part in [c for c in risk.contributions if c.share >= 0.01][:6]:
        chain = next((c for c in chains.get(part.cause, ()) if c[-1] == symptom), None)
        under = (Paragraph(runs=(_chain(chain, knowledge),)),) if chain else ()
        items.append(_item(f"{knowledge.causes[part.cause].name}: {percent(part.share)} by itself.", *under))
    return (
        Paragraph(runs=sentence(f"{entry.name}: risk {percent(risk.risk)}. {entry.says}")),
        Paragraph(runs=(f"Without any of these causes it still happens in {percent(risk.leak)} of loaves.",)),
        Heading(text="Where the risk comes from"),
        *items,
    )


def _item(text: str, *under: Block) -> Item:
    return Item(label="-", runs=sentence(text), under=under)


def _chain(chain: tuple[str, ...], knowledge: Knowledge) -> str:
    """What leads to what, in a sentence, with the stage at which each comes."""
    names = names_of(knowledge)
    acts = {(link.start, link.to): link.acts.replace("_", " ") for link in knowledge.links}
    steps = [f"to {names[to].lower()} ({acts[(start, to)]})" for start, to in pairwise(chain)]
    return f"{names[chain[0]]} leads {', and that '.join(steps)}."


def proof_item(cause: str, found: Examination, knowledge: Knowledge) -> Item | None:
    """The whole proof as an item that can be opened, each rule by its name; `None` where no rule spoke."""
    proof = why(found.inference, knowledge.rules.values(), "suspect", cause)
    if proof is None:
        return None
    name = knowledge.causes[cause].name.lower()
    return Item(
        label="",
        runs=(f"The proof for {name}: every rule and the facts under it",),
        under=tuple(_firing(child, found, knowledge, None) for child in proof.children),
        folded=True,
    )


def _firing(firing: Proof, found: Examination, knowledge: Knowledge, deep: int | None) -> Item:
    """A rule with what it stood on, down to so many rules below it; all of them, and named, where that is `None`."""
    speaks = f" This {_SPEAKS[firing.evidence]}" if firing.evidence else ""
    text = filled(firing.text, found) if firing.text else ""
    if firing.share < 1.0:
        # What was only assumed is told as what it is, with the little that it counts.
        text = f"Assumed: {text}"
        speaks += f", but nobody stated it, so it counts for {percent(firing.share)}"
    speaks += "." if speaks else ""
    if deep is None and firing.rule is not None:
        speaks += f" Rule {firing.rule}, grade {knowledge.rules[firing.rule].grade}."
    return _item(f"{text}{speaks}", *(_fact(fact, found, knowledge, deep) for fact in firing.children))


def _fact(fact: Proof, found: Examination, knowledge: Knowledge, deep: int | None) -> Item:
    # A denied fact is one that would have kept the rule from firing.
    no = "nothing against it here: " if fact.denied else ""
    if fact.children and deep != 0:
        below = None if deep is None else deep - 1
        under = (_firing(firing, found, knowledge, below) for firing in fact.children)
        return _item(f"{no}{_named(*fact.fact, knowledge)}, since", *under)
    return _item(f"{no}{fact_line(fact.fact, found, knowledge)}")


def _named(kind: str, name: str, knowledge: Knowledge) -> str:
    if kind == "structure":
        return f"it is {with_article(knowledge.structures[name].name)}"
    return name.replace("_", " ")


def _relative(missed: Missed, found: Examination) -> float:
    """Distance from holding as a share of the value, to rank rules that read unlike units."""
    if missed.distance is None:
        return float("inf")
    name = missed.condition.name
    value = found.situation.measures.get(name, found.situation.process_numbers.get(name, 1.0))
    return missed.distance / max(abs(value), 1e-9)


def _wanted(missed: Missed, found: Examination, knowledge: Knowledge) -> str:
    c = missed.condition
    subject = fact_line((c.subject, c.name), found, knowledge)
    if not missed.known:
        return f"It would need to be known: {subject}".removesuffix(".")
    if missed.denied:
        return f"{subject}; it would have to be otherwise"
    far = ""
    if missed.distance is not None:
        decimals = knowledge.measures[c.name].decimals if c.subject == "measure" else 1
        far = f"; {number(missed.distance, decimals)} short of it"
    return f"{subject}; wanted {_condition(c)}{far}"


def _condition(c: Condition) -> str:
    if c.is_ is not None:
        return {"not_low": "not low", "not_high": "not high", "in": "as it should be"}.get(
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
