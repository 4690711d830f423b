"""Engines, direct evaluator and proofs laid beside each other on as many sets of facts as time allows.

Run: python tests/bench/engines_agree.py [SECONDS] [SEED]. Draws subsets of the shipped rules, from one rule to all of
them, with facts near every edge; prints what was compared and each difference, and exits 1 if there is one.
"""

from __future__ import annotations

import random
import sys
import time
from collections import Counter
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "inference")]

from fact_sets import differences, facts_for, shipped_rules, with_their_ground  # noqa: E402
from proof_checker import conclusions  # noqa: E402
from small_rules import ENGINES  # noqa: E402

from advisor.inference.inferring import RuleBook  # noqa: E402

_SETS = 10


def main() -> int:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 300.0
    rng = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 0)
    shipped, count, fired = shipped_rules(), Counter[str](), set[str]()
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        some = rng.sample(shipped, min(round(rng.lognormvariate(3.0, 1.2)) + 1, len(shipped)))
        rules = with_their_ground(some, shipped)
        book = RuleBook.compile(rules)
        count["rule sets"] += 1
        for _ in range(_SETS):
            situation = facts_for(rules, rng)
            told, expected = differences(rules, book, situation)
            count["fact sets"] += 1
            count["firings"] += len(expected.firings)
            count["proofs an engine"] += len(conclusions(expected))
            fired |= {firing.rule for firing in expected.firings}
            for fault in told:
                count["differences"] += 1
                print(f"{[rule.id for rule in some]}: {fault}\n  {situation}")
    print(f"engines: {', '.join(ENGINES)}; {len(fired)} of {len(shipped)} rules fired")
    for what in ("rule sets", "fact sets", "firings", "proofs an engine", "differences"):
        print(f"{count[what]:10,} {what}")
    return 1 if count["differences"] else 0


if __name__ == "__main__":
    sys.exit(main())
