"""What nobody stated does not argue: evidence on an assumed value counts for little, and is called assumed."""

from __future__ import annotations

import pytest

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.cause_odds import likelihood_ratio
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.explanation.causes import said_causes
from advisor.explanation.proofs import why_blocks
from advisor.explanation.thresholds import Thresholds
from advisor.formula.reading import read_formula_text
from advisor.inference.situation import Suspicion
from advisor.interface.desk.showing import plain_lines

KNOWLEDGE = load_knowledge()
DOUGH = """Bran and gluten loaf
160 g vital wheat gluten
50 g oat fibre
3 eggs
190 g water
7 g instant yeast
5 g salt
proof: 60 min at 27 C
"""
BAKED = "pan: 23 x 10 x 8 cm\noven: 175 C for {minutes} min\n"


def _underbaked(text: str) -> float:
    formula = read_formula_text(text, KNOWLEDGE)
    found = default_advisor().examiner.examine(formula, saw=["gummy_centre"])
    rank = found.diagnosis.cause("underbaked")
    assert rank is not None
    return rank.probability


def test_a_raw_loaf_without_an_oven_line_may_still_be_underbaked() -> None:
    """Minutes that the models took for granted are no alibi; minutes that the baker stated are."""
    assert _underbaked(DOUGH) > 2 * _underbaked(DOUGH + BAKED.format(minutes=75))


def test_stated_minutes_accuse_more_than_those_of_an_assumed_oven() -> None:
    short = DOUGH + BAKED.format(minutes=25)
    without_heat = DOUGH + "pan: 23 x 10 x 8 cm\nbake: 25 min\n"
    assert _underbaked(DOUGH) < _underbaked(without_heat) < _underbaked(short)


def test_nothing_assumed_stands_against_a_cause() -> None:
    found = default_advisor().examiner.examine(read_formula_text(DOUGH, KNOWLEDGE), saw=["gummy_centre"])
    causes = said_causes(found, KNOWLEDGE, Thresholds.read(KNOWLEDGE))
    said = next(cause for cause in causes if cause.id == "underbaked")
    assert () == said.against
    lines = "\n".join(plain_lines(why_blocks(found, KNOWLEDGE, "underbaked")))
    assert "Assumed: " in lines
    assert "nobody stated it" in " ".join(lines.split())


@pytest.mark.parametrize("evidence", ["strong", "moderate", "weak", "against", "rules_out"])
def test_assumed_evidence_is_averaged_over_whether_it_holds(evidence: str) -> None:
    scale = EvidenceScale.read(KNOWLEDGE.coefficients)

    def ratio(share: float) -> float:
        said = Suspicion(
            cause="underbaked", rule="r", evidence=evidence, group="g", excess=1.0, depth=1.0, share=share
        )
        return likelihood_ratio(said, scale)

    whole = scale.against if evidence == "rules_out" else ratio(1.0)
    assert pytest.approx(0.3 * whole + 0.7) == ratio(0.3)
    assert pytest.approx(1.0) == ratio(0.0)
