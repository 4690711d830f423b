"""Feeds bytes to the formula reader, guided by coverage; stops at any error that is no `FormulaFault`.

Run: python tests/bench/fuzz_formula_atheris.py tests/cases/formulas -max_total_time=600. Needs the package
atheris, which the tests do not need. The corpus folder is the seed.
"""

from __future__ import annotations

import sys
from pathlib import Path

import atheris

sys.path[:0] = [str(Path(__file__).parents[2])]

with atheris.instrument_imports(include=["advisor.formula"]):
    from advisor import load_knowledge
    from advisor.formula.faults import FormulaFault
    from advisor.formula.reading import report_on_text
    from advisor.formula.text_lines import raw_lines
    from advisor.formula.writing import write_formula_text

KNOWLEDGE = load_knowledge()


def one_input(data: bytes) -> None:
    text = data.decode("utf-8", errors="replace")
    try:
        report = report_on_text(text, KNOWLEDGE)
    except FormulaFault as fault:
        assert fault.problems
        return
    assert [number for number, _ in raw_lines(text)] == [line.number for line in report.lines]
    if report.formula is not None:
        write_formula_text(report.formula)


def main() -> None:
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
