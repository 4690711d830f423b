"""Why a cause is suspected or not, or where the risk of a symptom comes from: the kind `proof`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from advisor.diagnosis.pipeline import Examination
from advisor.inference.proof import Missed, Proof, why, why_not
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.documents.shape import Document, Share, shape

About = Literal["cause", "symptom"]


@shape
class AboutShape:
    """What was asked about."""

    kind: About
    """A cause or a symptom."""
    id: str
    """Its id."""


@shape
class ContributionShape:
    """What one cause adds to the risk of the symptom."""

    cause: str
    """Id of the cause."""
    share: float
    """Its share of the risk."""


@shape
class ProofShape:
    """A fact with the rules that concluded it, or a rule that fired with the facts that it stood on."""

    fact: tuple[str, str]
    """Kind and name of the fact."""
    rule: str | None
    """Id of the rule that fired; null for a fact."""
    text: str
    """The rule's own sentence, or a short reading of a measure; empty elsewhere."""
    denied: bool
    """Whether the rule fired because this did not hold."""
    evidence: str | None
    """How the rule speaks on the cause: weak, moderate, strong, told, against or rules_out."""
    excess: float | None
    """How far the number that it read is past the edge, 1 being as far as matters."""
    depth: float | None
    """How far the number that it read lies inside its band."""
    share: float
    """How much of the evidence counts: below 1 where the rule reads what nobody stated and was assumed."""
    children: tuple[ProofShape, ...]
    """What it rests on; a fact that rests on nothing was given."""


@shape
class MissedShape:
    """A rule that would have spoken on the cause, and its first condition that did not hold."""

    rule: str
    """Id of the rule."""
    evidence: str
    """How it would have spoken."""
    subject: tuple[str, str]
    """Kind and name of what the condition reads."""
    denied: bool
    """Whether the rule wanted the condition not to hold, and it held."""
    known: bool
    """Whether what the condition reads has a value at all."""
    distance: float | None
    """How far the number is from the edge at which the condition would hold; null where it is no number."""


@shape
class ProofDocument(Document):
    """Why, and why not."""

    kind: Literal["proof"] = "proof"
    """A proof."""
    about: AboutShape
    """What was asked about."""
    probability: Share | None
    """How likely the cause is; null for a symptom, or for a cause that is out of play."""
    risk: Share | None
    """How likely the symptom is; null for a cause."""
    contributions: tuple[ContributionShape, ...]
    """What each cause adds to the risk of the symptom; empty for a cause."""
    proof: ProofShape | None
    """The proof; null for a symptom, or where no rule spoke."""
    missed: tuple[MissedShape, ...]
    """Rules that did not fire; empty for a symptom."""


def proof_document(found: Examination, knowledge: Knowledge, kind: About, name: str) -> ProofDocument:
    """Give the proof tree of a cause with the rules that missed, or the parts of a symptom's risk."""
    about = AboutShape(kind=kind, id=name)
    if kind == "symptom":
        risk = found.diagnosis.risks[name]
        parts = tuple(ContributionShape(cause=c.cause, share=c.share) for c in risk.contributions)
        return ProofDocument(
            about=about, probability=None, risk=risk.risk, contributions=parts, proof=None, missed=()
        )
    rank = next((r for r in found.diagnosis.causes if r.id == name), None)
    proof = why(found.inference, knowledge.rules.values(), "suspect", name)
    return ProofDocument(
        about=about,
        probability=rank.probability if rank else None,
        risk=None,
        contributions=(),
        proof=_tree(proof) if proof else None,
        missed=_missed(why_not(found.situation, found.inference, knowledge.rules.values(), name)),
    )


def _tree(proof: Proof) -> ProofShape:
    return ProofShape(
        fact=proof.fact,
        rule=proof.rule,
        text=proof.text,
        denied=proof.denied,
        evidence=proof.evidence,
        excess=proof.excess,
        depth=proof.depth,
        share=proof.share,
        children=tuple(_tree(child) for child in proof.children),
    )


def _missed(missed: Sequence[Missed]) -> tuple[MissedShape, ...]:
    return tuple(
        MissedShape(
            rule=m.rule,
            evidence=m.evidence,
            subject=(m.condition.subject, m.condition.name),
            denied=m.denied,
            known=m.known,
            distance=m.distance,
        )
        for m in missed
    )
