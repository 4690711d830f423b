"""Every budget of budget_table.py beside what this machine needs for it: python tests/bench/bench_budgets.py.

All demo formulas and their failing sisters are run, and the slowest of them is held against the budget, so that
no easy formula flatters the table. Each time is the least of some rounds: on a core in this process, by the clock
for processes of their own. Linux; takes two minutes; nothing here is a test.
"""

from __future__ import annotations

import gc
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "inference")]

from bench_growth import longer, more_ingredients, never_matching  # noqa: E402
from budget_table import Row, elsewhere, milliseconds, process, show, slowest  # noqa: E402
from direct_evaluator import infer_directly  # noqa: E402
from small_rules import ENGINES  # noqa: E402

from advisor import default_advisor, load_knowledge, start_formulas  # noqa: E402
from advisor.diagnosis.asking import QuestionChooser  # noqa: E402
from advisor.diagnosis.diagnosis import diagnose_causes  # noqa: E402
from advisor.diagnosis.pipeline import FALLBACK_STRUCTURE, Examination  # noqa: E402
from advisor.diagnosis.uncertainty import uncertainty_of  # noqa: E402
from advisor.formula.formula import Formula  # noqa: E402
from advisor.formula.reading import FormulaReader  # noqa: E402
from advisor.inference.inferring import RuleBook, infer  # noqa: E402
from advisor.models.heat.kept_bakes import forget_bakes  # noqa: E402
from advisor.models.loaf import bake as bake_module  # noqa: E402
from advisor.models.measuring import dough_state_of, measure  # noqa: E402

KNOWLEDGE = load_knowledge()
ADVISOR = default_advisor()
EXAMINER = ADVISOR.examiner
READER = FormulaReader(KNOWLEDGE)
TEXTS = {name: path.read_text("utf-8") for name, path in KNOWLEDGE.formulas.items()}
FORMULAS = {name: READER.read(text, name=name, region="us") for name, text in TEXTS.items()}
COLD = 3
"""The slowest formulas that are also checked by a process of their own."""
NINE = 9
"""Rules that never match, for each rule."""


def look(formula: Formula) -> Examination:
    """Check without proposals."""
    return EXAMINER.examine(formula, after_bake=False)


def anew(work: Callable[[Formula], object]) -> dict[str, float]:
    """Time some work on every formula, ms, with its bakes solved anew each time."""
    return milliseconds({n: partial(work, f) for n, f in FORMULAS.items()}, before=forget_bakes, rounds=5)


def cold_rows(names: list[str]) -> Iterator[Row]:
    """Processes that start from nothing but a warm cache of the knowledge and of Python's bytecode."""
    with tempfile.TemporaryDirectory() as folder:
        process(["-m", "advisor", "check", names[0]], folder, 1)
        runs = {name: process(["-m", "advisor", "check", name], folder) for name in names}
        bare, imported = (process(["-c", code], folder)[0] * 1000 for code in ("pass", "import advisor"))
    name = max(runs, key=lambda n: runs[n][0])
    note = f"{name}; " + ", ".join(f"{n} {runs[n][0]:.2f}" for n in names if n != name)
    yield Row(what="cold check", value=runs[name][0], note=note)
    peak = max(peak for _, peak in runs.values())
    yield Row(what="cold check, memory", value=peak)
    yield Row(what="import advisor", value=imported - bare, note="beyond a bare start")


def reading_row() -> Row:
    """Parsing and matching, with names that were not met before; scaled to twelve ingredient lines."""
    cases = {name: partial(READER.read, text, name=name, region="us") for name, text in TEXTS.items()}
    whole = milliseconds(cases, before=READER.names.match.cache_clear)
    times = {name: ms * 12 / len(FORMULAS[name].lines) for name, ms in whole.items()}
    return slowest("parse and match, 12 lines", times)


