"""What learning is worth, on simulated kitchens: `python tests/bench/bench_learning.py [KITCHENS]`.

For each hidden bias, and for kitchens without one: how often the right cause comes first, without and with what ten
recorded bakes have taught. At least 10 points are wanted over all biased kitchens, and at most 2 lost in the others.
"""

from __future__ import annotations

import math
import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parents[2])]

from simulated_kitchens import BIASES, run  # noqa: E402

SEED = 20260501


def interval(count: int, of: int) -> str:
    """Wilson's interval, 95 %."""
    z, p = 1.96, count / of
    middle = (p + z * z / (2 * of)) / (1 + z * z / of)
    half = z / (1 + z * z / of) * math.sqrt(p * (1 - p) / of + z * z / (4 * of * of))
    return f"{100 * p:5.1f} % [{100 * (middle - half):.1f}, {100 * (middle + half):.1f}]"


def main(kitchens: int) -> int:
    share = [kitchens // len(BIASES) + (n < kitchens % len(BIASES)) for n in range(len(BIASES))]
    total = [0, 0, 0]
    for bias, count in zip(BIASES, share, strict=True):
        found = run(bias, count, SEED)
        total = [a + b for a, b in zip(total, found, strict=True)]
        _say(bias, *found)
    gained = _say("all biased", *total)
    lost = -_say("unbiased", *run(None, kitchens, SEED))
    print(f"gained {gained:+.1f} points (wanted 10), lost {lost:+.1f} (at most 2)")
    return 0 if gained >= 10 and lost <= 2 else 1


def _say(name: str, without: int, learnt: int, loaves: int) -> float:
    gain = 100 * (learnt - without) / loaves
    print(
        f"{name:12} {interval(without, loaves)} -> {interval(learnt, loaves)}, {gain:+.1f} points", flush=True
    )
    return gain


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
