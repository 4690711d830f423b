"""Which few bakes teach most of a kitchen, and what their results teach.

A kitchen's constants are taken as normal about the usual. Bakes are chosen one after another, each the one after which
the next loaf's core minute, loss and volume are known best (least summed variance over that of an unmeasured kitchen).
Results are fitted by Gauss and Newton on the models themselves.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from advisor.formula.formula import Formula
from advisor.formula_design.gaussian import Array, Belief, best_fit
from advisor.formula_design.kitchen import OUTCOME, SEEN, Constants, Seen, baked_in, outcome_of, seen_of
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough_state import dough_state_of

_STEP = 0.25
"""Of a constant's spread: small against what kitchens differ by, large against the solver's error."""
_FITS = 6
_SLOPES_ANEW = (0, 2)
"""Turns of the fit at which slopes are worked out anew; between them they hardly change."""
_PROOFS = (0.35, 0.6, 1.4)
"""Shares of the formula's proof that are tried."""
MOST_BAKES = 4
_LEAST_GAIN = 0.04
TARGETS = ("core", "loss", "volume")
"""What a plan may aim at, in the order of `OUTCOME`: the minute the core is done, the weight lost, the volume."""


class PlanFault(ValueError):
    """Raised when no bakes can be planned; the message says what is missing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """A bake that could be made: what is done otherwise, in words, and the formula so."""

    id: str
    says: str
    formula: Formula


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedBake:
    """A bake of the plan, what is expected of it, and how well the next loaf is known after it."""

    variant: Variant
    expected: Seen
    spread: Seen
    """Standard deviations of what is expected, before any bake."""
    error_left: Mapping[str, float]
    """Outcome to the share of an unmeasured kitchen's error that is left after this bake."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Learnt:
    """Constants after some bakes, each with its standard deviation."""

    mean: Constants
    spread: Mapping[str, float]


def variants_of(formula: Formula, knowledge: Knowledge) -> tuple[Variant, ...]:
    """Bakes that could be made of a formula: as it stands, hotter, cooler, shorter, longer, with less or more proof."""
    given = dough_state_of(formula, knowledge).with_defaults
    work = baked_in(formula, knowledge, {})
    if work.bake is None:
        raise PlanFault("the oven's model does not follow this bake, so that no bakes of it can be planned")
    minutes, oven = work.bake.pulled_at_min, given.oven_c
    out = [Variant(id="as-written", says="as written", formula=formula.with_process(bake_min=minutes))]

    def add(name: str, says: str, **changes: float) -> None:
        out.append(
            Variant(id=name, says=says, formula=formula.with_process(**{"bake_min": minutes, **changes}))
        )

    if not formula.process.oven_steps:
        add("hotter", f"oven at {oven + 20:.0f} C in place of {oven:.0f}, {round(0.85 * minutes):.0f} min",
            oven_c=oven + 20, bake_min=float(round(0.85 * minutes)))  # fmt: skip
        add("cooler", f"oven at {oven - 20:.0f} C in place of {oven:.0f}, {round(1.15 * minutes):.0f} min",
            oven_c=oven - 20, bake_min=float(round(1.15 * minutes)))  # fmt: skip
    short = float(round(0.7 * minutes))
    add(
        "short",
        f"pulled, probed and weighed at {short:.0f} min, then baked on to {minutes:.0f}",
        bake_min=short,
    )
    if given.proof_min > 0:
        third, half, more = (round(share * given.proof_min) for share in _PROOFS)
        # The less has risen, the more its size tells of how fast the yeast works.
        add("little-proof", f"proof of {third} min in place of {given.proof_min:.0f}", proof_min=float(third))
        add("less-proof", f"proof of {half} min in place of {given.proof_min:.0f}", proof_min=float(half))
        add("more-proof", f"proof of {more} min in place of {given.proof_min:.0f}", proof_min=float(more))
    return tuple(out)


def noise_of(knowledge: Knowledge) -> Array:
    """Standard deviations of what is measured, in the order of `SEEN`."""
    c = knowledge.coefficient
    probe = c("probe_slip_c")
    # While the core still climbs, a probe a little off the middle reads further off.
    return np.array([2 * probe, 1.5 * probe, probe, c("weighing_slip"), c("volume_slip")])


class Kitchen:
    """A formula's bakes as the constants of a kitchen move them."""

    def __init__(
        self, formula: Formula, knowledge: Knowledge, constants: Sequence[str] | None = None
    ) -> None:
        known = knowledge.kitchen_constants
        self.names = tuple(constants or known)
        self.formula, self.knowledge = formula, knowledge
        self.spreads = np.array([known[name].spread for name in self.names])
        self.prior = Belief.wide(list(self.spreads))

    def numbers(self, formula: Formula, at: Array, names: Sequence[str]) -> Array:
        """What is measured (`SEEN`) or wanted (`OUTCOME`) of a bake; not a number where a model has none."""
        work = baked_in(formula, self.knowledge, dict(zip(self.names, at.tolist(), strict=True)))
        found: object = seen_of(work) if names is SEEN else outcome_of(work)
        return np.array([np.nan if (v := getattr(found, n)) is None else v for n in names])

    def slopes(self, formula: Formula, at: Array, names: Sequence[str]) -> tuple[Array, Array]:
        """The numbers, and how they move with each constant; where no model has one, nothing is learnt: 0."""
        here = self.numbers(formula, at, names)
        columns = []
        for place, spread in enumerate(self.spreads):
            step = np.zeros(len(self.names))
            step[place] = _STEP * spread
            ahead, behind = (self.numbers(formula, at + side * step, names) for side in (1, -1))
            columns.append((ahead - behind) / (2 * step[place]))
        return here, np.nan_to_num(np.array(columns).T)


