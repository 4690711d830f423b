"""Every speed budget beside what this machine needs for it: python tests/bench/bench_budgets.py.

All demo formulas and their failing sisters are run, and the slowest of them is held against the budget, so that
no easy formula flatters the table. Each time is the least of some rounds. Linux; nothing here is a test.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "inference")]

from budget_table import Row, milliseconds, process, show, slowest  # noqa: E402
from direct_evaluator import infer_directly  # noqa: E402
from small_rules import ENGINES  # noqa: E402

from advisor import default_advisor, load_knowledge  # noqa: E402
from advisor.diagnosis.diagnosis import diagnose_causes, signs_of  # noqa: E402
from advisor.diagnosis.evidence_scale import EvidenceScale  # noqa: E402
from advisor.diagnosis.examining import FALLBACK_STRUCTURE, Examination  # noqa: E402
from advisor.diagnosis.next_question import AskedFact, rank_questions  # noqa: E402
from advisor.formula.formula import Formula  # noqa: E402
from advisor.formula.reading import FormulaReader  # noqa: E402
from advisor.inference.inferring import RuleBook, infer  # noqa: E402
from advisor.knowledge_base.rule_entries import Condition, Rule  # noqa: E402
from advisor.models import bake as bake_module  # noqa: E402
from advisor.models import oven  # noqa: E402
from advisor.models.measuring import lay_ground, measure  # noqa: E402

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


def forget_bakes() -> None:
    """Let the next bake be solved anew."""
    oven._baked.cache_clear()


def of_each(work: Callable[[Formula], object], *, anew: bool, rounds: int = 3) -> dict[str, float]:
    """Time some work on every formula, ms; `anew` solves its bakes each time."""
    before = forget_bakes if anew else None
    return {n: milliseconds(partial(work, f), before=before, rounds=rounds) for n, f in FORMULAS.items()}


def look(formula: Formula) -> Examination:
    """Check without proposals."""
    return EXAMINER.examine(formula, after_bake=False)


def cold_rows(hardest: Iterable[str]) -> Iterable[Row]:
    """Processes that start from nothing but a warm cache of the knowledge."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {"XDG_CACHE_HOME": folder}
        names = [*hardest]
        process(["-m", "advisor", "check", names[0]], environment, 1)
        runs = {name: process(["-m", "advisor", "check", name], environment) for name in names}
        name = max(runs, key=lambda n: runs[n][0])
        others = ", ".join(f"{n} {runs[n][0]:.2f}" for n in names if n != name)
        yield Row(what="cold check", unit="s", value=runs[name][0], first=1.2, then=0.6, note=f"{name}; {others}")
        peak = max(peak for _, peak in runs.values())
        yield Row(what="cold check, memory", unit="MB", value=peak, first=None, then=120)
        bare, imported = (process(["-c", code], environment)[0] * 1000 for code in ("pass", "import advisor"))
        yield Row(what="import advisor", unit="ms", value=imported - bare, first=150, then=80, note="Python's own start off")


def reading_row() -> Row:
    """Parsing and matching, with names that were not met before; scaled to twelve ingredient lines."""

    def read(text: str) -> None:
        READER.read(text, name="formula", region="us")

    new = {
        n: milliseconds(partial(read, text), before=READER.names.match.cache_clear) * 12 / len(FORMULAS[n].lines)
        for n, text in TEXTS.items()
    }
    value, note = slowest(new)
    return Row(what="parse and match, 12 lines", unit="ms", value=value, first=5, then=1, note=note)


