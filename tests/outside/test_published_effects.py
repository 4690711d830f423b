"""Published findings: change a formula as the paper did, and the product moves as it found, or is known not to.

The findings, each with its source, stand in tests/cases/published.yaml. A claim that is marked `disagrees` must go on
disagreeing: when a model is mended, its mark goes. `-s` shows the table of agreement.
"""

from __future__ import annotations

import pytest
from edited_texts import apply_edits, ground_text
from published_agreement import Judged, agreement_table, judged
from published_findings import findings

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text

LEAST_IN_SCOPE = 55
LEAST_AGREEMENT = 0.86
"""A little below what was found when the marks were made, so that mending one thing may cost a little elsewhere."""

CLAIMS = [(f, n, c) for f in findings() for n, c in enumerate(f.claims, 1)]
HOLDING = [pytest.param(f"{f.id}-{n}", id=f"{f.id}-{n}") for f, n, c in CLAIMS if c.disagrees is None]
MARKED = [pytest.param(f"{f.id}-{n}", id=f"{f.id}-{n}") for f, n, c in CLAIMS if c.disagrees is not None]


def tried(name: str) -> Judged:
    return next(j for j in judged() if j.name == name)


@pytest.mark.parametrize("name", HOLDING)
def test_the_product_moves_as_the_paper_found(name: str) -> None:
    found = tried(name)
    assert "agree" == found.outcome, f"{found.claim.says}: {found.said} ({found.finding.source})"


@pytest.mark.parametrize("name", MARKED)
def test_what_is_marked_still_disagrees(name: str) -> None:
    found = tried(name)
    assert found.outcome != "agree", f"{found.claim.says}: {found.said}; it agrees now: take the mark away"


def test_the_table_of_agreement() -> None:
    print("\n" + agreement_table())
    in_scope = {j.finding.id for j in judged()}
    agreeing = [j for j in judged() if j.outcome == "agree"]
    assert LEAST_IN_SCOPE <= len(in_scope), agreement_table()
    assert LEAST_AGREEMENT * len(judged()) <= len(agreeing), agreement_table()


def test_the_knowledge_describes_the_works_that_it_is_said_to_rest_on() -> None:
    assert set() == {f.key for f in findings() if f.key is not None} - set(load_knowledge().sources)


def test_findings_and_their_claims_are_told_apart() -> None:
    ids = [f.id for f in findings()]
    assert sorted(set(ids)) == sorted(ids)
    for finding in findings():
        demands = [c.model_dump_json(exclude={"says", "disagrees"}) for c in finding.claims]
        assert sorted(set(demands)) == sorted(demands), f"{finding.id} asks the same twice"


def test_every_formula_is_read_whole() -> None:
    """A name that is not known, or an amount that is not weighed, would make a claim about another formula."""
    knowledge = load_knowledge()
    for finding, number, claim in CLAIMS:
        if claim.figure is not None:
            continue
        for edits in (claim.before, claim.after):
            text = apply_edits(ground_text(finding.ground(claim)), edits)
            formula = read_formula_text(text, knowledge, name=finding.id)
            assert () == formula.unweighed + formula.warnings, f"{finding.id}-{number}"