def plan_bakes(
    formula: Formula,
    knowledge: Knowledge,
    *,
    most: int = MOST_BAKES,
    doubts: Sequence[str] = (),
    targets: Sequence[str] = (),
) -> tuple[PlannedBake, ...]:
    """Choose the bakes that teach most; fewer than `most` where a further one would teach next to nothing.

    `doubts` are constants, or causes that go with some; without them all constants are in doubt. `targets` are what is
    to be foretold, of `TARGETS`; without them all of it counts alike.

    Raises:
        PlanFault: no bake of this formula can be followed, a doubt goes with no constant, or no target is called so.
    """
    if unknown := [name for name in targets if name not in TARGETS]:
        raise PlanFault(f"no target '{unknown[0][:40]}'; there are: {', '.join(TARGETS)}")
    aimed = [n for n, name in enumerate(TARGETS) if not targets or name in targets]
    kitchen = Kitchen(formula, knowledge, constants_for(doubts, knowledge))
    variants = variants_of(formula, knowledge)
    zero, noise = np.zeros(len(kitchen.names)), noise_of(knowledge)
    seen = [kitchen.slopes(v.formula, zero, SEEN) for v in variants]
    wanted = kitchen.slopes(variants[0].formula, zero, OUTCOME)[1]
    before = np.maximum(kitchen.prior.spread_of(wanted), 1e-12)
    out: list[PlannedBake] = []
    belief, left = kitchen.prior, float(len(aimed))
    for _ in range(most):
        after = [belief.after(slopes, noise) for _, slopes in seen]
        errors = [belief.spread_of(wanted, covariance) / before for covariance in after]
        made = {bake.variant.id for bake in out}
        open_ones = [n for n, variant in enumerate(variants) if variant.id not in made]
        if not open_ones:
            break
        best = min(open_ones, key=lambda n: float(np.sum(errors[n][aimed] ** 2)))
        now = float(np.sum(errors[best][aimed] ** 2))
        if out and left - now < _LEAST_GAIN * left:
            break
        expected, slopes = seen[best]
        out.append(
            PlannedBake(
                variant=variants[best],
                expected=_seen(expected),
                spread=_seen(np.hypot(kitchen.prior.spread_of(slopes), noise)),
                error_left=dict(zip(OUTCOME, errors[best].tolist(), strict=True)),
            )
        )
        belief, left = replace(belief, covariance=after[best]), now
    return tuple(out)


def constants_for(doubts: Sequence[str], knowledge: Knowledge) -> tuple[str, ...]:
    """Give the constants that some doubts are about.

    Raises:
        PlanFault: a doubt goes with no constant.
    """
    known = knowledge.kitchen_constants
    out: dict[str, None] = {}
    for doubt in doubts:
        found = [name for name, entry in known.items() if doubt == name or doubt in entry.causes]
        if not found:
            causes = sorted({cause for entry in known.values() for cause in entry.causes})
            raise PlanFault(f"no bakes can part '{doubt[:40]}'; there are: {', '.join([*known, *causes])}")
        out |= dict.fromkeys(found)
    return tuple(out) or tuple(known)


def learn_bakes(
    formula: Formula,
    knowledge: Knowledge,
    results: Sequence[tuple[Formula, Seen]],
    *,
    doubts: Sequence[str] = (),
) -> Learnt:
    """Fit a kitchen's constants to what was measured on some bakes, each with its formula as baked.

    Raises:
        PlanFault: nothing was measured, or a doubt goes with no constant.
    """
    kitchen = Kitchen(formula, knowledge, constants_for(doubts, knowledge))
    if not any(value is not None for _, seen in results for value in (getattr(seen, n) for n in SEEN)):
        raise PlanFault("nothing was measured: fill in at least one core, weight or height")
    noise, at, belief = noise_of(knowledge), np.zeros(len(kitchen.names)), kitchen.prior
    kept: list[Array] = []
    for turn in range(_FITS):
        slopes, off, slips = [], [], []
        for place_of, (baked, seen) in enumerate(results):
            if turn in _SLOPES_ANEW:
                expected, moves = kitchen.slopes(baked, at, SEEN)
                kept = [*kept[:place_of], moves, *kept[place_of + 1 :]]
            else:
                expected, moves = kitchen.numbers(baked, at, SEEN), kept[place_of]
            for place, name in enumerate(SEEN):
                value = getattr(seen, name)
                if value is not None and np.isfinite(expected[place]):
                    slopes.append(moves[place])
                    off.append(value - expected[place])
                    slips.append(noise[place])
        if not off:
            raise PlanFault("the models have no number for anything that was measured")
        belief = best_fit(kitchen.prior, at, np.array(slopes), np.array(off), np.array(slips))
        within = np.clip(belief.mean, -3 * kitchen.spreads, 3 * kitchen.spreads)
        done = bool(np.max(np.abs(within - at) / kitchen.spreads) < 0.02)
        at = within
        if done:
            break
    return Learnt(
        mean=dict(zip(kitchen.names, at.tolist(), strict=True)),
        spread=dict(zip(kitchen.names, np.sqrt(np.diag(belief.covariance)).tolist(), strict=True)),
    )


def _seen(values: Array) -> Seen:
    return Seen(**{n: None if np.isnan(v) else float(v) for n, v in zip(SEEN, values, strict=True)})
