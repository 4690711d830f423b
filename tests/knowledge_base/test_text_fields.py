"""Fields inside texts: places are filled, quantities stay, and other braces are left as they are."""

from __future__ import annotations

import pytest

from advisor.knowledge_base.text_fields import NoField, TextPlace, TextQuantity, filled_in, parts_of_text


def test_a_text_falls_into_words_places_and_quantities() -> None:
    words, place, between, quantity = parts_of_text("At {core_c:.0f C} and {93.5 to 96 C}")
    assert ("At ", " and ") == (words, between)
    assert isinstance(place, TextPlace)
    assert ("core_c", ".0f", "C") == (place.name, place.form, place.tail)
    assert isinstance(quantity, TextQuantity)
    assert (93.5, 96.0, "C", False, 1) == (
        quantity.low, quantity.high, quantity.unit, quantity.difference, quantity.decimals
    )  # fmt: skip


@pytest.mark.parametrize("inside", ["", "175 K", "175C", "10 C more", "Water:.1f", "a to b C", "{5 C"])
def test_other_braces_hold_no_field(inside: str) -> None:
    parts = list(parts_of_text(f"x {{{inside}}} y"))
    assert not any(isinstance(part, TextPlace) for part in parts)
    assert inside == "{5 C" or any(isinstance(part, NoField) for part in parts)


def test_places_are_filled_and_quantities_left_to_the_writer() -> None:
    text = "{core_c:.0f C}, {load:.2f}, {name}, {missing:.1f g}, {20 g}, {off_c:.0f C difference}, {what is this}"
    filled = filled_in(text, {"core_c": 93.4, "load": 1.0, "name": "tin", "missing": None, "off_c": 12.0})
    assert "{93 C}, 1.00, tin, -, {20 g}, {12 C difference}, {what is this}" == filled
