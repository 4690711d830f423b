"""What the answers make of the faults put in: which cause they name first, what they propose, how far it goes back.

Run: python tests/bench/confusion.py. Intervals are Wilson's, 95 %. Open and held-out cases, and causes that amounts
show and those that only the baker's word brings, stand apart. `--cases` adds one line a case that is not first.
"""

from __future__ import annotations

import statistics
import sys
from collections import Counter
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from edited_texts import counted  # noqa: E402
from injected_cases import (  # noqa: E402
    FIRST_CASES,
    INJECTED,
    MORE_CASES,
    accepted,
    answer,
    first_cause,
    injected_causes,
    kind,
    place,
    right_lever,
    treatable,
    undoing,
)

GROUPS = {
    "all cases": INJECTED,
    "first file": FIRST_CASES,
    "second file": MORE_CASES,
    "open": [c for c in INJECTED if not c["heldout"]],
    "held out": [c for c in INJECTED if c["heldout"]],
    "second file, open": [c for c in MORE_CASES if not c["heldout"]],
    "second file, held out": [c for c in MORE_CASES if c["heldout"]],
    "measured": [c for c in INJECTED if kind(c) == "measured"],
    "handling": [c for c in INJECTED if kind(c) == "handling"],
    "two faults": [c for c in INJECTED if "causes" in c],
}


def share_of(cases, holds) -> str:
    """Count how many cases something holds of, with its interval."""
    return counted(sum(map(holds, cases)), len(cases)) if cases else "none"


def causes_named() -> None:
    """Print how often the fault is named first, and among three."""
    print(f"{'':22} {'first':>24} {'first, strictly':>24} {'among three':>24}")
    for label, cases in GROUPS.items():
        first, strict, three = (
            share_of(cases, lambda c: place(c, accepted(c)) == 1),
            share_of(cases, lambda c: place(c, set(injected_causes(c))) == 1),
            share_of(cases, lambda c: place(c, accepted(c)) <= 3),
        )
        print(f"{label:22} {first:>24} {strict:>24} {three:>24}")


def confusion() -> None:
    """Print the table: the (first) fault put in against the first cause named."""
    rows: dict[str, Counter[str]] = {}
    for case in INJECTED:
        named = first_cause(case)
        put_in = injected_causes(case)
        rows.setdefault(named if named in put_in else put_in[0], Counter())[named] += 1
    print("\nput in, and what was named first (the right one in front, * is accepted as the same finding)")
    also = {(injected_causes(c)[0], a) for c in INJECTED for a in c.get("also_accept") or []}
    for cause in sorted(rows):
        right = rows[cause].pop(cause, 0)
        others = [f"{n}{'*' if (cause, n) in also else ''} {k}" for n, k in rows[cause].most_common()]
        print(f"  {cause:28} {right:3} of {right + sum(rows[cause].values()):3}  {', '.join(others)}")


def proposals() -> None:
    """Print how often there is a proposal, and the right one, and how far it goes back."""
    print(
        f"\n{'':22} {'a proposal':>24} {'right, first two':>24} {'right, any place':>24} {'amount in order':>24}"
    )
    for label, cases in GROUPS.items():
        cured = [c for c in cases if treatable(c)]
        undone = [c for c in cases if "undo" in c]
        print(
            f"{label:22} {share_of(cured, lambda c: bool(answer(c['id']).plans.proposals)):>24} "
            f"{share_of(cured, right_lever):>24} {share_of(cured, lambda c: right_lever(c, 99)):>24} "
            f"{share_of(undone, lambda c: undoing(c['id']).fault is None):>24}"
        )
    shares = sorted(
        s
        for c in INJECTED
        if "undo" in c and (s := undoing(c["id"]).share) is not None and kind(c) == "measured"
    )
    cuts = statistics.quantiles(shares, n=20, method="inclusive")
    said = ", ".join(f"{p} % {100 * cuts[p // 5 - 1]:.0f}" for p in (5, 25, 50, 75, 95))
    print(f"\nhow much of the injection is undone, % (measured, {len(shares)} cases): {said}; "
          f"least {100 * shares[0]:.0f}, most {100 * shares[-1]:.0f}")  # fmt: skip


def cases_missed() -> None:
    """Print every case whose fault is not first, whose lever is not among two, or whose amount is not in order."""
    for case in INJECTED:
        at = place(case, accepted(case))
        fault = undoing(case["id"]).fault if "undo" in case else None
        if at == 1 and right_lever(case) and fault is None:
            continue
        ranks = answer(case["id"]).examination.diagnosis.causes[:4]
        held = "held out" if case["heldout"] else "open"
        print(f"\n{case['id']} ({held}): {injected_causes(case)} place {at}: "
              f"{', '.join(f'{r.id} {r.probability:.2f}' for r in ranks)}")  # fmt: skip
        if not right_lever(case):
            print(
                f"  proposed {[f'{p.lever} for {p.cause}' for p in answer(case['id']).plans.proposals[:4]]}"
            )
        if fault is not None:
            print(f"  amount: {fault[:400]}")


def main() -> None:
    """Print everything."""
    causes_named()
    confusion()
    proposals()
    if "--cases" in sys.argv:
        cases_missed()


if __name__ == "__main__":
    main()
