"""Arguments as people write them."""

from __future__ import annotations

import argparse

import pytest

from advisor.interface.desk.argument_types import celsius


@pytest.mark.parametrize(
    ("typed", "heat"),
    [("96", 96), ("96C", 96), ("205F", 96.1), ("205 F", 96.1), ("205°f", 96.1), ("96,5 c", 96.5)],
)
def test_a_heat_is_read_in_c_or_f(typed: str, heat: float) -> None:
    assert pytest.approx(heat, abs=0.05) == celsius(typed)


@pytest.mark.parametrize("typed", ["hot", "", "205K", "-3", "20 5"])
def test_what_is_no_heat_is_refused(typed: str) -> None:
    with pytest.raises(argparse.ArgumentTypeError):
        celsius(typed)
