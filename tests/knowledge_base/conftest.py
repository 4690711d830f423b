"""The small knowledge, copied for each test so that it may be spoilt."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from spoiling import SMALL, Kitchen


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    top = tmp_path / "kitchen"
    shutil.copytree(SMALL, top)
    (top / "tests").mkdir()
    (top / "tests" / "pins.py").write_text("")
    return Kitchen(top)