def model_rows() -> Iterable[Row]:
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
    solved = {name: milliseconds(work, before=forget_bakes) for name, work in asked.items()}
    value, note = slowest(solved)
    yield Row(what="one bake, solved", unit="ms", value=value, first=40, then=10, note=note)
    value, note = slowest({name: milliseconds(work) for name, work in asked.items()})
    yield Row(what="one bake, cached", unit="ms", value=value, first=0.1, then=0.1, note=note)
    weights = {name: look(formula).inference.structures for name, formula in FORMULAS.items()}

    def without_bake(name: str) -> None:
        measure(lay_ground(FORMULAS[name], KNOWLEDGE), weights[name], KNOWLEDGE, with_bake=False)

    value, note = slowest({name: milliseconds(partial(without_bake, name)) for name in FORMULAS})
    yield Row(what="measures without bake", unit="ms", value=value, first=5, then=2, note=note)


def never_matching(rules: list[Rule], found: Examination) -> list[Rule]:
    """Nine rules for each rule: a condition that holds, where there is one, and one that never does."""
    judged = sorted(found.inference.judged.items())
    read = [name for name in found.situation.measures if f"measure_{name}" not in EXAMINER.rules.read_keys]
    out = []
    for n in range(NINE * len(rules)):
        band, state = judged[n % len(judged)][0], judged[n % len(judged)][1].state
        never = {"measure": read[n % len(read)], "above": 1e6 + n // len(read) % 40}
        when = [{"measure": band, "is": state}, never] if n % 2 else [never]
        raw = {"id": f"never_{n}", "when": when, "grade": "demo", "because": "It never holds."}
        out.append(Rule.model_validate(raw | {"then": [{"suspect": "excess_water", "evidence": "weak"}]}))
    return out


def inference_rows() -> Iterable[Row]:
    """All real rules on every formula by each engine, and ten times as many on a few."""
    found = {name: look(formula) for name, formula in FORMULAS.items()}
    rules = list(KNOWLEDGE.rules.values())

    def run(name: str, book: RuleBook, engine: str) -> None:
        infer(found[name].situation, book, EXAMINER.bands.judge, engine, fallback_structure=FALLBACK_STRUCTURE)

    def directly(name: str) -> None:
        infer_directly(found[name].situation, rules, EXAMINER.bands.judge, FALLBACK_STRUCTURE)

    direct = {name: milliseconds(partial(directly, name), rounds=2) for name in FORMULAS}
    total: dict[str, float] = {}
    for engine in ENGINES:
        times = {name: milliseconds(partial(run, name, EXAMINER.rules, engine)) for name in FORMULAS}
        total[engine] = sum(times.values())
        value, note = slowest(times)
        ratio = f"; {total[engine] / sum(direct.values()):.2f} of the direct evaluator's time"
        yield Row(what=f"inference, {len(rules)} rules, {engine}", unit="ms", value=value, first=10, then=4, note=note + ratio)
    name = max(direct, key=lambda n: direct[n])
    wide = RuleBook.compile([*rules, *never_matching(rules, found[name])])
    few: dict[str, float] = {}
    for engine in ENGINES:
        few[engine], many = (milliseconds(partial(run, name, book, engine)) for book in (EXAMINER.rules, wide))
        note = f"{len(wide.rules)} rules in {many:.3g} ms"
        if engine == "clips" and len(few) > 1:
            note += f"; it runs past 1000 rules by itself: {many / few[ENGINES[0]]:.2f} x {ENGINES[0]} on the real rules"
        yield Row(
            what=f"10x rules, none matching, {engine}", unit="x", value=many / few[engine], first=2, then=1.3, note=note
        )


def diagnosis_rows() -> Iterable[Row]:
    """Posterior, risks and the next question with the four likeliest symptoms seen."""
    k = KNOWLEDGE
    scale, signs = EvidenceScale.read(k.coefficients), signs_of(EXAMINER.graph, k.symptoms)
    weigh: dict[str, float] = {}
    ask: dict[str, float] = {}
    for name, formula in FORMULAS.items():
        found = look(formula)
        risks = found.diagnosis.risks
        seen = dict.fromkeys(sorted(risks, key=lambda s: -risks[s].risk)[:4], True)

        def diagnose(found: Examination = found, seen: dict[str, bool] = seen) -> Any:
            return diagnose_causes(
                EXAMINER.graph, k.causes, k.symptoms, found.inference.suspicions, seen,
                after_bake=True, coefficients=k.coefficients,
            )  # fmt: skip

        diagnosis = diagnose()
        weigh[name] = milliseconds(diagnose)
        ask[name] = milliseconds(
            lambda d=diagnosis, s=seen: rank_questions(d, signs, k.symptoms, set(s), asked_facts(scale), scale=scale)
        )
    value, note = slowest(weigh)
    yield Row(what="posterior and risks, 4 seen", unit="ms", value=value, first=10, then=3, note=note)
    value, note = slowest(ask)
    yield Row(what="next question, 4 seen", unit="ms", value=value, first=100, then=50, note=note)


def asked_facts(scale: EvidenceScale) -> list[AskedFact]:
    """Every question that a rule reads, with what its answers would say at most."""
    ratios: dict[str, dict[str, dict[str, float]]] = {}
    worth: Mapping[str, float] = {**scale.supports, "against": scale.against}
    for rule in KNOWLEDGE.rules.values():
        for clause in rule.when:
            if isinstance(clause, Condition) and clause.answer and clause.is_:
                by_answer = ratios.setdefault(clause.answer, {})
                for c in rule.then:
                    if c.suspect and c.evidence in worth:
                        by_answer.setdefault(clause.is_, {})[c.suspect] = worth[c.evidence]
    questions = KNOWLEDGE.questions
    return [
        AskedFact(question=q, seconds=questions[q].seconds, ratios={a: by.get(a, {}) for a in questions[q].answers})
        for q, by in ratios.items()
    ]


def check_rows(plain: Mapping[str, float], full: Mapping[str, float]) -> Iterable[Row]:
    """Whole checks in a warm process, bakes solved anew, and what that gives in a batch."""
    value, note = slowest(plain)
    yield Row(what="warm check, no proposals", unit="ms", value=value, first=60, then=20, note=note)
    value, note = slowest(full)
    yield Row(what="warm check with proposals", unit="ms", value=value, first=300, then=80, note=note)
    for label, times, first, then in (("", plain, 15, 50), (" with proposals", full, 3, 12)):
        rate = 1000 * len(times) / sum(times.values())
        yield Row(what=f"batch a core{label}", unit="/s", value=rate, first=first, then=then, more=True)
    one, two = (batch_seconds(workers) for workers in (1, 2))
    note = f"{one:.2f} s and {two:.2f} s; {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}"
    yield Row(what="batch on two cores", unit="x", value=one / two, first=None, then=1.8, more=True, note=note)


def check_anew(name: str) -> float:
    """Check one formula in a worker, bakes solved anew."""
    forget_bakes()
    return ADVISOR.check(FORMULAS[name]).worst_risk


def batch_seconds(workers: int) -> float:
    """Time of a batch of all formulas twice over, by warm workers."""
    best = float("inf")
    with ProcessPoolExecutor(workers) as pool:
        list(pool.map(check_anew, FORMULAS))
        for _ in range(2):
            start = time.perf_counter()
            list(pool.map(check_anew, [*FORMULAS, *FORMULAS], chunksize=4))
            best = min(best, time.perf_counter() - start)
    return best


def main() -> None:
    """Measure everything and print the table."""
    print(f"Python {sys.version.split()[0]}, {len(FORMULAS)} formulas, load {os.getloadavg()[0]:.2f} before")
    plain, full = of_each(look, anew=True), of_each(ADVISOR.check, anew=True)
    hardest = sorted(full, key=lambda n: -full[n])[:COLD]
    rows = [*cold_rows(hardest), reading_row(), *model_rows(), *inference_rows(), *diagnosis_rows()]
    show([*rows, *check_rows(plain, full)])


if __name__ == "__main__":
    main()
