"""A symptom as evidence: its leak, what leads to it, and how much it counts beside others of the same origin.

Symptoms that share a mechanism are one observation seen several times. Of those that were seen, the most
telling counts in full; the k-th further one counts as its likelihood to the power e^k (e:
`odds_alike_exponent`). That stays a noisy-OR: with h_i = 1 - (1 - leak)(1 - q_i), the damped leak is leak^w
and the damped influence q_i' follows from 1 - (1 - leak^w)(1 - q_i') = h_i^w, w = e^k. So the likelihood
ratio of each single cause against no cause is exactly its ratio to the power w. Tempered likelihoods:
Grünwald 2012, used here for double-counted evidence.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """One symptom: leak 0..1 and influence 0..1 of each cause that leads to it."""

    symptom: str
    leak: float
    influence: Mapping[str, float]

    def risk(self, probability: Mapping[str, float]) -> float:
        """Give 1 - (1 - leak) prod(1 - p q): how likely the symptom is, given independent causes."""
        stays_away = 1.0 - self.leak
        for cause, strength in self.influence.items():
            stays_away *= 1.0 - probability.get(cause, 0.0) * strength
        return 1.0 - stays_away

    def damped(self, weight: float) -> Sign:
        """Give the sign whose likelihood is this one's to the power `weight` (0 < weight <= 1)."""
        if weight >= 1.0:
            return self
        leak = self.leak**weight
        influence: dict[str, float] = {}
        for cause, strength in self.influence.items():
            alone = (1.0 - (1.0 - self.leak) * (1.0 - strength)) ** weight
            influence[cause] = 1.0 - (1.0 - alone) / (1.0 - leak)
        return Sign(symptom=self.symptom, leak=leak, influence=influence)


def telling(sign: Sign, priors: Mapping[str, float]) -> float:
    """Give how far seeing this sign alone would move the probabilities of causes, summed; 0 or more."""
    risk = sign.risk(priors)
    moved = 0.0
    for cause, strength in sign.influence.items():
        if (p := priors.get(cause, 0.0)) > 0.0:
            # Bayes for one sign: P(sign | cause) follows from the risk by taking out the cause's own factor.
            with_cause = 1.0 - (1.0 - risk) / (1.0 - p * strength) * (1.0 - strength)
            moved += abs(p * with_cause / risk - p)
    return moved


def most_telling_first(signs: Iterable[Sign], priors: Mapping[str, float]) -> tuple[Sign, ...]:
    """Order signs by what they tell; equals by id, so that the order they came in does not matter."""
    return tuple(sorted(signs, key=lambda sign: (-round(telling(sign, priors), 12), sign.symptom)))


def damp_alike(ordered: Sequence[Sign], alike: Mapping[str, str | None], exponent: float) -> tuple[Sign, ...]:
    """Damp all but the first sign of each origin; `alike` gives a symptom's origin, if it shares one."""
    counted: dict[str, int] = {}
    out: list[Sign] = []
    for sign in ordered:
        weight = 1.0
        if (origin := alike.get(sign.symptom)) is not None:
            weight = exponent ** counted.get(origin, 0)
            counted[origin] = counted.get(origin, 0) + 1
        out.append(sign.damped(weight))
    return tuple(out)
