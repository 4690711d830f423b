"""Do the figures of an ingredient agree with each other? Spoons with cups, sodium with ash, sugar with carbohydrate."""

from __future__ import annotations

from advisor.knowledge_base.ingredient import Ingredient
from advisor.linting.report import Report

SIZES = ("small", "medium", "large", "extra_large", "jumbo")
REGIONS = ("us", "uk", "metric", "au")
SPOONS = (("tbsp", 16, "cup"), ("tsp", 3, "tbsp"))
"""How many of the first make one of the last (NIST Handbook 44, appendix C)."""
SPOON_SHARE = 0.33
"""By how much the weights of spoons and cups may differ: heaped, levelled and packed powders do."""
SODIUM_SLACK, SUGAR_SLACK = 0.3, 1.0
"""g per 100 g: rounding, and analyses apart from each other."""


def check_ingredients(report: Report) -> None:
    """Check every ingredient's household weights, sodium, released water and fermentable sugar."""
    for name, entry in report.knowledge.ingredients.items():
        _weights(report, name, entry)
        _figures(report, name, entry)


def _measure_known(report: Report, key: str) -> bool:
    if key in report.knowledge.units:
        return True
    size, _, region = key.rpartition("_")
    return key in SIZES or (size in SIZES and region in REGIONS)


def _weights(report: Report, name: str, entry: Ingredient) -> None:
    for key in entry.weights:
        if not _measure_known(report, key):
            known = [*report.knowledge.units, *SIZES]
            report.refer("ingredient", name, "household measure", key, known)
    for small, count, large in SPOONS:
        one, whole = entry.weights.get(small), entry.weights.get(large)
        if one is None or whole is None or any("differs" in (w.note or "") for w in (one, whole)):
            continue
        if not 1 / (1 + SPOON_SHARE) <= count * one.grams / whole.grams <= 1 + SPOON_SHARE:
            message = (
                f"{count} {small} weigh {count * one.grams:g} g and a {large} {whole.grams:g} g; where that is so, "
                "say in the note of one of them why it differs"
            )
            report.add("ingredient", name, "weights", message)


def _figures(report: Report, name: str, entry: Ingredient) -> None:
    c = entry.per_100g
    if c.sodium_mg / 1000 > c.ash + SODIUM_SLACK and "ash" not in (c.note or ""):
        message = f"sodium {c.sodium_mg / 1000:.2f} g is more than all ash, {c.ash:g} g"
        report.add("ingredient", name, "parts", f"{message}; where the record has it so, say why in the note")
    if entry.gives_water is not None and not 0 <= entry.gives_water.value <= 1:
        report.add(
            "ingredient", name, "range", f"gives_water {entry.gives_water.value:g} is a share from 0 to 1"
        )
    sugar = entry.fermentable_sugars
    room = c.carbohydrate_with_fibre - c.fibre
    if sugar is not None and not 0 <= sugar.value <= room + SUGAR_SLACK:
        message = f"fermentable_sugars {sugar.value:g} g, where carbohydrate without fibre is {room:.1f} g"
        report.add("ingredient", name, "range", message)
