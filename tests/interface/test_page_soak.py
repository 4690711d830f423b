"""A short soak of the page: it answers to the end and holds no more than at the start; tests/bench has the long one."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.long


def test_the_page_holds_no_more_after_some_load() -> None:
    path = Path(__file__).parents[1] / "bench" / "soak_page.py"
    spec = importlib.util.spec_from_file_location("soak_page", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["soak_page"] = module
    spec.loader.exec_module(module)
    found = module.soak(15.0)
    # 400: what cannot be read; 409: dropped for something newer. Nothing of the program failed, nothing was too busy.
    assert {200, 400, 409} >= set(found.statuses)
    assert found.statuses[200] > found.statuses[400]
    assert found.memory_mb[-1] < 1.3 * found.memory_mb[0] + 30
    assert found.processes[-1] <= found.processes[0] + 1
    assert found.files[-1] <= found.files[0] + 8
    assert "" == found.complained
