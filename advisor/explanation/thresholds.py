"""From when on a thing is said, and with which word: knowledge/thresholds.yaml, read once."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

from advisor.inference.situation import Judged
from advisor.knowledge_base.knowledge import Knowledge

_LIKELIHOODS = ("very_likely", "likely", "quite_possible", "possible", "unlikely")


@dataclass(frozen=True, slots=True, kw_only=True)
class Thresholds:
    """Every threshold of what is told: shares and probabilities 0..1, and numbers of things."""

    likelihoods: tuple[tuple[float, str], ...]
    """Probability from which each word is used, highest first."""
    cause_shown_before: float
    cause_shown_after: float
    cause_stands_out: float
    rival_shown: float
    link_lit: float
    structure_named: float
    risk_rise_said: float
    slip_said: float
    sign_gone: float
    out_clearly: float
    out_far: float
    well_inside: float
    causes_usual: int
    changes_usual: int
    numbers_usual: int
    risks_named: int
    slips_shown: int
    hand_slip_said: float
    hand_slips_shown: int
    move_said: float
    risk_move_said: float
    risk_moves_shown: int
    moves_usual: int
    moves_full: int
    pictured_symptoms: int
    pictured_causes: int
    pictured_routes: int
    pictured_from: float
    pictured_moves: int
    lesson_routes: int
    lesson_beside: int
    lesson_named: int
    lesson_changes: int

    @classmethod
    def read(cls, knowledge: Knowledge) -> Thresholds:
        """Take them from the knowledge.

        Raises:
            KeyError: knowledge/thresholds.yaml lacks one.
        """
        entries = knowledge.thresholds
        # Whole numbers are counts of what is shown.
        numbers: dict[str, Any] = {
            field.name: (int if field.type == "int" else float)(entries[field.name].value)
            for field in fields(cls)
            if field.name != "likelihoods"
        }
        words = tuple((entries[name].value, entries[name].word or name) for name in _LIKELIHOODS)
        return cls(likelihoods=words, **numbers)

    def likelihood(self, probability: float) -> str:
        """Say a probability in a word; the figure stands beside it on a page."""
        return next((word for edge, word in self.likelihoods if probability >= edge), "very unlikely")

    def cause_shown(self, *, after_bake: bool) -> float:
        """Probability from which a cause is named."""
        return self.cause_shown_after if after_bake else self.cause_shown_before

    def state(self, judged: Judged) -> str:
        """Where a measure lies, in words that need no colour."""
        if judged.state == "in":
            return "good" if judged.depth >= self.well_inside else "only just good"
        far = (
            "far too" if judged.excess >= self.out_far
            else "too" if judged.excess >= self.out_clearly
            else "a little"
        )  # fmt: skip
        return f"{far} {judged.state}"
