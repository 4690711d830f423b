"""Exact posterior of independent causes in a two-layer noisy-OR network with leaks.

With causes x_i, P(symptom j stays away | x) = (1 - leak_j) prod_i (1 - q_ij)^x_i. Absent symptoms
factorise. Present ones are summed in one of two ways:

- up to eight: inclusion-exclusion over subsets of the present symptoms (quickscore, Heckerman 1989). It
  subtracts large terms, so its loss of digits is bounded from the size of its terms, and where the bound is
  too large the second way is taken;
- otherwise: a dynamic programme over the subset of present symptoms explained so far, causes taken one
  after the other, forwards and backwards. All its terms are positive, so that nothing is lost.

One call weighs several variants of the same evidence (as if a question had been answered, a symptom looked
for).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from advisor.diagnosis.signs import Sign

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

SEEN_AT_MOST = 12
SUBTRACT_UP_TO = 8
EXACT = 1e-10
"""Largest error of a probability that is let pass: a page shows hundredths."""
_ROUNDING = 2.3e-16
_CELLS_AT_ONCE = 2_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Prior probabilities (0 < p < 1) of the causes in play, signs seen (at most 12) and signs absent."""

    priors: Mapping[str, float]
    present: tuple[Sign, ...] = ()
    absent: tuple[Sign, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """The evidence with a change: ratios of an answer, a further absent sign, causes excluded."""

    ratios: Mapping[str, float] = field(default_factory=dict)
    also_absent: Sign | None = None
    without: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """Likelihood of the evidence (ratios of a variant multiplied in), and each cause's posterior."""

    likelihood: float
    probability: Mapping[str, float]


def weigh(
    evidence: Evidence, variants: Sequence[Variant] = (Variant(),), *, precision: float = EXACT
) -> tuple[Weighed, ...]:
    """Give the posterior under each variant; `precision` bounds the absolute error of a probability.

    Raises:
        ValueError: more than twelve present signs.
    """
    import numpy as np

    present = evidence.present
    if len(present) > SEEN_AT_MOST:
        raise ValueError(f"{len(present)} signs seen; at most {SEEN_AT_MOST} can be weighed exactly")
    causes = sorted(evidence.priors)
    column = {cause: n for n, cause in enumerate(causes)}
    prior = np.array([evidence.priors[cause] for cause in causes])
    stay = np.ones(len(causes))
    silent = 1.0
    for sign in evidence.absent:
        silent *= 1.0 - sign.leak
        for cause, strength in sign.influence.items():
            if cause in column:
                stay[column[cause]] *= 1.0 - strength
    on = np.tile(prior * stay, (len(variants), 1))
    scale = np.full(len(variants), silent)
    for row, variant in enumerate(variants):
        for cause, ratio in variant.ratios.items():
            if cause in column:
                on[row, column[cause]] *= ratio
        if variant.also_absent is not None:
            scale[row] *= 1.0 - variant.also_absent.leak
            for cause, strength in variant.also_absent.influence.items():
                if cause in column:
                    on[row, column[cause]] *= 1.0 - strength
        for cause in variant.without:
            if cause in column:
                on[row, column[cause]] = 0.0
    off = 1.0 - prior
    strengths = np.array([[sign.influence.get(cause, 0.0) for cause in causes] for sign in present])
    strengths = strengths.reshape(len(present), len(causes))
    leaks = np.array([sign.leak for sign in present])
    total, joint = _weigh_rows(on, off, strengths, leaks, precision)
    posterior = np.clip(joint / total[:, None], 0.0, 1.0)
    return tuple(
        Weighed(likelihood=float(t * s), probability=dict(zip(causes, row, strict=True)))
        for t, s, row in zip(total, scale, posterior.tolist(), strict=True)
    )


def _weigh_rows(
    on: Array, off: Array, strengths: Array, leaks: Array, precision: float
) -> tuple[Array, Array]:
    """Turn weights on [variants, causes] and off [causes] into evidence [variants] and joint."""
    import numpy as np

    touched = strengths.any(axis=0)
    # A cause that leads to nothing that was seen is independent of the rest: its factor stands outside the
    # sum.
    outside = on[:, ~touched] + off[~touched]
    joint = np.empty_like(on)
    inner_total = np.full(len(on), float(np.prod(leaks)))
    if touched.any():
        inner_total, inner = _sum_seen(on[:, touched], off[touched], strengths[:, touched], leaks, precision)
        joint[:, touched] = inner * outside.prod(axis=1)[:, None]
    total = inner_total * outside.prod(axis=1)
    joint[:, ~touched] = on[:, ~touched] / outside * total[:, None]
    return total, joint


def _sum_seen(on: Array, off: Array, strengths: Array, leaks: Array, precision: float) -> tuple[Array, Array]:
    import numpy as np

    if len(leaks) > SUBTRACT_UP_TO:
        return cover(on, off, strengths, leaks)
    total, joint = np.empty(len(on)), np.empty_like(on)
    step = max(1, _CELLS_AT_ONCE // (on.shape[1] << len(leaks)))
    for start in range(0, len(on), step):
        rows = slice(start, start + step)
        total[rows], joint[rows], loss = subtract(on[rows], off, strengths, leaks)
        inexact = np.flatnonzero(loss > precision)
        if inexact.size:
            total[start + inexact], joint[start + inexact] = cover(on[rows][inexact], off, strengths, leaks)
    return total, joint


def subtract(on: Array, off: Array, strengths: Array, leaks: Array) -> tuple[Array, Array, Array]:
    """Inclusion-exclusion: evidence, joint, and the error of a probability that rounding may cause."""
    import numpy as np

    silent = np.ones(1)  # subset of symptoms that stay away -> product of (1 - leak), signed
    stays = np.ones((1, len(off)))  # the same for (1 - q) of each cause
    for leak, strength in zip(leaks, strengths, strict=True):
        silent = np.concatenate((silent, -(1.0 - leak) * silent))
        stays = np.concatenate((stays, stays * (1.0 - strength)))
    lit = on[:, None, :] * stays
    factors = lit + off
    terms = silent * factors.prod(axis=2)
    total = terms.sum(axis=1)
    joint = np.einsum("bs,bsn->bn", terms, lit / factors)
    with np.errstate(divide="ignore"):
        loss = _ROUNDING * (len(off) + len(leaks)) * np.abs(terms).sum(axis=1) / np.maximum(total, 0.0)
    return total, joint, loss


def cover(on: Array, off: Array, strengths: Array, leaks: Array) -> tuple[Array, Array]:
    """Positive terms only: evidence and joint by the subset of present symptoms that is explained so far."""
    import numpy as np

    rows, count, seen = on.shape[0], on.shape[1], len(leaks)
    forward = np.ones((rows, 1))
    for leak in leaks:
        forward = np.concatenate((forward * (1.0 - leak), forward * leak), axis=1)
    before = np.empty((count, rows, 1 << seen))
    for n in range(count):
        before[n] = forward
        forward = off[n] * forward + on[:, n, None] * _explain(forward, strengths[:, n])
    total = forward[:, -1]
    joint = np.empty_like(on)
    backward = np.zeros((rows, 1 << seen))
    backward[:, -1] = 1.0
    for n in reversed(range(count)):
        completes = _completing(backward, strengths[:, n])
        joint[:, n] = on[:, n] * np.einsum("bs,bs->b", before[n], completes)
        backward = off[n] * backward + on[:, n, None] * completes
    return total, joint


def _explain(weights: Array, strength: Array) -> Array:
    """Let one cause explain each symptom with its influence: subset weights forwards."""
    out = weights.copy()
    for bit in strength.nonzero()[0]:
        pair = out.reshape(len(out), -1, 2, 1 << int(bit))
        pair[:, :, 1] += strength[bit] * pair[:, :, 0]
        pair[:, :, 0] *= 1.0 - strength[bit]
    return out


def _completing(weights: Array, strength: Array) -> Array:
    """Give the transpose of `_explain`: how likely all is explained in the end, from each subset."""
    out = weights.copy()
    for bit in strength.nonzero()[0]:
        pair = out.reshape(len(out), -1, 2, 1 << int(bit))
        pair[:, :, 0] *= 1.0 - strength[bit]
        pair[:, :, 0] += strength[bit] * pair[:, :, 1]
    return out
