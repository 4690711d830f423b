"""What is ours beside what others would do, in one run: python tests/bench/bench_compared.py.

Inference: the shipped rules on every demo formula, by both engines and by a plain loop over the rules. Posteriors:
ours and pyAgrum's lazy propagation on one and the same noisy-OR network, with more and more causes. Reading: the demo
formulas, and their ingredient lines by one regular expression that knows no unit but grams and no name. Least times of
some rounds on one core, interleaved, so that the ratios hold where the milliseconds do not.
"""

from __future__ import annotations

import os
import re
import sys
import warnings
from collections.abc import Callable
from functools import partial
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "inference")]

from budget_table import milliseconds  # noqa: E402
from direct_evaluator import infer_directly  # noqa: E402
from small_rules import ENGINES  # noqa: E402

from advisor import default_advisor, load_knowledge  # noqa: E402
from advisor.diagnosis.pipeline import FALLBACK_STRUCTURE, Examination  # noqa: E402
from advisor.diagnosis.posterior import Evidence, weigh  # noqa: E402
from advisor.diagnosis.signs import Sign  # noqa: E402
from advisor.formula.reading import FormulaReader, read_formula_text  # noqa: E402
from advisor.inference.inferring import infer  # noqa: E402

KNOWLEDGE = load_knowledge()
EXAMINER = default_advisor().examiner
TEXTS = {name: path.read_text("utf-8") for name, path in KNOWLEDGE.formulas.items()}
FORMULAS = {name: read_formula_text(text, KNOWLEDGE, name=name) for name, text in TEXTS.items()}
SEEN = ("gummy_centre", "collapse_on_cooling", "crumbly_slice", "flat_loaf")
LONGEST_S = 5.0


def table(title: str, rows: dict[str, float], unit: str) -> None:
    """Print times with their ratio to the one called `unit`."""
    print(f"\n{title}")
    for label, ms in rows.items():
        print(f"  {label:44} {ms:9.3f} ms {ms / rows[unit]:8.2f} x")


def inference() -> None:
    """All shipped rules on all demo formulas."""
    rules = list(KNOWLEDGE.rules.values())
    found: dict[str, Examination] = {
        name: EXAMINER.examine(f, after_bake=False) for name, f in FORMULAS.items()
    }
    judge = EXAMINER.bands.judge

    def by_engine(engine: str) -> None:
        for x in found.values():
            infer(x.situation, EXAMINER.rules, judge, engine, fallback_structure=FALLBACK_STRUCTURE)

    def by_loop() -> None:
        for x in found.values():
            infer_directly(x.situation, rules, judge, FALLBACK_STRUCTURE)

    cases: dict[str, Callable[[], object]] = {f"engine {e}": partial(by_engine, e) for e in ENGINES}
    cases["a loop over the rules, plain Python"] = by_loop
    for work in cases.values():
        work()
    rows = {label: ms / len(found) for label, ms in milliseconds(cases, rounds=5).items()}
    table(f"One inference: {len(rules)} rules, mean of {len(found)} formulas", rows, "engine clips")


def network(causes: int) -> Evidence:
    """The four symptoms as the shipped graph has them, with the causes that lead to them most strongly."""
    strength: dict[str, float] = {}
    signs = {}
    for name in SEEN:
        reached = EXAMINER.whole_graph.reached_by[name]
        signs[name] = reached
        for cause, q in reached.items():
            strength[cause] = max(q, strength.get(cause, 0.0))
    kept = sorted(strength, key=lambda c: (-strength[c], c))[:causes]
    present = tuple(
        Sign(
            symptom=name,
            leak=KNOWLEDGE.symptoms[name].leak,
            influence={c: q for c, q in reached.items() if c in kept},
        )
        for name, reached in signs.items()
    )
    return Evidence(priors={c: KNOWLEDGE.causes[c].base_rate for c in kept}, present=present)


