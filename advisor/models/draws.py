"""Doughs and constants as they may also be: draws over the ranges of the knowledge and the slips of a kitchen.

A range of the knowledge is read as wide enough for nine in ten of what a figure may be, about its value, which all that
is calibrated rests on; by factors where all is above zero. Draws are stratified (McKay, Beckman and Conover 1979,
Technometrics 21, 239: Latin hypercube), so that some hundred tell what thousands of plain ones would.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from hashlib import sha256
from statistics import NormalDist

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.entry import Figure
from advisor.knowledge_base.knowledge import Knowledge

_RANGE_Z = 1.645
"""Standard deviations from the middle to the end of a range that holds nine in ten."""
_FURTHEST_Z = 2.0
_FIGURES = (
    "gives_water", "dough_uptake", "holds_when_baked", "starch_holding", "gum_equivalent", "film_in_proof",
    "film_in_oven", "filler_weight", "fermentable_sugars", "soda_per_100g", "yeast_rate", "enzyme_u_per_g",
)  # fmt: skip
_NOT_OF_MODELS = (
    "odds_",
    "heard_",
    "remedy_",
    "kind_",
    "assumed_",
    "net_",
    "energy_",
    "slip_",
    "start_",
    "design_",
)
"""Beginnings of constants that are judgements of the program and no figures of dough or oven."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """One dough as it may be: its formula, the constants, and how far the oven is off its dial, C."""

    formula: Formula
    knowledge: Knowledge
    oven_off_c: float


class _Scores:
    """Standard normal scores, one a draw for each name: every stratum once, in an order of its own."""

    def __init__(self, draws: int) -> None:
        self._draws = draws
        normal = NormalDist()
        self._strata = [normal.inv_cdf((n + 0.5) / draws) for n in range(draws)]
        self._of: dict[str, list[float]] = {}

    def of(self, name: str, draw: int) -> float:
        if (scores := self._of.get(name)) is None:
            # An order of its own for each name, the same on every machine and in every process.
            order = sorted(range(self._draws), key=lambda n: sha256(f"{name} {n}".encode()).digest())
            scores = self._of[name] = [self._strata[n] for n in order]
        return scores[draw]


@cache
def _scores(draws: int) -> _Scores:
    return _Scores(draws)


def moved(value: float, ends: tuple[float, float] | None, score: float) -> float:
    """A figure with a range as far off as a standard normal score says; as often above its value as below it."""
    if ends is None:
        return value
    way = max(-_FURTHEST_Z, min(score, _FURTHEST_Z)) / (2 * _RANGE_Z)
    if value > 0 and ends[0] > 0:
        return value * math.exp(way * math.log(ends[1] / ends[0]))
    return value + way * (ends[1] - ends[0])


def draws_of(formula: Formula, knowledge: Knowledge, many: int) -> Iterator[Draw]:
    """Give `many` draws of a formula; the same ones each time."""
    scores = _scores(many)
    constants = {
        name: entry
        for name, entry in knowledge.coefficients.items()
        if entry.range is not None and not name.startswith(_NOT_OF_MODELS)
    }
    influences = {name: entry for name, entry in knowledge.influences.items() if entry.range is not None}
    for n in range(many):
        coefficients = dict(knowledge.coefficients)
        for name, entry in constants.items():
            value = moved(entry.value, entry.range, scores.of(name, n))
            coefficients[name] = entry.model_copy(update={"value": value})
        acting = dict(knowledge.influences)
        for name, influence in influences.items():
            value = moved(influence.value, influence.range, scores.of(name, n))
            acting[name] = influence.model_copy(update={"value": value})
        lines = tuple(_line(line, knowledge, scores, n) for line in formula.lines)
        yield Draw(
            formula=formula.with_lines(lines),
            knowledge=replace(knowledge, coefficients=coefficients, influences=acting),
            oven_off_c=knowledge.coefficient("slip_oven_c") * scores.of("oven dial", n),
        )


def _line(line: Line, knowledge: Knowledge, scores: _Scores, n: int) -> Line:
    """A line as it may have been weighed, of an ingredient as it may be."""
    c, ingredient = knowledge.coefficient, line.ingredient
    off = scores.of(f"line {line.number} {ingredient.id}", n)
    if line.counted is not None:
        grams = line.grams * math.exp(c("slip_egg_share") * off)
    elif line.conversion:
        grams = line.grams * math.exp(c("slip_spoon_share") * off)
    else:
        # A scale that shows whole steps is off by anything up to half a step either way.
        grams = line.grams + c("slip_scale_step_g") * (NormalDist().cdf(off) - 0.5)
    changed: dict[str, Figure] = {}
    for name in _FIGURES:
        figure = getattr(ingredient, name)
        if figure is not None and figure.range is not None:
            value = moved(figure.value, figure.range, scores.of(f"{ingredient.id} {name}", n))
            changed[name] = figure.model_copy(update={"value": value})
    if changed:
        ingredient = ingredient.model_copy(update=changed)
    return replace(line, grams=max(grams, 0.0), ingredient=ingredient)
