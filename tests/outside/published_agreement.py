"""How far the product agrees with published findings: python tests/outside/published_agreement.py prints the table.

Every claim of tests/cases/published.yaml is tried: `agree`, `disagree` (it moves the other way, or misses a figure) or
`silent` (it does not move, or has no value).
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from edited_texts import apply_edits, ground_text, wilson  # noqa: E402
from published_findings import Claim, Edit, Finding, findings  # noqa: E402

from advisor import default_advisor, load_knowledge  # noqa: E402
from advisor.diagnosis.pipeline import Examination  # noqa: E402
from advisor.formula.reading import read_formula_text  # noqa: E402

LEAST_RISK = 0.01
"""A smaller step of a risk is no movement (own judgement, as for the pairs of tests/cases/pairs.yaml)."""
LEAST_SHARE = 0.01
"""A smaller step of a measure, over its value before, is no movement (own judgement)."""

Outcome = Literal["agree", "disagree", "silent"]


@dataclass(frozen=True)
class Judged:
    """A claim with what the product made of it."""

    finding: Finding
    number: int
    claim: Claim
    outcome: Outcome
    said: str

    @property
    def name(self) -> str:
        """Finding and place of the claim in it, from 1."""
        return f"{self.finding.id}-{self.number}"


@cache
def _examined(text: str) -> Examination:
    formula = read_formula_text(text, load_knowledge(), name="published")
    return default_advisor().examiner.examine(formula, after_bake=False)


def _value(claim: Claim, ground: Mapping[str, str], edits: Iterable[Edit]) -> float | None:
    """Read a claim's subject off the ground with some edits."""
    found = _examined(apply_edits(ground_text(ground), edits))
    if claim.risk is not None:
        return found.diagnosis.risks[claim.risk].risk
    assert claim.measure is not None
    value = _measure(found, claim.measure)
    if claim.over is None or value is None:
        return value
    whole = _measure(found, claim.over)
    return value / whole if whole else None


def _measure(found: Examination, name: str) -> float | None:
    """A measure of what is not in the formula (an enzyme) is nothing, not unknown."""
    absent = found.workings.measures.by_id[name].reason == "not in this formula"
    return 0.0 if absent else found.situation.measures.get(name)


def _figure(path: str) -> float:
    """Follow a path through the knowledge: kind.id.field, and a place in a range."""
    kind, entry, *fields = path.split(".")
    at: Any = getattr(load_knowledge(), kind)[entry]
    for field in fields:
        at = at[int(field)] if field.isdigit() else getattr(at, field)
    return float(at)


def _moved(claim: Claim, was: float, now: float) -> Outcome:
    step = LEAST_RISK if claim.risk is not None else LEAST_SHARE * abs(was)
    if abs(now - was) < step or now == was:
        return "silent"
    return "agree" if (now > was) == (claim.moves == "up") else "disagree"


def judge(finding: Finding, claim: Claim) -> tuple[Outcome, str]:
    """Try a claim; say how it came out and with which values."""
    if claim.figure is not None:
        value = _figure(claim.figure)
        return _within(claim.between, value), f"{claim.figure} {value:g}"
    ground = finding.ground(claim)
    subject = claim.risk or f"{claim.measure}{f' over {claim.over}' if claim.over else ''}"
    now = _value(claim, ground, claim.after)
    if claim.between is not None:
        return _within(claim.between, now), f"{subject} {_shown(now)}"
    was = _value(claim, ground, claim.before)
    said = f"{subject} {_shown(was)} to {_shown(now)}"
    if was is None or now is None:
        return "silent", said
    if claim.ratio is not None:
        if not was:
            return "silent", said
        low, high = claim.ratio
        moved = abs(now / was - 1) >= LEAST_SHARE or low <= 1 <= high
        return _within(claim.ratio, now / was) if moved else "silent", f"{said}: x {now / was:.3g}"
    if claim.moves == "same":
        assert claim.within is not None
        far = abs(now - was) if claim.risk is not None else abs(now - was) / abs(was) if was else abs(now)
        return "agree" if far <= claim.within else "disagree", said
    return _moved(claim, was, now), said


def _shown(value: float | None) -> str:
    return "no value" if value is None else f"{value:.4g}"


def _within(bounds: tuple[float, float] | None, value: float | None) -> Outcome:
    assert bounds is not None
    if value is None:
        return "silent"
    return "agree" if bounds[0] <= value <= bounds[1] else "disagree"


@cache
def judged() -> tuple[Judged, ...]:
    """Every claim of every finding in scope, tried."""
    return tuple(
        Judged(finding, number, claim, *judge(finding, claim))
        for finding in findings()
        for number, claim in enumerate(finding.claims, 1)
    )


def _row(name: str, found: Iterable[Finding]) -> str:
    ids = {f.id for f in found}
    tried = [j for j in judged() if j.finding.id in ids]
    in_scope = len({j.finding.id for j in tried})
    count = {o: sum(j.outcome == o for j in tried) for o in ("agree", "disagree", "silent")}
    share, low, high = 0.0, 0.0, 0.0
    if tried:
        share, (low, high) = count["agree"] / len(tried), wilson(count["agree"], len(tried))
    interval = f"{100 * share:.0f} % ({100 * low:.0f} to {100 * high:.0f})"
    cells = (name, in_scope, len(tried), count["agree"], count["disagree"], count["silent"], interval)
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def agreement_table() -> str:
    """Write the table of agreement: a row a topic, then all, and those that the knowledge does not rest on."""
    known = findings()
    topics = list(dict.fromkeys(f.topic for f in known))
    lines = [
        "| Published findings | in scope | claims | agree | disagree | silent | agreement (95 %) |",
        "|---|---|---|---|---|---|---|",
        *(_row(topic, (f for f in known if f.topic == topic)) for topic in topics),
        _row("all", known),
        _row("that the knowledge cites", (f for f in known if f.key is not None)),
        _row("that it does not cite", (f for f in known if f.key is None)),
    ]
    out = sum(f.out_of_scope is not None for f in known)
    return "\n".join([*lines, "", f"{len(known)} findings were gathered; {out} are out of scope."])


def main() -> None:
    """Print the table, and below it every claim that does not hold, with the reason."""
    print(agreement_table())
    for j in judged():
        if j.outcome != "agree" or j.claim.disagrees:
            print(
                f"\n{j.name} {j.outcome}: {j.claim.says} ({j.said})\n    {j.claim.disagrees or 'NOT MARKED'}"
            )


if __name__ == "__main__":
    main()
