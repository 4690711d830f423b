"""How far probabilities can be believed: of all causes said to be 60 % likely, are six in ten the right ones?

Run: python tests/bench/calibration.py. Over all cases (put in, told as right, good formulas): reliability of the
first cause's probability, of every cause's probability, and of the risks before the bake against the symptoms that
the bakers of the cases saw. Wilson's 95 % intervals; Brier score (Brier 1950, Mon. Weather Rev. 78, 1) against a
forecast that always says the base rate of the same statements.

The cases were chosen by bakers to show one fault each, with symptoms that fault tables list: they are easier
than what a kitchen reports, so that hit rates here are higher than they will be there. Causes that nobody put in
count as absent, also in told cases, whose bakers may have had a second one.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from case_files import CASES, entries, sound_cases  # noqa: E402
from edited_texts import apply_edits, ground_text, wilson  # noqa: E402
from injected_cases import INJECTED, accepted, answer, headings, injected_causes  # noqa: E402

from advisor import default_advisor, load_knowledge  # noqa: E402
from advisor.formula.formula import Formula  # noqa: E402
from advisor.formula.reading import read_formula_text  # noqa: E402

EDGES = (0.0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.9, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One statement: a probability, and whether what it is about was so."""

    probability: float
    true: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """Statements of like probability: their mean, and how many were true with the interval."""

    low: float
    high: float
    many: int
    mean: float
    true: int
    interval: tuple[float, float]

    @property
    def rate(self) -> float:
        """Share that was true."""
        return self.true / self.many


def bins(said: Sequence[Said], edges: Sequence[float] = EDGES) -> list[Bin]:
    """Sort statements into bins; the last holds its upper edge, empty ones are left out."""
    found = []
    for low, high in pairwise(edges):
        inside = [s for s in said if low <= s.probability < high or s.probability == high == edges[-1]]
        if inside:
            true, many = sum(s.true for s in inside), len(inside)
            mean = sum(s.probability for s in inside) / many
            found.append(
                Bin(low=low, high=high, many=many, mean=mean, true=true, interval=wilson(true, many))
            )
    return found


def brier(said: Sequence[Said]) -> float:
    """Mean squared distance of the probability from what was so, 0 to 1, less is better."""
    return sum((s.probability - s.true) ** 2 for s in said) / len(said)


def brier_of_base_rate(said: Sequence[Said]) -> float:
    """Brier score of always saying how often such statements are true at all."""
    rate = sum(s.true for s in said) / len(said)
    return rate * (1 - rate)


def gap(said: Sequence[Said]) -> float:
    """Mean probability less the share that was true: above 0 is over-confident."""
    return sum(s.probability - s.true for s in said) / len(said)


# ---- what was said of the cases


@cache
def _told() -> tuple[tuple[str, str, Formula, dict], ...]:
    sound = {case.id: case.text for case in sound_cases()}
    found = []
    for path in sorted((CASES / "told").glob("*.yaml")):
        for case in entries(path):
            if case["kind"] == "right":
                dough_state = sound.get(case.get("formula")) or ground_text(case)
                text = apply_edits(dough_state, case.get("edits") or [])
                found.append((case["id"], case["cause"], read_formula_text(text, load_knowledge()), case))
    return tuple(found)


@cache
def _rankings() -> tuple[tuple[frozenset[str], frozenset[str], tuple[tuple[str, float], ...]], ...]:
    """Of every case: causes put in, causes accepted as the same finding, and the answer."""
    found = []
    for case in INJECTED:
        ranks = answer(case["id"]).examination.diagnosis.causes
        put_in = frozenset(injected_causes(case))
        found.append((put_in, frozenset(accepted(case)), tuple((r.id, r.probability) for r in ranks)))
    for _, cause, formula, case in _told():
        examination = default_advisor().examiner.examine(
            formula, saw=tuple(case["saw"]), not_seen=tuple(case.get("not_seen") or ()),
            answers=case.get("answers"), after_bake=True,
        )  # fmt: skip
        ranks = examination.diagnosis.causes
        found.append((frozenset({cause}), frozenset({cause}), tuple((r.id, r.probability) for r in ranks)))
    return tuple(found)


def first_causes() -> list[Said]:
    """The first cause of every case, and whether it was put in or is accepted as the same finding.

    A heading over the next cause is passed over. A kind of the cause put in, and what it is a kind of, are right.
    """
    found = []
    for _, right, ranks in _rankings():
        at = 0
        while ranks[at][0] in headings(ranks[at + 1][0]):
            at += 1
        found.append(Said(probability=ranks[at][1], true=_is_one_of(ranks[at][0], right)))
    return found


def _is_one_of(cause: str, right: frozenset[str]) -> bool:
    return bool({cause, *headings(cause)} & right) or any(cause in headings(r) for r in right)


def every_cause() -> list[Said]:
    """Every cause of every case but headings; what is accepted without having been put in is left out."""
    parents = {parent for cause in load_knowledge().causes for parent in headings(cause)}
    found = []
    for put_in, right, ranks in _rankings():
        for cause, probability in ranks:
            if cause not in parents and (cause in put_in or not _is_one_of(cause, right)):
                found.append(Said(probability=probability, true=cause in put_in))
    return found


def risks_before_the_bake() -> list[Said]:
    """Risk of each symptom that a case names, of what the plan alone shows, against whether it was seen.

    Only symptoms that the baker reported or looked for in vain; of good formulas all, none of which was seen. Symptoms
    that were made up to mislead are left out, and so are cases that only an answer brings.
    """
    found = []
    causes = load_knowledge().causes
    for case in INJECTED:
        if any(causes[cause].handling for cause in injected_causes(case)):
            continue
        risks = _risks(answer(case["id"]).examination.formula)
        seen = [s for s in case["saw"] if s != case.get("added")]
        found += [Said(probability=risks[s], true=True) for s in seen]
        found += [Said(probability=risks[s], true=False) for s in case.get("not_seen") or []]
    for good in sound_cases():
        risks = _risks(read_formula_text(good.text, load_knowledge()))
        found += [Said(probability=risk, true=False) for risk in risks.values()]
    return found


def _risks(formula: Formula) -> dict[str, float]:
    found = default_advisor().examiner.examine(formula, after_bake=False)
    return {symptom: risk.risk for symptom, risk in found.diagnosis.risks.items()}


def show(title: str, said: Sequence[Said]) -> None:
    """Print the reliability table of some statements."""
    print(f"\n{title}: {len(said)} statements, {sum(s.true for s in said)} true")
    print(f"  {'said':>12} {'many':>6} {'mean said':>10} {'true':>6}  interval")
    for b in bins(said):
        low, high = (100 * edge for edge in b.interval)
        verdict = (
            ""
            if b.interval[0] <= b.mean <= b.interval[1]
            else "  too sure"
            if b.mean > b.rate
            else "  too shy"
        )
        print(f"  {b.low:5.2f} to {b.high:4.2f} {b.many:6} {100 * b.mean:8.0f} % {100 * b.rate:4.0f} %"
              f"  {low:.0f} to {high:.0f} %{verdict}")  # fmt: skip
    print(f"  Brier {brier(said):.4f}, of the base rate {brier_of_base_rate(said):.4f}; "
          f"mean said less share true {gap(said):+.3f}")  # fmt: skip


def main() -> None:
    """Print all tables."""
    show("first cause", first_causes())
    show("every cause", every_cause())
    show("risks before the bake", risks_before_the_bake())


if __name__ == "__main__":
    main()
