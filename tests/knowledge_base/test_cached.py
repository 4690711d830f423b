"""What is built of the knowledge is kept while nothing changes, and never trusted blindly."""

from __future__ import annotations

import os
import pickle
import shutil
from pathlib import Path

import pytest

from advisor.knowledge_base import cached
from advisor.knowledge_base.places import Places

pytestmark = pytest.mark.skipif(not hasattr(os, "getuid"), reason="no cache where owners are not told")


@pytest.fixture
def places(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "knowledge").mkdir()
    (tmp_path / "rules").mkdir()
    (tmp_path / "knowledge" / "one.yaml").write_text("- 1\n")
    return Places(knowledge=tmp_path / "knowledge", rules=tmp_path / "rules")


class Kitchen:
    """Counts how often something had to be built."""

    def __init__(self) -> None:
        self.built = 0

    def build(self) -> list[int]:
        self.built += 1
        return [self.built]


def kept(places: Places) -> list[Path]:
    return sorted(cached._cache_folder().glob("thing-*.pickle"))


def ask(places: Places, kitchen: Kitchen) -> list[int]:
    return cached.remembered("thing", places, list, kitchen.build)


def test_it_is_built_once_while_nothing_changes(places):
    kitchen = Kitchen()
    assert [1] == ask(places, kitchen) == ask(places, kitchen)


def test_a_changed_file_makes_it_new(places):
    kitchen = Kitchen()
    ask(places, kitchen)
    (places.knowledge / "one.yaml").write_text("- 2\n")
    assert [2] == ask(places, kitchen)


def test_a_damaged_file_is_built_over(places):
    kitchen = Kitchen()
    ask(places, kitchen)
    kept(places)[0].write_bytes(b"not a pickle")
    assert [2] == ask(places, kitchen)
    assert [2] == ask(places, kitchen)


def test_another_kind_of_thing_is_not_taken(places):
    kitchen = Kitchen()
    ask(places, kitchen)
    data = pickle.dumps({"a": 1})
    kept(places)[0].write_bytes(cached._check_sum(data) + data)
    assert [2] == ask(places, kitchen)


def test_a_figure_that_the_disk_changed_is_not_taken(places):
    kitchen = Kitchen()
    ask(places, kitchen)
    path = kept(places)[0]
    data = pickle.dumps([7])
    assert len(path.read_bytes()) == 16 + len(data)
    path.write_bytes(path.read_bytes()[:16] + data)  # a list of one number, but of another
    assert [2] == ask(places, kitchen)


@pytest.mark.parametrize("open_to_others", ["file", "folder"])
def test_what_others_may_write_is_not_trusted(places, open_to_others):
    kitchen = Kitchen()
    ask(places, kitchen)
    spoilt = kept(places)[0] if open_to_others == "file" else cached._cache_folder()
    spoilt.chmod(0o777)
    assert [2] == ask(places, kitchen)


def test_a_link_is_not_followed(places, tmp_path):
    kitchen = Kitchen()
    ask(places, kitchen)
    path = kept(places)[0]
    shutil.move(path, tmp_path / "elsewhere")
    path.symlink_to(tmp_path / "elsewhere")
    assert [2] == ask(places, kitchen)


def test_a_file_edited_while_it_is_read_is_not_kept(places):
    def build() -> list[int]:
        (places.knowledge / "one.yaml").write_text("- 3\n")
        return [7]

    assert [7] == cached.remembered("thing", places, list, build)
    assert [] == kept(places)


def test_only_a_few_are_kept(places):
    for number in range(8):
        (places.knowledge / "one.yaml").write_text(f"- {number}\n")
        ask(places, Kitchen())
    assert 4 == len(kept(places))