def model_rows(found: dict[str, Examination]) -> Iterator[Row]:
    """One bake, solved and from the cache, and all measures that need none."""
    asked: dict[str, Callable[[], object]] = {}
    real = bake_module.cached_bake
    for name, formula in FORMULAS.items():

        def note_it(*given: Any, _name: str = name, **named: Any) -> Any:
            asked[_name] = partial(real, *given, **named)
            return asked[_name]()

        bake_module.cached_bake = note_it
        look(formula)
    bake_module.cached_bake = real
    yield slowest("one bake, solved", milliseconds(asked, before=forget_bakes))
    hundred = milliseconds({name: partial(often, work, 100) for name, work in asked.items()})
    yield slowest("one bake, cached", {name: ms / 100 for name, ms in hundred.items()})

    def without_bake(name: str) -> None:
        measure(dough_state_of(FORMULAS[name], KNOWLEDGE), KNOWLEDGE, with_bake=False)

    yield slowest("measures without bake", milliseconds({n: partial(without_bake, n) for n in FORMULAS}))


def often(work: Callable[[], object], times: int) -> None:
    """Do what is too short to be timed once some times over."""
    for _ in range(times):
        work()


def inference_rows(found: dict[str, Examination]) -> Iterator[Row]:
    """All real rules on every formula by each engine, and ten times as many on the one that fires most."""
    rules = list(KNOWLEDGE.rules.values())
    judge = EXAMINER.bands.judge

    def run(name: str, book: RuleBook, engine: str) -> None:
        infer(found[name].situation, book, judge, engine, fallback_structure=FALLBACK_STRUCTURE)

    directly = {
        name: partial(infer_directly, x.situation, rules, judge, FALLBACK_STRUCTURE)
        for name, x in found.items()
    }
    direct = sum(milliseconds(directly, rounds=3).values())
    for engine in ENGINES:
        times = milliseconds({name: partial(run, name, EXAMINER.rules, engine) for name in FORMULAS})
        ratio = f"; {sum(times.values()) / direct:.2f} of the direct evaluator's"
        yield slowest("inference", times, ratio, which=f"{len(rules)} rules, {engine}")
    name = max(found, key=lambda n: len(found[n].inference.firings))
    wide = RuleBook.compile([*rules, *never_matching(rules, found[name], NINE)])
    books = {"few": EXAMINER.rules, "many": wide}
    # durable cannot hold so many; bench_growth.py shows how far it goes.
    for engine in (e for e in ("auto", *ENGINES) if e != "durable"):
        cases = {label: partial(run, name, book, engine) for label, book in books.items()}
        times = milliseconds(cases, rounds=40)
        few, many = times["few"], times["many"]
        note = f"{few:.3g} to {many:.3g} ms for {len(wide.rules)} rules"
        yield Row(what="10x rules, none matching", which=engine, value=many / few, note=note)


def diagnosis_rows(found: dict[str, Examination]) -> Iterator[Row]:
    """Posterior, risks and the next question with the four likeliest symptoms seen."""
    chooser = QuestionChooser(EXAMINER)
    weigh: dict[str, Callable[[], object]] = {}
    ask: dict[str, Callable[[], object]] = {}
    for name, formula in FORMULAS.items():
        risks = found[name].diagnosis.risks
        seen = sorted(risks, key=lambda s: (-risks[s].risk, s))[:4]
        diagnosed = EXAMINER.examine(formula, saw=seen)
        weigh[name] = partial(
            diagnose_causes,
            EXAMINER.graph_of(formula),
            KNOWLEDGE.causes,
            KNOWLEDGE.symptoms,
            diagnosed.inference.suspicions,
            dict.fromkeys(seen, True),
            after_bake=True,
            coefficients=KNOWLEDGE.coefficients,
        )
        ask[name] = partial(chooser.choose, diagnosed)
    yield slowest("posterior and risks, 4 seen", milliseconds(weigh))
    yield slowest("next question, 4 seen", milliseconds(ask))


def with_intervals(formula: Formula) -> None:
    """Check without proposals, with how sure each number is, as for --all."""
    uncertainty_of(look(formula), EXAMINER)


