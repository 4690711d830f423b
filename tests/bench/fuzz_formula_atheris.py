"""Feeds bytes to the formula reader, guided by coverage; stops at any error that is no `FormulaFault`.

Run: python tests/bench/fuzz_formula_atheris.py NEW knowledge/formulas -max_total_time=300 -max_len=3000. Needs the
package atheris, which the tests do not need. What is found goes to the first folder; the second holds the seeds. One
in twenty formulas that are read is checked as well, all the way to the causes.
"""

from __future__ import annotations

import sys
import zlib
from pathlib import Path

import atheris

sys.path[:0] = [str(Path(__file__).parents[2])]

with atheris.instrument_imports(include=["advisor.formula"]):
    from advisor import check_text, load_knowledge
    from advisor.formula.faults import FormulaFault
    from advisor.formula.reading import report_on_text
    from advisor.formula.text_lines import raw_lines
    from advisor.formula.writing.as_text import write_formula_text

KNOWLEDGE = load_knowledge()
_EVERY = 20


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
        if zlib.crc32(data) % _EVERY == 0:
            found = check_text(text)
            assert found.exit in (0, 1), found.problems


def main() -> None:
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
