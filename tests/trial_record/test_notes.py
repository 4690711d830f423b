"""Notes of a kept bake are edited; everything else of it stays, and an older export still comes in."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.trial_record.bake import LONGEST, Bake
from advisor.trial_record.faults import BakeFault
from advisor.trial_record.record import open_record


def bake() -> Bake:
    return Bake(formula="Loaf", formula_text="200 g water", baked_on="2026-05-01", notes="as it was")


def test_other_notes_take_the_place_of_the_old_ones(tmp_path: Path) -> None:
    with open_record(tmp_path / "r.sqlite3", to_write=True) as record:
        kept = record.add(bake())
        assert record.note(kept.number, "better salted") is not None
        again = record.bake(kept.number)
    assert again is not None
    assert ("better salted", kept.key, kept.formula_text) == (again.notes, again.key, again.formula_text)


def test_notes_that_cannot_be_kept_are_refused_and_change_nothing(tmp_path: Path) -> None:
    with open_record(tmp_path / "r.sqlite3", to_write=True) as record:
        kept = record.add(bake())
        for notes in ("x" * (LONGEST + 1), "\0", "\ud800"):
            with pytest.raises(BakeFault):
                record.note(kept.number, notes)
        again = record.bake(kept.number)
        assert record.note(99, "nothing") is None
    assert again is not None
    assert "as it was" == again.notes


def test_an_export_from_before_the_edit_comes_in_as_known(tmp_path: Path) -> None:
    with open_record(tmp_path / "r.sqlite3", to_write=True) as record:
        kept = record.add(bake())
        exported = record.everything()
        record.note(kept.number, "edited")
        assert (0, 1) == record.add_all(exported)
        again = record.bake(kept.number)
    assert again is not None
    assert "edited" == again.notes
