"""Entries that do not fit their shape: the message names file, line, entry and what is near."""

from __future__ import annotations

import pytest
from spoiling import Kitchen


def test_the_small_knowledge_is_clean(kitchen: Kitchen) -> None:
    assert () == kitchen.findings()


def test_an_unknown_key_comes_with_the_nearest_spelling_and_its_own_line(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/levers.yaml", "  effort: small", "  efort: small")
    assert [
        "knowledge/levers.yaml:6 shape cut-water: the key 'efort' is not known; did you mean 'effort'?",
        "knowledge/levers.yaml:1 shape cut-water: the key 'effort' is missing",
    ] == sorted(kitchen.lines("shape"), reverse=True)


def test_an_unknown_key_inside_an_entry_is_spelt_from_the_inner_model(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/levers.yaml", "at_least_fraction", "at_least_fracton")
    assert [
        "knowledge/levers.yaml:5 shape cut-water: the key 'limits.at_least_fracton' is not known; "
        "did you mean 'at_least_fraction'?"
    ] == kitchen.lines("shape")


def test_a_key_that_is_near_nothing_lists_the_known_ones(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/traits.yaml", "says:", "zzz: 1, says:")
    assert "known keys: id, says" in kitchen.lines("shape")[0]


def test_a_key_that_runs_over_several_lines_is_told_on_one(kitchen: Kitchen) -> None:
    """Unquoted words over blank lines are one key; found by feeding the reader bytes."""
    kitchen.change("knowledge/traits.yaml", "says:", "a key\n\n\n  over lines, says:")
    (said,) = kitchen.lines("shape")
    assert "\n" not in said
    assert "a key" in said


def test_a_duplicate_id_names_both_places(kitchen: Kitchen) -> None:
    line = kitchen.add("knowledge/traits.yaml", '- {id: swelling, says: "Once more."}')
    assert [
        f"knowledge/traits.yaml:{line} unique the trait 'swelling' stands already at knowledge/traits.yaml:1"
    ] == kitchen.lines("unique")


def test_a_link_that_stands_twice_is_a_duplicate(kitchen: Kitchen) -> None:
    kitchen.add(
        "knowledge/links.yaml",
        "- {from: excess_water, to: loose_water, strength: 0.5, acts: proof, grade: practice}",
    )
    assert ["knowledge/links.yaml:5 unique the link 'excess_water>loose_water' stands already at "
            "knowledge/links.yaml:1"] == kitchen.lines("unique")  # fmt: skip


def test_a_file_that_is_no_list_says_so(kitchen: Kitchen) -> None:
    (kitchen.places.knowledge / "traits.yaml").write_text("id: swelling\n")
    assert ["knowledge/traits.yaml:1 shape must be a list of entries (- id: ...)"] == kitchen.lines("shape")


def test_a_missing_file_is_named(kitchen: Kitchen) -> None:
    (kitchen.places.knowledge / "traits.yaml").unlink()
    (only,) = kitchen.lines("yaml")
    assert only.startswith("knowledge/traits.yaml:1 yaml cannot be read")


def test_faults_of_several_files_come_in_one_run(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/traits.yaml", "says:", "sayz:")
    kitchen.change("knowledge/units.yaml", "grams: 1", "grams: yes")
    assert {"knowledge/traits.yaml", "knowledge/units.yaml"} == {f.file for f in kitchen.findings()}


@pytest.mark.parametrize(
    ("file", "old", "new", "says"),
    [
        ("knowledge/causes.yaml", "base_rate: 0.1,", "base_rate: 0.7,",
         "base_rate: Input should be less than 0.5"),
        ("knowledge/causes.yaml", "name: Too much water", f"name: {'x' * 81}", "at most 80 characters"),
        ("knowledge/causes.yaml", "id: excess_water,", "id: Excess Water,",
         "id: String should match pattern"),
        ("knowledge/causes.yaml", 'refines: excess_water, no_lever: "Only patience helps.", grade: practice',
         "refines: excess_water, grade: published", "grade 'published' needs at least one key in sources"),
        ("knowledge/coefficients.yaml", ", pinned_by: tests/pins.py", "",
         "grade 'calibrated' needs pinned_by"),
        ("knowledge/structures.yaml", "value: 0.5,", "value: 0.5, range: [0.6, 0.7],",
         "outside its own range"),
        ("knowledge/bands.yaml", "low: 0.6, high: 1.0", "low: 1.6, high: 1.0", "low 1.6 is not below high 1"),
        ("knowledge/bands.yaml", "low: 3, scale: 2", "low: 3", "its low edge needs scale"),
        ("knowledge/acids.yaml", "release_bench: 0", "release_bench: 0.5", "add up to 1.500, not 1"),
        ("knowledge/levers.yaml", "  effort: small", "  efficacy: 0.5\n  effort: small",
         "either a target (until)"),
        ("knowledge/ingredients/few.yaml", "{egg_white: 1}", "{egg_white: 0.5}",
         "protein_classes add up to 0.50"),
        ("rules/hydration/water.yaml", "is: high}", "is: up}", "'up' is no state of a band"),
        ("rules/hydration/water.yaml", "is: high}", "is: high, above: 1}", "either by 'is'"),
        ("rules/hydration/water.yaml", "{process: rest_min,", "{process: rest_min, trait: swelling,",
         "a condition names exactly one of"),
        ("rules/hydration/water.yaml", "evidence: strong}, {", "}, {", "a suspect needs evidence"),
        ("rules/hydration/water.yaml", "{caution: raw_dough}", "{caution: raw_dough, ask: rested}",
         "a conclusion is exactly one of"),
    ],
)  # fmt: skip
def test_an_entry_that_does_not_fit_says_why(
    kitchen: Kitchen, file: str, old: str, new: str, says: str
) -> None:
    kitchen.change(file, old, new)
    found = kitchen.lines("shape")
    assert any(says in line for line in found), found
    assert all(line.startswith(f"{file}:") for line in found)
