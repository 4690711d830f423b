"""How likely each symptom is, and which causes that risk comes from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from advisor.diagnosis.signs import Sign
from advisor.knowledge_base.graph_entries import Symptom


@dataclass(frozen=True, slots=True, kw_only=True)
class Contribution:
    """What one cause adds: probability of the cause times its influence on the symptom."""

    cause: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk:
    """The risk 0..1 of one symptom, with what it was worked out from."""

    symptom: str
    risk: float
    leak: float
    influence: Mapping[str, float] = field(repr=False)
    probability: Mapping[str, float] = field(repr=False)

    @property
    def contributions(self) -> tuple[Contribution, ...]:
        """What causes add, largest first, without those that add nothing; worked out for those who ask."""
        shares = [(c, self.probability.get(c, 0.0) * strength) for c, strength in self.influence.items()]
        shares.sort(key=lambda item: (-item[1], item[0]))
        return tuple(Contribution(cause=c, share=share) for c, share in shares if share > 0.0)


def burden(risks: Mapping[str, Risk], symptoms: Mapping[str, Symptom]) -> float:
    """Sum of the risks, each times the severity of its symptom: how much may go wrong in all."""
    return sum(symptoms[name].severity * one.risk for name, one in risks.items())


def forward_risks(signs: Iterable[Sign], probability: Mapping[str, float]) -> dict[str, Risk]:
    """Give risk = 1 - (1 - leak) prod(1 - p q) for each symptom, causes taken as independent.

    Before the bake `probability` holds the priors; after it, the posteriors: the risk that the next bake of
    the same formula, done the same way, shows the symptom. Causes that are left out count as absent.
    """
    return {
        sign.symptom: Risk(
            symptom=sign.symptom,
            risk=sign.risk(probability),
            leak=sign.leak,
            influence=sign.influence,
            probability=probability,
        )
        for sign in signs
    }
