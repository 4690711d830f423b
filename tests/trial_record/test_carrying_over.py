"""What is written out comes in again exactly, as YAML and as CSV; what was spoilt is refused with its line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kept_bakes import loaf

from advisor.trial_record.bake import Bake, Scores, sound
from advisor.trial_record.faults import RecordFault
from advisor.trial_record.record import open_record
from advisor.trial_record.written_out import from_csv, from_yaml, to_csv, to_yaml

FORMS: dict[str, tuple[Callable[..., str], Callable[..., tuple[Bake, ...]]]] = {
    "yaml": (to_yaml, from_yaml),
    "csv": (to_csv, from_csv),
}
_LETTERS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=40)


def _bare() -> Bake:
    return Bake(formula="Bare", formula_text="1 g water", baked_on="2026-01-02T03:04").keyed()


@pytest.mark.parametrize("form", FORMS)
def test_bakes_come_back_exactly(form: str) -> None:
    write, read = FORMS[form]
    bakes = (
        loaf().keyed(),
        _bare(),
        loaf(notes="=2+2").keyed(),
        loaf(notes="'quoted").keyed(),
        loaf(lots={}).keyed(),
    )
    assert bakes == read(write(bakes), "here")


@pytest.mark.parametrize("form", FORMS)
@given(
    notes=_LETTERS,
    name=_LETTERS.filter(str.strip),
    grams=st.floats(1e-9, 1e9),
    mark=st.sampled_from([None, 1, 5]),
)
def test_any_text_and_number_comes_back(
    form: str, notes: str, name: str, grams: float, mark: int | None
) -> None:
    write, read = FORMS[form]
    one = replace(loaf().amounts[0], grams=grams)
    bake = sound(
        loaf(notes=notes, formula=name, formula_text=name, amounts=(one,), scores=Scores(taste=mark))
    ).keyed()
    assert (bake,) == read(write([bake]), "here")


@pytest.mark.parametrize("form", FORMS)
def test_a_whole_record_carried_over_is_written_the_same(form: str, tmp_path: Path) -> None:
    write, read = FORMS[form]
    with open_record(tmp_path / "a", to_write=True) as record:
        first = record.add(loaf())
        record.take_back(record.add(loaf(notes="gone")).number)
        record.add(loaf(notes="next", follows=first.key, followed="cut-water"))
        there = write(record.everything())
    with open_record(tmp_path / "b", to_write=True) as record:
        assert (2, 0) == record.add_all(read(there, "here"))
        assert (0, 2) == record.add_all(read(there, "here"))
        assert there == write(record.everything())


def test_a_bake_that_differs_under_a_known_key_stops_the_whole_import(tmp_path: Path) -> None:
    with open_record(tmp_path / "a", to_write=True) as record:
        kept = record.add(loaf())
        changed = replace(kept, photo="another.jpg", number=0)  # notes may be edited, what was baked may not
        with pytest.raises(RecordFault, match="is here already and differs"):
            record.add_all([_bare(), changed])
        assert (kept,) == record.everything()


@pytest.mark.parametrize("form", FORMS)
def test_an_export_comes_in_where_it_was_made_though_what_a_bake_follows_was_taken_back(
    form: str, tmp_path: Path
) -> None:
    write, read = FORMS[form]
    with open_record(tmp_path / "a", to_write=True) as record:
        first = record.add(loaf())
        mended = record.add(loaf(notes="mended", follows=first.key))
        record.take_back(first.number)
        assert (0, 1) == record.add_all(read(write(record.everything()), "here"))
        assert mended == record.bake(mended.number)


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda text: text.replace("crumb: 2", "crumb: 2.5"), "here:1: crumb is not as it should be"),
        (lambda text: text.replace("notes:", "note:"), "here:1: note is no key of a bake"),
        (lambda text: text.replace("date:", "# date:"), "here:1: date is not as it should be"),
        (lambda text: "plain", "here:1: this is no list of bakes"),
        (lambda text: text + "- 5\n", "this is no bake"),
        (lambda text: text[:-40], "is not YAML"),
    ],
)
def test_spoilt_yaml_is_refused_with_its_line(spoil: Callable[[str], str], says: str) -> None:
    with pytest.raises(RecordFault) as caught:
        from_yaml(spoil(to_yaml([loaf().keyed()])), "here")
    assert says in str(caught.value)


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda text: text.replace("key,", "keys,", 1), "here:1: no column 'keys' is known"),
        (lambda text: text.replace("key,date", "date,date", 1), "here:1: a column stands twice"),
        (lambda text: text.rstrip() + ",extra\r\n", "cells under"),
        (lambda text: text.replace(",3,2,", ",three,2,", 1), "the cell under volume cannot be read"),
        (lambda text: text.replace(",9.5,", f",{'[' * 100_000},"), "the cell under height_cm cannot be read"),
        (lambda text: text.replace(",9.5,", f",1{'0' * 400},"), "height_cm is not as it should be"),
        (lambda text: text.replace("100.0]", "1e999]"), "amounts one is no amount"),
        (lambda text: text.replace("93.25", "NaN"), "core_c is not as it should be"),
    ],
)
def test_spoilt_csv_is_refused_with_its_line(spoil: Callable[[str], str], says: str) -> None:
    with pytest.raises(RecordFault) as caught:
        from_csv(spoil(to_csv([loaf().keyed()])), "here")
    assert says in str(caught.value)
