"""Published experiments: change the formula as the paper did, and the risk moves as the paper found.

The entries of grade `published` in tests/cases/pairs.yaml; each names its source beside it (`source`,
`as_published`).
"""

from __future__ import annotations

import pytest
from case_files import CASES, entries
from test_cases import pair_fault

PUBLISHED = [p for p in entries(CASES / "pairs.yaml") if p["grade"] == "published"]


def test_enough_experiments_are_laid_down():
    assert 15 <= len(PUBLISHED)
    assert [] == [p["id"] for p in PUBLISHED if not p.get("source") or not p.get("as_published")]


@pytest.mark.parametrize("pair", [pytest.param(p, id=p["id"]) for p in PUBLISHED])
def test_the_risk_moves_as_the_experiment_found(pair):
    assert pair_fault(pair) is None, f"{pair_fault(pair)} ({pair['source']})"
