"""The spoons and cups that pages name are those that formulas are read with."""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.rendering import quantities

UNITS = load_knowledge().units
OF = {"metric": "metric", "us": "us", "uk": "uk"}


def millilitres(unit: str, region: str) -> float:
    entry = UNITS[unit]
    found = (entry.regions or {}).get(region, entry.millilitres)
    assert found is not None
    return float(found)


@pytest.mark.parametrize("region", sorted(OF))
def test_spoons_are_those_of_the_units(region: str) -> None:
    written = quantities._SPOONS_ML[region]  # type: ignore[index]  # the regions are the units' own
    assert [millilitres(unit, region) for unit in ("tsp", "tbsp")] == pytest.approx(written, abs=0.01)


@pytest.mark.parametrize("region", sorted(quantities._CUP_ML))
def test_cups_are_those_of_the_units(region: str) -> None:
    assert millilitres("cup", region) == pytest.approx(quantities._CUP_ML[region], abs=0.01)  # type: ignore[index]
