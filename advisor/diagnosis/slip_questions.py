"""Which question about the making parts the slips best: asked where the formula explains nothing of what was seen.

Slips exclude one another, so the entropy is that of one distribution over "as written" and all slips, in bits, and a
question is worth what its answers are expected to take from it, a second of the baker's time.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from math import log2

from advisor.diagnosis.hand_slips import HandSlips, SlipFound, heard_with, heard_without
from advisor.knowledge_base.knowledge import Knowledge

AMOUNT, HOW_MUCH = "weighed_again", "how_much"
"""The second is asked only where the first found an amount."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipQuestion:
    """A question with its expected gain in bits, and a second."""

    id: str
    gain: float
    gain_per_second: float


def rank_slip_questions(
    hand: HandSlips, knowledge: Knowledge, answers: Collection[str], *, amount_found: bool
) -> tuple[SlipQuestion, ...]:
    """Rank the questions that tell a slip and stand not in `answers`, best a second first."""
    now = _entropy([hand.as_written, *(slip.probability for slip in hand.found)])
    asked = {question for slip in hand.found for question in slip.told_by} - set(answers)
    if not amount_found:
        asked.discard(HOW_MUCH)
    ranked = []
    for question in sorted(asked):
        gain = now - sum(
            _after(question, answer, hand, knowledge) for answer in knowledge.questions[question].answers
        )
        ranked.append(
            SlipQuestion(id=question, gain=gain, gain_per_second=gain / knowledge.questions[question].seconds)
        )
    return tuple(sorted(ranked, key=lambda worth: (-round(worth.gain_per_second, 12), worth.id)))


def _after(question: str, answer: str, hand: HandSlips, knowledge: Knowledge) -> float:
    """Give the chance of an answer times the entropy, bits, that is left after it."""
    joint = [hand.as_written * heard_without(question, answer, knowledge)]
    joint += [p for slip in hand.found for p in _with(slip, question, answer, knowledge)]
    total = sum(joint)
    return total * _entropy([p / total for p in joint]) if total > 0 else 0.0


def _with(slip: SlipFound, question: str, answer: str, knowledge: Knowledge) -> Iterator[float]:
    confirming = slip.told_by.get(question)
    if confirming is None:
        yield slip.probability * heard_without(question, answer, knowledge)
    else:
        yield slip.probability * heard_with(question, answer, confirming, knowledge)


def _entropy(shares: Collection[float]) -> float:
    return -sum(p * log2(p) for p in shares if p > 0.0)
