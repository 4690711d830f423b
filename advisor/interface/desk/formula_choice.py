"""From what stands on the command line to a formula: a file, standard input, or the name of a demo formula."""

from __future__ import annotations

import sys
from pathlib import Path

from advisor.formula.faults import FormulaFault, Problem
from advisor.formula.files import file_and_part, formula_from_file
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.text_lines import MOST_BYTES
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest
from advisor.rendering.baker_units import follow

NO_FORMULA = "advisor: name a formula (a file, - or a demo formula), or run this in a terminal"


def choose_formula(word: str, knowledge: Knowledge, region: str) -> Formula:
    """Read the formula that a word stands for: `-` is standard input, a path wins over a demo name.

    What is written of it follows its units, unless the reader has chosen.

    Raises:
        FormulaFault: the text is no formula.
        InputFault: neither a file nor a demo formula.
    """
    formula = _read(word, knowledge, region)
    follow(formula.source_text)
    return formula


def _read(word: str, knowledge: Knowledge, region: str) -> Formula:
    if word == "-":
        return read_formula_text(_standard_input(), knowledge, name="standard input", region=region)
    try:
        path, part = file_and_part(word)
    except (OSError, ValueError):
        path, part = Path(word), ""
    try:
        exists = path.exists()
    except (OSError, ValueError):
        exists = False
    if exists or word not in knowledge.formulas:
        if not exists and "/" not in word and "." not in word:
            demo = nearest(word, knowledge.formulas, least=50)
            names = (
                f"near: {', '.join(demo)}"
                if demo
                else f"known: {', '.join(list(knowledge.formulas)[:3])} ..."
            )
            raise InputFault(
                f"advisor: no file and no demo formula '{shown(word, 60)}'; {names}; all: advisor check --demos"
            )
        return formula_from_file(path, knowledge, region=region, part=part)
    return formula_from_file(knowledge.formulas[word], knowledge, region=region)


def _standard_input() -> str:
    raw = sys.stdin.buffer.read(MOST_BYTES + 1)

    def fault(what: str, do: str) -> FormulaFault:
        return FormulaFault("standard input", (Problem(line=1, column=1, what=what, do=do),))

    if len(raw) > MOST_BYTES:
        raise fault(f"more than {MOST_BYTES // 1_000_000} MB", "give one formula")
    if b"\x00" in raw:
        raise fault("this is not text", "give plain text (UTF-8)")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise fault("this is not UTF-8", "give plain text with the encoding UTF-8") from None
