"""Each caution is shown with the formulas that call for it, and never with those that do not."""

from __future__ import annotations

import pytest
from case_files import CASES, entries
from edited_texts import edited

from advisor import default_advisor, load_knowledge

ENTRIES = entries(CASES / "cautions.yaml")


def ways(key: str):
    """Every formula of one kind (`due` or `not_due`), with the caution it stands under."""
    return [
        pytest.param(entry["caution"], formula, id=f"{entry['caution']}-{number}")
        for entry in ENTRIES
        for number, formula in enumerate(entry.get(key) or [], start=1)
    ]


def shown(formula, *, after_bake: bool) -> set[str]:
    read = edited(formula, formula.get("edits") or [], "formula")
    return set(default_advisor().examiner.examine(read, after_bake=after_bake).inference.cautions)


def test_every_caution_stands_both_ways():
    assert set(load_knowledge().cautions) == {e["caution"] for e in ENTRIES}
    for entry in ENTRIES:
        assert entry["due"], entry["caution"]
        assert ("always" in entry) is not bool(entry.get("not_due")), entry["caution"]


@pytest.mark.parametrize(("caution", "formula"), ways("due"))
@pytest.mark.parametrize("after_bake", [False, True], ids=["before", "after"])
def test_a_caution_is_shown_where_it_is_due(caution, formula, after_bake):
    assert caution in shown(formula, after_bake=after_bake)


@pytest.mark.parametrize(("caution", "formula"), ways("not_due"))
@pytest.mark.parametrize("after_bake", [False, True], ids=["before", "after"])
def test_a_caution_is_not_shown_where_it_is_not_due(caution, formula, after_bake):
    assert caution not in shown(formula, after_bake=after_bake)
