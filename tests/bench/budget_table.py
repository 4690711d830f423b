"""Every budget of speed and memory, and ways to measure one that neighbours on the machine disturb least."""

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
class Budget:
    """What may be needed for one thing, in rounds that ask for more each; `more` where more is better (a rate)."""

    unit: str
    first: float | None = None
    then: float | None = None
    second: float | None = None
    more: bool = False
    by: str = "bench_budgets.py"

    def met(self, value: float, budget: float | None) -> str:
        """Say whether one of its numbers is met; a dash where there is none."""
        if budget is None:
            return "-"
        return "yes" if (value >= budget if self.more else value <= budget) else "NO"


BUDGETS = {
    "cold check": Budget(unit="s", first=1.2, then=0.6, second=0.5),
    "cold check, memory": Budget(unit="MB", then=120, second=100),
    "import advisor": Budget(unit="ms", first=150, then=80),
    "parse and match, 12 lines": Budget(unit="ms", first=5, then=1),
    "one bake, solved": Budget(unit="ms", first=40, then=10, second=10),
    "one bake, cached": Budget(unit="ms", first=0.1, then=0.1),
    "measures without bake": Budget(unit="ms", first=5, then=2),
    "inference": Budget(unit="ms", first=10, then=4, second=4),
    "posterior and risks, 4 seen": Budget(unit="ms", first=10, then=3),
    "next question, 4 seen": Budget(unit="ms", first=100, then=50, second=50),
    "warm check, no proposals": Budget(unit="ms", first=60, then=20, second=20),
    "the same with intervals": Budget(unit="ms", second=40),
    "warm check with proposals": Budget(unit="ms", first=300, then=80),
    "the same and the joint plan": Budget(unit="ms", first=300, then=80, second=100),
    "batch a core": Budget(unit="/s", first=15, then=50, second=50, more=True),
    "batch a core with proposals": Budget(unit="/s", first=3, then=12, second=12, more=True),
    "batch on two cores": Budget(unit="x", then=1.8, more=True),
    "batch, memory from the 3rd tenth to the 9th": Budget(unit="MB", second=25, by="bench_many.py"),
    "10x rules, none matching": Budget(unit="x", first=2, then=1.3),
    "10x ingredients, a formula read": Budget(unit="x", then=1.3),
    "10x lines, a check": Budget(unit="x", then=1.3),
    "a verb on 10,000 bakes": Budget(unit="ms", then=100, by="bench_record.py"),
    "a moved amount on the page": Budget(unit="ms", second=150, by="bench_page.py"),
    "start": Budget(unit="s", second=10),
}
"""Every budget there is, once; each script that measures one names it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What was measured beside its budget, `which` of several it is, and what there is to say of it."""

    what: str
    value: float
    which: str = ""
    note: str = ""

    @property
    def name(self) -> str:
        """The budget, and which of several this is."""
        return f"{self.what}, {self.which}" if self.which else self.what

    @property
    def kept(self) -> bool:
        """Whether the last of its budgets is met."""
        budget = BUDGETS[self.what]
        last = next(b for b in (budget.second, budget.then, budget.first) if b is not None)
        return budget.met(self.value, last) == "yes"


def show(rows: Sequence[Row]) -> None:
    """Print the table."""
    width = max(len(row.name) for row in rows)
    heads = "".join(f" {name:>6} {'met':>4}" for name in ("first", "then", "second"))
    print(f"{'what':{width}} {'measured':>11}{heads}  note")
    for row in rows:
        budget = BUDGETS[row.what]
        numbers = "".join(
            f" {'-' if b is None else f'{b:g}':>6} {budget.met(row.value, b):>4}"
            for b in (budget.first, budget.then, budget.second)
        )
        print(f"{row.name:{width}} {f'{row.value:.3g} {budget.unit}':>11}{numbers}  {row.note}")


def elsewhere(by: str) -> str:
    """Name the budgets that another script measures."""
    others = [f"{what} ({budget.by})" for what, budget in BUDGETS.items() if budget.by != by]
    return f"measured elsewhere: {', '.join(others)}"


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


def slowest(what: str, times: Mapping[str, float], more: str = "", which: str = "") -> Row:
    """A row for the slowest of several cases, ms, which is named beside the median."""
    name = max(times, key=lambda n: times[n])
    middle = sorted(times.values())[len(times) // 2]
    note = f"slowest of {len(times)}: {name}; median {middle:.3g} ms{more}"
    return Row(what=what, which=which, value=times[name], note=note)


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
