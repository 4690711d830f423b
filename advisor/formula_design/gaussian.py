"""Constants with normal spreads, and how measurements narrow them: the linear step of Bayes' rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """Mean and covariance of some constants."""

    mean: Array
    covariance: Array

    @classmethod
    def wide(cls, spreads: Sequence[float]) -> Belief:
        """Nothing measured: all at their usual value, each with its spread."""
        return cls(mean=np.zeros(len(spreads)), covariance=np.diag(np.square(np.asarray(spreads, float))))

    def after(self, slopes: Array, noise: Array) -> Array:
        """Covariance once numbers with these slopes and noise (standard deviations) are measured.

        P' = (P^-1 + J^T R^-1 J)^-1, whatever the numbers turn out to be.
        """
        inverse = np.linalg.inv(self.covariance)
        return np.asarray(np.linalg.inv(inverse + (slopes.T / np.square(noise)) @ slopes), np.float64)

    def spread_of(self, slopes: Array, covariance: Array | None = None) -> Array:
        """Standard deviation of numbers with these slopes."""
        within = self.covariance if covariance is None else covariance
        found: Array = np.sqrt(
            np.maximum(np.einsum("ij,jk,ik->i", slopes, within, slopes), 0.0), dtype=np.float64
        )
        return found


def best_fit(prior: Belief, at: Array, slopes: Array, off: Array, noise: Array) -> Belief:
    """One step of the best fit: `off` is what was measured less what is expected at `at` (Gauss and Newton)."""
    covariance = prior.after(slopes, noise)
    pull = (slopes.T / np.square(noise)) @ (off + slopes @ at)
    mean: Array = covariance @ (pull + np.linalg.solve(prior.covariance, prior.mean))
    return Belief(mean=mean, covariance=covariance)