def posteriors() -> None:
    """Exact posteriors by two ways, until the general one takes too long."""
    with warnings.catch_warnings():
        # Its generated wrapper warns while it is set up in C, where a warning turned into an error ends the process.
        warnings.simplefilter("ignore", DeprecationWarning)
        import pyagrum as gum

    def general(evidence: Evidence) -> dict[str, float]:
        net = gum.BayesNet()
        for cause, p in evidence.priors.items():
            net.add(gum.LabelizedVariable(cause, cause, 2))
            net.cpt(cause).fillWith([1 - p, p])
        for sign in evidence.present:
            net.addNoisyORNet(gum.LabelizedVariable(sign.symptom, sign.symptom, 2), sign.leak)
            for cause, q in sign.influence.items():
                net.addWeightedArc(cause, sign.symptom, q)
        engine = gum.LazyPropagation(net)
        engine.setEvidence({sign.symptom: 1 for sign in evidence.present})
        engine.makeInference()
        return {cause: float(engine.posterior(cause)[1]) for cause in evidence.priors}

    print("\nPosteriors of all causes, four symptoms seen")
    print(f"  {'causes':>6} {'ours':>10} {'pyAgrum':>12} {'ratio':>8}  largest difference")
    took = 0.0
    for causes in (4, 8, 12, 14, 16, 18, 20, 24, 32, 48, 63):
        evidence = network(causes)
        cases: dict[str, Callable[[], object]] = {"ours": partial(weigh, evidence)}
        if took < LONGEST_S * 1000 / 4:
            cases["pyAgrum"] = partial(general, evidence)
        weigh(evidence)
        times = milliseconds(cases, rounds=3)
        took = times.get("pyAgrum", float("inf"))
        if "pyAgrum" in cases:
            theirs, mine = general(evidence), weigh(evidence)[0].probability
            apart = max(abs(theirs[c] - mine[c]) for c in theirs)
            said = f"{took:9.2f} ms {took / times['ours']:8.1f}  {apart:.1e}"
        else:
            said = f"{'too long':>12} {'':>8}"
        print(f"  {len(evidence.priors):6} {times['ours']:7.2f} ms {said}")


_LINE = re.compile(r"^\s*(?P<grams>\d+(?:[.,]\d+)?)\s*g\s+(?P<name>[^,(]+)")


def by_expression(text: str) -> list[tuple[float, str]]:
    """What a regular expression alone makes of a formula: grams and words, for the lines that it knows."""
    found = (_LINE.match(line) for line in text.splitlines())
    return [(float(m["grams"].replace(",", ".")), m["name"].strip().lower()) for m in found if m]


def reading() -> None:
    """Reading the demo formulas, with names that were met before and with names that were not."""
    reader = FormulaReader(KNOWLEDGE)
    lines = sum(len(f.lines) for f in FORMULAS.values())
    known = sum(len(by_expression(text)) for text in TEXTS.values())

    def ours() -> None:
        for name, text in TEXTS.items():
            reader.read(text, name=name, region="us")

    def anew() -> None:
        for name, text in TEXTS.items():
            reader.names.match.cache_clear()
            reader.read(text, name=name, region="us")

    def expression() -> None:
        for text in TEXTS.values():
            by_expression(text)

    cases: dict[str, Callable[[], object]] = {
        "read, matched, weighed": ours,
        "the same, no name met before": anew,
        "one regular expression, nothing looked up": expression,
    }
    rows = {label: ms / len(TEXTS) for label, ms in milliseconds(cases).items()}
    title = f"One formula read ({lines} ingredient lines in {len(TEXTS)} texts, the expression knows {known} of them)"
    table(title, rows, "one regular expression, nothing looked up")


def main() -> None:
    """Run the three comparisons."""
    print(f"Python {sys.version.split()[0]}, load {os.getloadavg()[0]:.1f} at first")
    inference()
    posteriors()
    reading()


if __name__ == "__main__":
    main()
