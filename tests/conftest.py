"""What many tests share: the knowledge and the advisor, made once."""

from __future__ import annotations

import os

import pytest

from advisor import default_advisor, load_knowledge
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor

# No test reads the ingredients of whoever runs it.
os.environ["ADVISOR_INGREDIENTS"] = os.devnull


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return load_knowledge()


@pytest.fixture(scope="session")
def advisor() -> Advisor:
    return default_advisor()
