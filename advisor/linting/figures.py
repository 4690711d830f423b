"""Do the figures agree? Compositions close, parts fit into wholes, edges lie where values can."""

from __future__ import annotations

from advisor.knowledge_base.ingredient import Composition
from advisor.knowledge_base.knowledge import band_key
from advisor.linting.report import Report

CLOSURE = (95.0, 102.0)
"""Where the proximates of a whole record add up, g per 100 g; analyses and rounding account for the rest."""
PART_SLACK = 2.0
"""By how much the parts of the carbohydrate may exceed it, g per 100 g: each is analysed by itself."""
ENERGY_SHARE, ENERGY_KCAL = 0.15, 25.0
"""How far printed energy may lie from the general factors; tables often use a food's own factors."""
_ALCOHOL_KCAL_PER_G = 7.0  # Regulation (EU) 1169/2011, Annex XIV


def check_figures(report: Report) -> None:
    """Check compositions, measures, and the edges of bands and targets."""
    for name, entry in report.knowledge.ingredients.items():
        _closure(report, name, entry.per_100g)
        _parts(report, name, entry.per_100g)
        _energy(report, name, entry.per_100g)
        if entry.price_per_kg is not None:
            report.add(
                "ingredient", name, "price", "prices stand in the user's own file: leave price_per_kg out"
            )
    _edges(report)


def _explained(composition: Composition, word: str) -> bool:
    """Does the note on the composition say why this figure differs?"""
    return word in (composition.note or "").casefold()


def _closure(report: Report, name: str, composition: Composition) -> None:
    if not CLOSURE[0] <= composition.closure <= CLOSURE[1]:
        message = (
            f"the composition adds up to {composition.closure:.1f} g, not {CLOSURE[0]:g} to {CLOSURE[1]:g} g"
        )
        report.add("ingredient", name, "closure", message)


def _parts(report: Report, name: str, c: Composition) -> None:
    parts = c.sugars + c.starch + c.polyols + c.erythritol + c.allulose + c.fibre
    if parts > c.carbohydrate_with_fibre + PART_SLACK and not _explained(c, "carbohydrate"):
        message = (
            f"parts of the carbohydrate come to {parts:.1f} g, it to {c.carbohydrate_with_fibre:.1f} g; "
            "where the record has it so, say why in the note of per_100g"
        )
        report.add("ingredient", name, "parts", message)


def energy_span(report: Report, c: Composition) -> tuple[float, float] | None:
    """Energy by general factors, kcal per 100 g, as (least, most); `None` where a factor is missing.

    E = 4 protein + 9 fat + 4 digestible carbohydrate + 7 alcohol + organic acid, by the factors in
    knowledge/coefficients.yaml. Tables differ in what fibre and sweeteners count: nothing at the least, like
    any carbohydrate at the most.
    """
    names = ("protein", "fat", "carbohydrate", "organic_acid")
    factors = [report.knowledge.coefficients.get(f"energy_eu_{name}") for name in names]
    protein, fat, carbohydrate, acid = (f.value if f else 0.0 for f in factors)
    if not all(factors):
        return None
    fixed = protein * c.protein + fat * c.fat + _ALCOHOL_KCAL_PER_G * c.alcohol + acid * c.organic_acid
    hard = c.fibre + c.polyols + c.erythritol + c.allulose
    digestible = max(c.carbohydrate_with_fibre - hard, 0.0)
    return fixed + carbohydrate * digestible, fixed + carbohydrate * c.carbohydrate_with_fibre


def _energy(report: Report, name: str, c: Composition) -> None:
    if c.energy_kcal is None or _explained(c, "energy") or (span := energy_span(report, c)) is None:
        return
    least, most = span
    below, above = (max(ENERGY_SHARE * edge, ENERGY_KCAL) for edge in span)
    if not least - below <= c.energy_kcal <= most + above:
        message = (
            f"energy {c.energy_kcal:.0f} kcal, where the composition gives {least:.0f} to {most:.0f} kcal; "
            "where the record has it so, say why in the note of per_100g"
        )
        report.add("ingredient", name, "energy", message)


def _edges(report: Report) -> None:
    measures = report.knowledge.measures
    for name, measure in measures.items():
        if measure.possible[0] >= measure.possible[1]:
            report.add("measure", name, "range", "possible: the first number is not below the second")
    for band in report.knowledge.bands:
        for edge in (band.low, band.high):
            _edge(report, "band", band_key(band), band.measure, edge)
    for name, lever in report.knowledge.levers.items():
        if lever.until:
            for edge in (lever.until.above, lever.until.below):
                _edge(report, "lever", name, lever.until.measure, edge)


def _edge(report: Report, kind: str, name: str, measure: str, edge: float | None) -> None:
    entry = report.knowledge.measures.get(measure)
    if entry is None or edge is None:
        return
    low, high = entry.possible
    if not low <= edge <= high:
        report.add(
            kind, name, "range", f"{measure} {edge:g} lies outside what is possible, {low:g} to {high:g}"
        )