def growth_rows() -> Iterator[Row]:
    """Ten times the ingredients, and ten times the lines of one dough; more of it is told by bench_growth.py."""
    readers = {"1": READER, "10": FormulaReader(more_ingredients(10))}

    def read(reader: FormulaReader) -> None:
        reader.names.match.cache_clear()
        for name, text in TEXTS.items():
            reader.read(text, name=name, region="us")

    times = milliseconds({n: partial(read, reader) for n, reader in readers.items()}, rounds=5)
    yield Row(what="10x ingredients, a formula read", value=times["10"] / times["1"])
    long = max(FORMULAS.values(), key=lambda f: len(f.lines))
    checks = {str(n): partial(ADVISOR.check, longer(long, n)) for n in (1, 10)}
    times = milliseconds(checks, before=forget_bakes, rounds=3)
    yield Row(what="10x lines, a check", value=times["10"] / times["1"], note=f"of {len(long.lines)} lines")


def start_row() -> Row:
    """First formulas of a tin loaf from what README's example has at hand."""
    begun = time.process_time()
    start_formulas(["vital wheat gluten", "eggs", "mozzarella", "flax"], kind="tin loaf")
    return Row(what="start", value=time.process_time() - begun, note="README's tin loaf")


def planned(formula: Formula) -> None:
    """Check with proposals and the joint plan, as for --all and JSON."""
    ADVISOR.plan_together(ADVISOR.check(formula))


def check_rows(plain: dict[str, float], full: dict[str, float]) -> Iterator[Row]:
    """Whole checks in a warm process, bakes solved anew, and what that gives in a batch."""
    yield slowest("warm check, no proposals", plain)
    yield slowest("the same with intervals", anew(with_intervals))
    yield slowest("warm check with proposals", full)
    both = anew(planned)
    within = sum(ms <= 300 for ms in both.values())
    yield slowest("the same and the joint plan", both, f"; {within} of {len(both)} within 300 ms")
    for what, times in (("batch a core", plain), ("batch a core with proposals", full)):
        yield Row(what=what, value=1000 * len(times) / sum(times.values()))
    one, two = (batch_seconds(workers) for workers in (1, 2))
    note = f"{one:.2f} s by one, {two:.2f} s by two; {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}"
    yield Row(what="batch on two cores", value=one / two, note=note)


def check_anew(name: str) -> float:
    """Check one formula in a worker, bakes solved anew."""
    forget_bakes()
    return ADVISOR.check(FORMULAS[name]).worst_risk


def batch_seconds(workers: int) -> float:
    """Seconds by the clock for all formulas, by warm workers."""
    best = float("inf")
    with ProcessPoolExecutor(workers) as pool:
        for _ in range(4):
            start = time.perf_counter()
            list(pool.map(check_anew, FORMULAS))
            best = min(best, time.perf_counter() - start)
    return best


def main() -> None:
    """Measure everything and print the table."""
    print(
        f"Python {sys.version.split()[0]}, {len(FORMULAS)} formulas, load {os.getloadavg()[0]:.1f} at first"
    )
    loop = sorted(milliseconds({"loop": partial(sum, range(1_000_000))}, rounds=1)["loop"] for _ in range(40))
    print(f"a million additions: {loop[0]:.1f} ms at best, {loop[20]:.1f} ms as a rule just now")
    found = {name: look(formula) for name, formula in FORMULAS.items()}
    gc.freeze()  # as every command does once it has loaded what stays
    plain, full = anew(look), anew(ADVISOR.check)
    hardest = sorted(full, key=lambda n: -full[n])[:COLD]
    rows = [*cold_rows(hardest), reading_row(), *model_rows(found), *inference_rows(found)]
    show([*rows, *diagnosis_rows(found), *check_rows(plain, full), *growth_rows(), start_row()])
    print(elsewhere("bench_budgets.py"))


if __name__ == "__main__":
    main()
