"""What many tests share: the knowledge and the advisor, made once."""

from __future__ import annotations

import gc
import os
import shutil
import tempfile
from pathlib import Path

import pytest
from kept_looks import keep_looks
from laws import register_profiles
from spoiling import SMALL, Kitchen

from advisor import default_advisor, load_knowledge
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor

# Thousands of tests and the knowledge stay to the end: looking through them again and again for garbage took a part of
# each test, as it would of each command (command_line.py).
gc.set_threshold(100_000, 20, 20)
# No test reads the ingredients of whoever runs it.
os.environ["ADVISOR_INGREDIENTS"] = os.devnull
# Nor the trial record, which is not there.
os.environ["ADVISOR_RECORD"] = str(Path(tempfile.mkdtemp(prefix="dough-advisor-tests-")) / "record.sqlite3")
os.environ["ADVISOR_MEASURES"] = os.devnull
# Nor touches the cache of whoever runs it; processes that tests start share this one.
os.environ["ADVISOR_TYPED"] = tempfile.mkdtemp(prefix="dough-advisor-tests-")
os.environ["XDG_CACHE_HOME"] = tempfile.mkdtemp(prefix="dough-advisor-tests-")
# Where Python may not write beside its sources, every process that a test starts would compile all of them anew.
if os.environ.pop("PYTHONDONTWRITEBYTECODE", ""):
    os.environ["PYTHONPYCACHEPREFIX"] = tempfile.mkdtemp(prefix="dough-advisor-tests-")

register_profiles()
keep_looks()


def pytest_collection_finish() -> None:
    gc.collect()
    gc.freeze()


@pytest.hookimpl(trylast=True)
def pytest_runtest_teardown(item: pytest.Item, nextitem: pytest.Item | None) -> None:
    """Give back, folder by folder, what tests made anew: each examiner holds networks of 15 MB and stands in cycles."""
    if nextitem is not None and nextitem.path.parent != item.path.parent:
        gc.collect()


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return load_knowledge()


@pytest.fixture(scope="session")
def advisor() -> Advisor:
    return default_advisor()


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """A copy of the small knowledge, to be spoilt."""
    top = tmp_path / "kitchen"
    shutil.copytree(SMALL, top)
    (top / "tests").mkdir()
    (top / "tests" / "pins.py").write_text("")
    return Kitchen(top)
