"""The whole proof of a cause in words: every rule that spoke, and the facts under it."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.blocks import Item, Runs
from advisor.explanation.facts import because_of, fact_line
from advisor.explanation.wording import sentence
from advisor.inference.proof import Proof, why
from advisor.knowledge_base.knowledge import Knowledge

_SPEAKS = {
    "weak": "weak evidence", "moderate": "moderate evidence", "strong": "strong evidence",
    "told": "you said so",
    "against": "evidence against it", "rules_out": "rules it out",
}  # fmt: skip


def proof_item(cause: str, found: Examination, knowledge: Knowledge) -> Item | None:
    """The proof as an item that can be opened; `None` where no rule spoke."""
    proof = why(found.inference, knowledge.rules.values(), "suspect", cause)
    if proof is None:
        return None
    name = knowledge.causes[cause].name.lower()
    return Item(
        label="",
        runs=(f"The proof for {name}: every rule and the facts under it",),
        under=tuple(_tree(child, found, knowledge) for child in proof.children),
        folded=True,
    )


def _tree(proof: Proof, found: Examination, knowledge: Knowledge) -> Item:
    """One rule or fact with all that it stands on."""
    if proof.rule is not None:
        speaks = f" ({_SPEAKS.get(proof.evidence, proof.evidence)})" if proof.evidence else ""
        if proof.share < 1.0:
            speaks = speaks[:-1] + ", only assumed)" if speaks else " (only assumed)"
        grade = knowledge.rules[proof.rule].grade
        said = f"{because_of(proof.rule, found, knowledge)} Rule {proof.rule}{speaks}, grade {grade}."
        own: Runs = sentence(said)
    elif proof.denied:
        own = (f"does not hold: {proof.fact[0]} {proof.fact[1].replace('_', ' ')}",)
    else:
        own = sentence(fact_line(proof.fact, found, knowledge))
    return Item(label="-", runs=own, under=tuple(_tree(child, found, knowledge) for child in proof.children))
