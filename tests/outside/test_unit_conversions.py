"""Units against pint (its own registry of definitions) and NIST Handbook 44, appendix C (general tables)."""

from __future__ import annotations

from pathlib import Path

import pint
import pytest

from advisor.formula.process.process_values import CM_PER, Words
from advisor.knowledge_base.measured import Unit
from advisor.knowledge_base.reading import read_entries

_UNITS = Path(__file__).parents[2] / "knowledge" / "units.yaml"
# NIST Handbook 44, appendix C, "General Tables of Units of Measurement": avoirdupois ounce and pound, US
# liquid measure (fluid ounce, pint, quart, cup, tablespoon, teaspoon); figures from memory of the tables.
_HANDBOOK_G = {"oz": 28.349523125, "lb": 453.59237}
_HANDBOOK_ML = {
    "tsp": 4.928922, "tbsp": 14.78676, "fl_oz": 29.57353, "cup": 236.5882, "pint": 473.1765,
    "quart": 946.3529,
}  # fmt: skip
_PINT_NAMES = {
    "g": "gram", "kg": "kilogram", "mg": "milligram", "oz": "ounce", "lb": "pound", "ml": "milliliter",
    "cl": "centiliter", "dl": "deciliter", "l": "liter", "fl_oz": "fluid_ounce", "cup": "cup",
    "tbsp": "tablespoon", "tsp": "teaspoon", "pint": "pint", "quart": "quart",
}  # fmt: skip
_PINT_IMPERIAL = {
    "fl_oz": "imperial_fluid_ounce",
    "pint": "imperial_pint",
    "quart": "imperial_quart",
    "cup": "imperial_cup",
}


@pytest.fixture(scope="module")
def units() -> dict[str, Unit]:
    return {u.id: u for u, _ in read_entries(_UNITS, "units.yaml", Unit)}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("name", "theirs"), _PINT_NAMES.items())
def test_unit_is_as_large_as_in_pint(
    units: dict[str, Unit], registry: pint.UnitRegistry, name: str, theirs: str
) -> None:
    ours = units[name]
    scale = "gram" if ours.grams else "milliliter"
    assert registry(theirs).to(scale).magnitude == pytest.approx(ours.grams or ours.millilitres, rel=1e-9)


@pytest.mark.parametrize(("name", "theirs"), _PINT_IMPERIAL.items())
def test_british_unit_is_as_large_as_in_pint(
    units: dict[str, Unit], registry: pint.UnitRegistry, name: str, theirs: str
) -> None:
    assert registry(theirs).to("milliliter").magnitude == pytest.approx(units[name].regions["uk"], rel=1e-9)


@pytest.mark.parametrize(("name", "figure"), [*_HANDBOOK_G.items(), *_HANDBOOK_ML.items()])
def test_unit_is_as_large_as_in_handbook_44(units: dict[str, Unit], name: str, figure: float) -> None:
    assert figure == pytest.approx(units[name].grams or units[name].millilitres, rel=1e-6)


def test_lengths_are_as_in_pint(registry: pint.UnitRegistry) -> None:
    for ours, theirs in {"cm": "centimeter", "mm": "millimeter", "in": "inch"}.items():
        assert registry(theirs).to("centimeter").magnitude == pytest.approx(CM_PER[ours], rel=1e-12)


@pytest.mark.parametrize("fahrenheit", [-4.0, 32.0, 90.0, 212.0, 350.0, 451.0])
def test_fahrenheit_is_as_in_pint(registry: pint.UnitRegistry, fahrenheit: float) -> None:
    expected = registry.Quantity(fahrenheit, "degF").to("degC").magnitude
    words = Words(key="oven", left=f"{fahrenheit:g} F", expected="a temperature")
    assert expected == pytest.approx(words.take_temperature(-100, 400), abs=1e-9)


@pytest.mark.parametrize(
    ("text", "theirs"), [("1 h 15 min", "75 minute"), ("90 s", "90 second"), ("2 hours", "2 hour")]
)
def test_times_are_as_in_pint(registry: pint.UnitRegistry, text: str, theirs: str) -> None:
    words = Words(key="rest", left=text, expected="a time")
    assert registry(theirs).to("minute").magnitude == pytest.approx(words.take_time(), rel=1e-12)


def test_feet_are_as_in_pint(registry: pint.UnitRegistry) -> None:
    words = Words(key="altitude", left="5250 ft", expected="a height")
    assert registry("5250 foot").to("meter").magnitude == pytest.approx(
        words.take_height(-430, 6000), rel=1e-12
    )
