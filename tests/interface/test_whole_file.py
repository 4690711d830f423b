"""A file that was asked for is written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import pytest

from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.whole_file import write_whole


def test_a_new_file_and_an_old_one(tmp_path: Path) -> None:
    path = tmp_path / "graph.dot"
    write_whole(path, "first\n")
    assert "first\n" == path.read_text("utf-8")
    path.chmod(0o600)
    write_whole(path, "second, 5 µm\n")
    assert "second, 5 µm\n" == path.read_text("utf-8")
    assert 0o600 == path.stat().st_mode & 0o777
    assert [path] == list(tmp_path.iterdir())


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "there").write_text("old")
    link = tmp_path / "here"
    link.symlink_to(tmp_path / "there")
    write_whole(link, "new")
    assert link.is_symlink()
    assert "new" == (tmp_path / "there").read_text()


def test_what_cannot_be_written_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(InputFault, match="cannot be written: no such file or directory"):
        write_whole(tmp_path / "missing" / "graph.dot", "text")
    with pytest.raises(InputFault, match="cannot be written: is a directory"):
        write_whole(tmp_path, "text")
    assert [] == list(tmp_path.iterdir())


def test_a_fault_on_the_way_keeps_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "graph.dot"
    path.write_text("old")

    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(InputFault, match="no space left on device"):
        write_whole(path, "new")
    assert "old" == path.read_text()
    assert [path] == list(tmp_path.iterdir())


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="a pipe with a name is a thing of Unix")
def test_a_pipe_is_written_into_and_not_replaced() -> None:
    with tempfile.TemporaryDirectory() as folder:
        pipe = Path(folder) / "pipe"
        os.mkfifo(pipe)
        reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
        try:
            write_whole(pipe, "through")
            assert b"through" == os.read(reader, 100)
        finally:
            os.close(reader)
        assert pipe.is_fifo()
