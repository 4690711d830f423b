"""Facts of the trade, each a statement in tests/outside/trade_facts.yaml with what must hold for it to be true.

Common practice, no source, unless the entry names one.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from case_files import entries
from edited_texts import edited

from advisor import default_advisor

FACTS = entries(Path(__file__).parent / "trade_facts.yaml")
KINDS = {
    "measure",
    "slices_within",
    "measure_moves",
    "measure_compare",
    "cause_rises",
    "symptom_rises",
    "quiet",
}


@cache
def _examined(key: str, place: int, edits: str, word: str):
    fact = next(f for f in FACTS if f["id"] == key)
    check = fact["checks"][place]
    own = check.get("edits", fact.get("edits", [])) if edits else []
    if word:
        chosen = check.get(f"{word}_text")
        ground = {"text": chosen} if chosen else {"formula": check[word]}
    else:
        ground = {"formula": check["formula"]} if "formula" in check else fact
    return default_advisor().examiner.examine(edited(ground, own, key), after_bake=False)


def measured(found, name: str) -> float:
    value = found.situation.measures.get(name)
    assert value is not None, f"{name}: {found.workings.measures.by_id[name].reason}"
    return value


def checks():
    for fact in FACTS:
        for place, check in enumerate(fact["checks"]):
            yield pytest.param(fact, place, id=f"{fact['id']}-{check['kind']}-{place}")


def test_every_fact_says_what_it_is_checked_by():
    assert set() == {c["kind"] for f in FACTS for c in f["checks"]} - KINDS
    assert 10 <= len(FACTS)


@pytest.mark.parametrize(("fact", "place"), list(checks()))
def test_a_fact_of_the_trade_holds(fact, place):
    check, key = fact["checks"][place], fact["id"]
    kind = check["kind"]
    has_edits = "edits" in check or "edits" in fact

    def plain():
        return _examined(key, place, "", "")

    def changed():
        return _examined(key, place, "yes", "")

    if kind == "measure":
        found = measured(changed() if has_edits else plain(), check["measure"])
        assert check["at_least"] <= found <= check["at_most"]
    elif kind == "slices_within":
        assert check["slices"] * measured(plain(), check["measure"]) <= check["at_most"]
    elif kind == "measure_moves":
        assert has_edits
        a, b = (measured(x, check["measure"]) for x in (plain(), changed()))
        small = 1e-3 * max(abs(a), abs(b))
        moves = {
            "up": b > a + small,
            "down": b < a - small,
            "not_up": b <= a + small,
            "not_down": b >= a - small,
        }
        assert moves[check["moves"]], f"{check['measure']} {a:.4g} to {b:.4g}, not {check['moves']}"
    elif kind == "measure_compare":
        low, high = (_examined(key, place, "", word) for word in ("lower", "higher"))
        assert measured(low, check["measure"]) < measured(high, check["measure"])
    elif kind == "cause_rises":
        assert has_edits
        a, b = (x.diagnosis.own.get(check["cause"], 0.0) for x in (plain(), changed()))
        assert a + 0.01 < b, f"{check['cause']} {a:.3f} to {b:.3f}"
    elif kind == "symptom_rises":
        assert has_edits
        a, b = (x.diagnosis.risks[check["symptom"]].risk for x in (plain(), changed()))
        assert a + 0.02 < b, f"{check['symptom']} {a:.3f} to {b:.3f}"
    else:
        if check.get("of") == "lower_text":
            text = next(c["lower_text"] for c in fact["checks"] if "lower_text" in c)
            found = default_advisor().examiner.examine(edited({"text": text}, [], key), after_bake=False)
        else:
            found = plain()
        risks = found.diagnosis.risks.items()
        assert {} == {s: round(r.risk, 2) for s, r in risks if r.risk > check["at_most"]}
