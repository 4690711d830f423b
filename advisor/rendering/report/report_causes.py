"""The causes in the report: chance, chain, what speaks for and against, and the whole proof to open."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination
from advisor.diagnosis.ranking import CauseRank
from advisor.explanation.chains import names_of
from advisor.explanation.facts import because_of, fact_line
from advisor.explanation.wording import likelihood, percent
from advisor.inference.proof import Proof, why
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Assessment
from advisor.rendering.html import Html, details, items, paragraph, text

CAUSES_SHOWN = 6
_SPEAKS = {
    "weak": "weak evidence", "moderate": "moderate evidence", "strong": "strong evidence",
    "against": "evidence against it", "rules_out": "rules it out",
}  # fmt: skip


def shown_ranks(answer: Assessment) -> tuple[CauseRank, ...]:
    """Causes that a page names: possible ones, and in any case the first."""
    least = 0.15 if answer.kind == "check" else 0.05
    ranks = answer.examination.diagnosis.causes
    return tuple(rank for place, rank in enumerate(ranks) if rank.probability >= least or place == 0)[
        :CAUSES_SHOWN
    ]


def causes_html(answer: Assessment, knowledge: Knowledge) -> Html:
    """All causes that are named, most likely first."""
    return "\n".join(_cause(rank, answer.examination, knowledge) for rank in shown_ranks(answer))


def _cause(rank: CauseRank, found: Examination, knowledge: Knowledge) -> Html:
    names, entry = names_of(knowledge), knowledge.causes[rank.id]
    fired = {firing.rule for firing in found.inference.firings}
    out = [
        f"<article><h3>{text(entry.name)}: {text(likelihood(rank.probability))} ({percent(rank.probability)})</h3>",
        paragraph(text(entry.says)),
    ]
    speaks = dict.fromkeys(because_of(r, found, knowledge) for r in rank.rules_for if r in fired)
    against = dict.fromkeys(because_of(r, found, knowledge) for r in rank.rules_against if r in fired)
    if speaks:
        out += [paragraph("Speaks for it:"), items(text(x) for x in speaks)]
    if against:
        out += [paragraph("Speaks against it:"), items(text(x) for x in against)]
    if rank.chains:
        chains = (" → ".join(names[step].lower() for step in chain) for chain in rank.chains)
        out += [paragraph("How it leads there:"), items(text(x) for x in chains)]
    proof = why(found.inference, knowledge.rules.values(), "suspect", rank.id)
    if proof is not None:
        label = f"The proof for {text(entry.name.lower())}: every rule and the facts under it"
        out.append(details(label, items(_tree(child, found, knowledge) for child in proof.children)))
    return "\n".join([*out, "</article>"])


def _tree(proof: Proof, found: Examination, knowledge: Knowledge) -> Html:
    """One rule or fact with all that it stands on."""
    if proof.rule is not None:
        speaks = f" ({_SPEAKS.get(proof.evidence, proof.evidence)})" if proof.evidence else ""
        grade = knowledge.rules[proof.rule].grade
        said = f"{because_of(proof.rule, found, knowledge)} Rule {proof.rule}{speaks}, grade {grade}."
        own = text(said)
    elif proof.denied:
        own = text(f"does not hold: {proof.fact[0]} {proof.fact[1].replace('_', ' ')}")
    else:
        own = text(fact_line(proof.fact, found, knowledge))
    return own + items(_tree(child, found, knowledge) for child in proof.children)
