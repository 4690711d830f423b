"""What the words for evidence are worth, read once from knowledge/coefficients.yaml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.rule_entries import SUPPORTING


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceScale:
    """Likelihood ratios at full excess or depth, and how evidence that repeats itself is damped."""

    supports: Mapping[str, float]
    """weak, moderate, strong, told: ratio at excess 1, above 1."""
    against: float
    """Ratio at depth 1, below 1."""
    ruled_out_odds: float
    alike_exponent: float
    """0..1: what a second symptom of the same origin counts, as a power of its likelihood."""
    beside_share: float
    """0..1: what a cause that leads to nothing of what was seen counts when the causes are put in order."""
    main_from: float
    """Probability from which two causes are both taken to be at work."""
    as_likely: float
    """Share of a probability from which another one is as good as equal to it."""
    explains_from: float
    """0..1: influence from which a cause explains a symptom."""
    questions_at_most: int
    gain_worth_asking: float
    """Bits of expected entropy reduction below which a question is not worth the baker's time."""

    @classmethod
    def read(cls, coefficients: Mapping[str, Coefficient]) -> EvidenceScale:
        """Take the entries whose ids start with `odds_`.

        Raises:
            KeyError: one of them is missing.
        """

        def value(name: str) -> float:
            if (entry := coefficients.get(name)) is None:
                near = nearest(name, coefficients)
                raise KeyError(f"no coefficient '{name}'; near: {', '.join(near)}")
            return entry.value

        return cls(
            supports={word: value(f"odds_{word}") for word in SUPPORTING},
            against=value("odds_against"),
            ruled_out_odds=value("odds_ruled_out"),
            alike_exponent=value("odds_alike_exponent"),
            beside_share=value("odds_beside_share"),
            main_from=value("odds_main_from"),
            as_likely=value("odds_as_likely"),
            explains_from=value("odds_explains_from"),
            questions_at_most=int(value("odds_questions_at_most")),
            gain_worth_asking=value("odds_gain_worth_asking"),
        )
