"""From when on a thing is said, and with which word: knowledge/thresholds.yaml, read once."""

from __future__ import annotations

from dataclasses import dataclass

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

        def value(name: str) -> float:
            return entries[name].value

        return cls(
            likelihoods=tuple((value(name), entries[name].word or name) for name in _LIKELIHOODS),
            cause_shown_before=value("cause_shown_before"),
            cause_shown_after=value("cause_shown_after"),
            cause_stands_out=value("cause_stands_out"),
            rival_shown=value("rival_shown"),
            link_lit=value("link_lit"),
            structure_named=value("structure_named"),
            risk_rise_said=value("risk_rise_said"),
            slip_said=value("slip_said"),
            sign_gone=value("sign_gone"),
            out_clearly=value("out_clearly"),
            out_far=value("out_far"),
            well_inside=value("well_inside"),
            causes_usual=int(value("causes_usual")),
            changes_usual=int(value("changes_usual")),
            numbers_usual=int(value("numbers_usual")),
            risks_named=int(value("risks_named")),
            slips_shown=int(value("slips_shown")),
            hand_slip_said=value("hand_slip_said"),
            hand_slips_shown=int(value("hand_slips_shown")),
            move_said=value("move_said"),
            risk_move_said=value("risk_move_said"),
            risk_moves_shown=int(value("risk_moves_shown")),
            moves_usual=int(value("moves_usual")),
            moves_full=int(value("moves_full")),
            pictured_symptoms=int(value("pictured_symptoms")),
            pictured_causes=int(value("pictured_causes")),
            pictured_routes=int(value("pictured_routes")),
            pictured_from=value("pictured_from"),
            pictured_moves=int(value("pictured_moves")),
            lesson_routes=int(value("lesson_routes")),
            lesson_beside=int(value("lesson_beside")),
            lesson_named=int(value("lesson_named")),
            lesson_changes=int(value("lesson_changes")),
        )

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
