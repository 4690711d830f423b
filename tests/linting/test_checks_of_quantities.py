"""Quantities that stand bare in a text, so that no other unit can be written for them."""

from __future__ import annotations

import pytest
from spoiling import Kitchen

HOW = "stands bare: write it as a field, such as {175 C} or {10 C difference}"
RULES = "rules/hydration/water.yaml"


@pytest.mark.parametrize(
    ("text", "bare"),
    [
        ("It rests 20 min.", "20 min"),
        ("It rests 10 to 20 minutes.", "10 to 20 minutes"),
        ("Bake at 175 C.", "175 C"),
        ("It is 2.5 cm high.", "2.5 cm"),
        ("Leave 30 g out.", "30 g"),
        ("Make it 10 degrees hotter.", "10 degrees"),
        ("Make it ten degrees hotter.", "ten degrees"),
        ("Rested {rest_min:.0f} min only.", "{rest_min:.0f} min"),
    ],
)
def test_a_bare_quantity(kitchen: Kitchen, text: str, bare: str) -> None:
    kitchen.change(RULES, "It did not rest.", text)
    assert [f"{RULES}:28 quantity unrested-says-baker: '{bare}' {HOW}"] == kitchen.lines("quantity")


@pytest.mark.parametrize(
    "text",
    [
        "Rested {rest_min:.0f min} only, {20 min}, {10 C difference}.",
        "It has 2 g of salt in 100 g of water, or 3 to 4 g per 100 g.",
        "It has {setting_protein_pct:.1f} g of salt in 100 g of water.",
        "It is 2 parts in 3.",
    ],
)
def test_fields_and_ratios_are_no_bare_quantities(kitchen: Kitchen, text: str) -> None:
    kitchen.change(RULES, "It did not rest.", text)
    assert [] == kitchen.lines("quantity")


def test_braces_that_hold_no_field(kitchen: Kitchen) -> None:
    kitchen.change(RULES, "It did not rest.", "It rests {20 mins}.")
    assert [
        f"{RULES}:28 placeholder unrested-says-baker: '{{20 mins}}' is no field: "
        "write {175 C}, {60 min}, {20 g} or {measure:.1f}"
    ] == kitchen.lines("placeholder")
