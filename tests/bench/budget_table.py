"""A measured time beside its budget, and ways to measure one that neighbours on the machine disturb least."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
_LAUNCH = """
import resource, subprocess, sys, time
start = time.perf_counter()
code = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL).returncode
print(code, time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One thing in its three rounds of budgets: `first`, `then` and `second`; `more` where more is better (a rate)."""

    what: str
    unit: str
    value: float
    first: float | None
    then: float | None
    second: float | None = None
    more: bool = False
    note: str = ""

    def met(self, budget: float | None) -> str:
        """Say whether a budget is met; a dash where there is none."""
        if budget is None:
            return "-"
        return "yes" if (self.value >= budget if self.more else self.value <= budget) else "NO"


def show(rows: Sequence[Row]) -> None:
    """Print the table."""
    width = max(len(row.what) for row in rows)
    heads = "".join(f" {name:>6} {'met':>4}" for name in ("first", "then", "second"))
    print(f"{'what':{width}} {'measured':>11}{heads}  note")
    for row in rows:
        budgets = "".join(
            f" {'-' if b is None else f'{b:g}':>6} {row.met(b):>4}" for b in (row.first, row.then, row.second)
        )
        print(f"{row.what:{width}} {f'{row.value:.3g} {row.unit}':>11}{budgets}  {row.note}")


def milliseconds(
    cases: Mapping[str, Callable[[], object]], *, before: Callable[[], object] | None = None, rounds: int = 9
) -> dict[str, float]:
    """Least time of each case on a core, ms; `before` runs untimed ahead of each.

    Time on the core, since all of this runs on one thread. The rounds go through all cases in turn, so that a
    busy moment of the machine falls on one round of many cases and not on all rounds of one.
    """
    best = dict.fromkeys(cases, float("inf"))
    gc.collect()
    for _ in range(rounds):
        for name, work in cases.items():
            if before is not None:
                before()
            start = time.process_time()
            work()
            best[name] = min(best[name], time.process_time() - start)
    return {name: 1000 * seconds for name, seconds in best.items()}


def slowest(
    what: str,
    times: Mapping[str, float],
    first: float,
    then: float,
    more: str = "",
    second: float | None = None,
) -> Row:
    """A row for the slowest of several cases, ms, which is named beside the median."""
    name = max(times, key=lambda n: times[n])
    middle = sorted(times.values())[len(times) // 2]
    note = f"slowest of {len(times)}: {name}; median {middle:.3g} ms{more}"
    return Row(what=what, unit="ms", value=times[name], first=first, then=then, second=second, note=note)


def process(arguments: Sequence[str], folder: str, rounds: int = 5) -> tuple[float, float]:
    """Wall seconds (least of some rounds) and peak megabytes of a Python process with these arguments.

    Its caches, that of Python's bytecode included, stand in `folder`. A small process starts it, since a child's
    peak counts what its parent held when it started.
    """
    environment = {n: v for n, v in os.environ.items() if n != "PYTHONDONTWRITEBYTECODE"}
    environment |= {"XDG_CACHE_HOME": folder, "PYTHONPYCACHEPREFIX": f"{folder}/bytecode"}
    best = peak = float("inf")
    for _ in range(rounds):
        command = [sys.executable, "-c", _LAUNCH, sys.executable, *arguments]
        told = subprocess.run(
            command, cwd=ROOT, env=environment, check=True, capture_output=True, text=True
        ).stdout
        code, took, kilobytes = told.split()
        if code not in ("0", "1"):
            raise RuntimeError(f"{' '.join(arguments)} ended with {code}")
        best, peak = min(best, float(took)), min(peak, float(kilobytes) / 1024)
    return best, peak
