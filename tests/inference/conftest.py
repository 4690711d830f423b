from __future__ import annotations

import pytest
from small_rules import ENGINES


@pytest.fixture(params=ENGINES)
def engine(request: pytest.FixtureRequest) -> str:
    """Each engine that runs on this interpreter."""
    return str(request.param)
