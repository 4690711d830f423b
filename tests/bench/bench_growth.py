"""How time grows with more rules, ingredients and formula lines: python tests/bench/bench_growth.py.

Twice, five and ten times as many of each, in one run, as multiples of what is shipped. Rules that are added never
match, but every second one has a condition that holds before the one that does not. Ingredients that are added are the
shipped ones under other names, so that every word of a name is met more often. Formulas grow by their own lines, each
with another amount. Least times of some rounds on one core.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "inference")]

from budget_table import milliseconds  # noqa: E402
from small_rules import ENGINES  # noqa: E402

from advisor import default_advisor, load_knowledge  # noqa: E402
from advisor.diagnosis.pipeline import FALLBACK_STRUCTURE, Examination  # noqa: E402
from advisor.formula.formula import Formula  # noqa: E402
from advisor.formula.reading import FormulaReader, read_formula_text  # noqa: E402
from advisor.inference.engine import EngineFault  # noqa: E402
from advisor.inference.inferring import RuleBook, infer  # noqa: E402
from advisor.knowledge_base.knowledge import Knowledge  # noqa: E402
from advisor.knowledge_base.rule_entries import Rule  # noqa: E402
from advisor.models.heat.kept_bakes import forget_bakes  # noqa: E402
from advisor.models.measuring import dough_state_of, measure  # noqa: E402

TIMES = (1, 2, 5, 10)
KNOWLEDGE = load_knowledge()
ADVISOR = default_advisor()
EXAMINER = ADVISOR.examiner
TEXTS = {name: path.read_text("utf-8") for name, path in KNOWLEDGE.formulas.items()}
FORMULAS = {name: read_formula_text(text, KNOWLEDGE, name=name) for name, text in TEXTS.items()}
_WORDS = ["plain", "fine", "coarse", "pale", "dark", "mild", "strong", "dry", "soft"]


def never_matching(rules: list[Rule], found: Examination, times: int) -> list[Rule]:
    """So many times the rules: one condition that never holds and, for every second, one before it that does."""
    judged = sorted(found.inference.judged.items())
    free = [name for name in found.situation.measures if f"measure_{name}" not in EXAMINER.rules.read_keys]
    out = []
    for n in range(times * len(rules)):
        name, laid = judged[n % len(judged)]
        never: dict[str, object] = {"measure": free[n % len(free)], "above": 1e6 + n // len(free) % 40}
        raw = {
            "id": f"never_{n}",
            "when": [{"measure": name, "is": laid.state}, never] if n % 2 else [never],
            "then": [{"suspect": "excess_water", "evidence": "weak"}],
            "because": "It never holds.",
            "grade": "demo",
        }
        out.append(Rule.model_validate(raw))
    return out


def more_ingredients(times: int) -> Knowledge:
    """So many times the shipped ingredients, the added ones under names with one more word."""
    entries = dict(KNOWLEDGE.ingredients)
    for word in _WORDS[: times - 1]:
        for name, entry in KNOWLEDGE.ingredients.items():
            also = tuple(f"{word} {other}" for other in entry.also)
            change = {"id": f"{word}_{name}", "name": f"{word} {entry.name}", "also": also}
            entries[f"{word}_{name}"] = entry.model_copy(update=change)
    return replace(KNOWLEDGE, ingredients=entries)


def longer(formula: Formula, times: int) -> Formula:
    """A formula of so many times the lines, the dough as heavy and of the same make as before."""
    lines = []
    for part in range(times):
        share = (1 + part) / sum(range(1, times + 1))
        for line in formula.lines:
            number = len(lines) + 1
            lines.append(replace(line, grams=line.grams * share, counted=None, number=number))
    return formula.with_lines(tuple(lines))


def line_of(what: str, times: Mapping[int, float], unit: str = "ms") -> None:
    """Print one row: the time as shipped, and how many times as long the others take."""
    ratios = "".join(f"{times[n] / times[1]:9.2f}" if n in times else f"{'refused':>9}" for n in TIMES[1:])
    print(f"  {what:48}{times[1]:9.3f} {unit}{ratios}")


def rules() -> None:
    """Inference with more and more rules that do not match."""
    shipped = list(KNOWLEDGE.rules.values())
    found = {name: EXAMINER.examine(f, after_bake=False) for name, f in FORMULAS.items()}
    name = max(found, key=lambda n: len(found[n].inference.firings))
    books = {n: RuleBook.compile([*shipped, *never_matching(shipped, found[name], n - 1)]) for n in TIMES}
    for engine in ("auto", *ENGINES):

        def run(book: RuleBook, engine: str = engine) -> None:
            infer(
                found[name].situation,
                book,
                EXAMINER.bands.judge,
                engine,
                fallback_structure=FALLBACK_STRUCTURE,
            )

        cases: dict[str, Callable[[], object]] = {}
        for n, book in books.items():
            try:
                run(book)
            except EngineFault:
                continue  # more than durable holds
            cases[str(n)] = partial(run, book)
        times = milliseconds(cases, rounds=30)
        line_of(f"inference, {len(shipped)} rules, {engine}", {int(n): ms for n, ms in times.items()})


def ingredients() -> None:
    """Reading formulas among more and more ingredients, and names that are near one and no one's."""
    readers = {n: FormulaReader(more_ingredients(n)) for n in TIMES}

    def read(reader: FormulaReader) -> None:
        reader.names.match.cache_clear()
        for name, text in TEXTS.items():
            reader.read(text, name=name, region="us")

    def misspelt(reader: FormulaReader) -> None:
        reader.names.match.cache_clear()
        for text in ("240 g almnd flour\n100 g water", "30 g zzyzx of nothing\n100 g water"):
            reader.report(text, name="misspelt", region="us")

    cases: dict[str, Callable[[], object]] = {}
    for n, reader in readers.items():
        cases[f"known {n}"] = partial(read, reader)
        cases[f"unknown {n}"] = partial(misspelt, reader)
    times = milliseconds(cases, rounds=5)
    many = len(KNOWLEDGE.ingredients)
    line_of(
        f"a formula read, {many} ingredients, names new", {n: times[f"known {n}"] / len(TEXTS) for n in TIMES}
    )
    line_of("two names that nothing has", {n: times[f"unknown {n}"] for n in TIMES})


