"""A formula from a file that may be missing, huge, binary, or no file at all."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from advisor.formula.faults import FormulaFault, Problem
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.text_lines import MOST_BYTES
from advisor.knowledge_base.knowledge import Knowledge


def formula_from_file(path: Path, knowledge: Knowledge, *, region: str = "us") -> Formula:
    """Read a formula from a UTF-8 text file; its stem names a formula without a title.

    Raises:
        FormulaFault: the file cannot be read as text, or the text cannot be read as a formula.
    """
    text = _text_of(path)
    formula = read_formula_text(text, knowledge, name=str(path), region=region)
    if formula.name != str(path):
        return formula
    return replace(formula, name=path.stem.replace("-", " ").replace("_", " "))


def _text_of(path: Path) -> str:
    def fault(what: str, do: str, line: int = 1) -> FormulaFault:
        return FormulaFault(str(path), (Problem(line=line, column=1, what=what, do=do),))

    try:
        if path.is_dir():
            raise fault("this is a folder", "name a file in it")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise fault("there is no such file", "check the name") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise fault(f"the file cannot be opened ({reason})", "check its name and permissions") from None
    if len(data) > MOST_BYTES:
        raise fault(f"the file is larger than {MOST_BYTES // 1_000_000} MB", "give a file with one formula")
    if b"\x00" in data:
        raise fault("the file is not text", "save it as plain text (UTF-8)")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise fault("the file is not UTF-8", "save it as plain text with the encoding UTF-8", line) from None
