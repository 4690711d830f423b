"""A written formula reads back as the same formula."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.formula.formula import Formula, Line, Process
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula.writing.numerals import plain_number
from advisor.formula.writing.scaling import scale_formula
from advisor.knowledge_base.knowledge import Knowledge

_GRAMS = st.floats(0.001, 50_000)
_SIZE = st.floats(1, 200)


def _between(low: float, high: float) -> st.SearchStrategy[float | None]:
    # Nobody writes 1e-60 minutes; what is that small is nothing.
    return st.none() | st.floats(low, high).map(lambda v: v if abs(v) > 1e-9 else 0.0)


_MINUTES = _between(0, 10_000)


def _pans() -> st.SearchStrategy[dict[str, object]]:
    def sized(kind: str, length: float, width: float, height: float) -> dict[str, object]:
        return {
            "pan_kind": kind,
            "pan_length_cm": length,
            "pan_width_cm": length if kind == "round" else width,
            "pan_height_cm": height,
        }

    plain = st.sampled_from(["free_standing", "rolls", "flat", "tin", "round"]).map(lambda k: {"pan_kind": k})
    return (
        st.just({}) | plain | st.builds(sized, st.sampled_from(["tin", "round", "flat"]), _SIZE, _SIZE, _SIZE)
    )


def _processes() -> st.SearchStrategy[Process]:
    core = _between(40, 110)
    fields = {
        "slices": st.none() | st.integers(1, 500),
        "loaves": st.none() | st.integers(1, 500),
        "pan_material": st.none() | st.just("dark metal"),
        "mix_min": _MINUTES,
        "water_c": _between(-5, 100),
        "whites_whipped": st.none() | st.booleans(),
        "rest_min": _MINUTES,
        "proof_min": _MINUTES,
        "proof_c": _between(-5, 60),
        "oven_c": _between(60, 350),
        "oven_fan": st.none() | st.booleans(),
        "bake_min": _MINUTES,
        "cold_start": st.none() | st.booleans(),
        "oven_offset_c": _between(-60, 60),
        "opened_at_min": _MINUTES,
        "tented_at_min": _MINUTES,
        "probed_at_min": _MINUTES,
        "target_core_c": core,
        "core_measured_c": core,
        "cooled_in_pan_min": _MINUTES,
        "sliced_after_min": _MINUTES,
        "altitude_m": _between(-400, 6000),
    }
    rest = st.fixed_dictionaries(fields)
    return st.builds(lambda pan, other: Process(**pan, **other), _pans(), rest)


@given(st.data())
def test_written_formula_reads_back(kitchen: Knowledge, data: st.DataObject) -> None:
    foods = sorted(kitchen.ingredients.values(), key=lambda e: e.id)
    lines = []
    for number, food in enumerate(data.draw(st.lists(st.sampled_from(foods), min_size=1, max_size=6))):
        counted = data.draw(st.none() | st.integers(1, 30)) if food.countable else None
        traits = data.draw(st.sampled_from([(), ("melted",)])) if food.id == "butter" else ()
        grams = data.draw(_GRAMS)
        line = Line(text="", number=number, ingredient=food, grams=grams, counted=counted, traits=traits)
        lines.append(line)
    name = data.draw(st.text(min_size=1, max_size=40))
    formula = Formula(name=name, lines=tuple(lines), process=data.draw(_processes()))

    again = read_formula_text(write_formula_text(formula, exact=True), kitchen)

    def kept(line: Line) -> tuple[object, ...]:
        return line.ingredient.id, line.grams, line.counted, line.traits

    assert [kept(line) for line in formula.lines] == [kept(line) for line in again.lines]
    assert formula.process == again.process
    printed = write_formula_text(formula)
    again = read_formula_text(printed, kitchen, name=name)
    assert printed == write_formula_text(again)


@given(st.floats(0.001, 5000), st.floats(1.001, 9))
def test_scaled_amounts_are_written_as_a_kitchen_weighs_them(
    kitchen: Knowledge, grams: float, factor: float
) -> None:
    scaled = scale_formula(
        read_formula_text(f"{plain_number(grams)} g water\noven: 350 F for 1 h", kitchen), factor
    )
    text = write_formula_text(scaled)
    amount = text.splitlines()[1].removesuffix(" g water")
    assert float(amount) == pytest.approx(scaled.dough_g, rel=0.06, abs=0.0051)
    assert len(amount.partition(".")[2].lstrip("0")) <= (0 if float(amount) >= 20 else 2)
    assert "oven: 177 C for 60 min" in text
    assert write_formula_text(read_formula_text(text, kitchen)) == text


def test_title_and_headings_come_back(kitchen: Knowledge) -> None:
    text = "Canteen loaf 2\nDry:\n100 g gluten\nWet:\n2 eggs\nadded last: eggs\n"
    first = read_formula_text(text, kitchen)
    again = read_formula_text(write_formula_text(first), kitchen)
    assert ("Canteen loaf 2", "whole egg") == (again.name, again.process.added_last)
    assert ["Dry", "Wet"] == [line.section for line in again.lines]


def test_program_made_title_is_marked(kitchen: Knowledge) -> None:
    formula = read_formula_text("100 g water", kitchen, name="200 g salt # 3: best")
    again = read_formula_text(write_formula_text(formula), kitchen)
    assert "200 g salt # 3: best" == again.name


def test_pan_that_no_text_can_say_is_refused(kitchen: Knowledge) -> None:
    formula = read_formula_text("100 g water\npan: 25 x 10 x 10 cm", kitchen)
    with pytest.raises(ValueError, match="cannot be written"):
        write_formula_text(formula.with_process(pan_width_cm=None))