def lines() -> None:
    """Reading, measuring and checking longer and longer formulas of one and the same dough."""
    name = max(FORMULAS, key=lambda n: len(FORMULAS[n].lines))
    formulas = {n: longer(FORMULAS[name], n) for n in TIMES}
    texts = {
        n: "\n".join(f"{line.grams:.2f} g {line.ingredient.name}" for line in f.lines)
        for n, f in formulas.items()
    }
    reader = FormulaReader(KNOWLEDGE)

    def read(text: str) -> None:
        reader.names.match.cache_clear()
        reader.read(text, name="longer", region="us")

    def measured(formula: Formula) -> None:
        measure(dough_state_of(formula, KNOWLEDGE), KNOWLEDGE, with_bake=False)

    def looked(formula: Formula) -> None:
        EXAMINER.examine(formula, after_bake=False)

    def checked(formula: Formula) -> None:
        ADVISOR.check(formula)

    many = len(FORMULAS[name].lines)
    for what, work, given, before in (
        ("read", read, texts, None),
        ("measured without bake", measured, formulas, None),
        ("checked without proposals", looked, formulas, forget_bakes),
        ("checked with proposals", checked, formulas, forget_bakes),
    ):
        cases = {str(n): partial(work, x) for n, x in given.items()}  # type: ignore[arg-type,attr-defined]
        times = milliseconds(cases, before=before, rounds=5)
        line_of(f"a formula of {many} lines {what}", {int(n): ms for n, ms in times.items()})


def main() -> None:
    """Run the three growths."""
    print(f"Python {sys.version.split()[0]}, load {os.getloadavg()[0]:.1f} at first")
    print(f"  {'':48}{'as shipped':>12}{'twice':>9}{'5 times':>9}{'10 times':>9}")
    rules()
    ingredients()
    lines()


if __name__ == "__main__":
    main()
