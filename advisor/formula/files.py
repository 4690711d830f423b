"""A formula from a file that may be missing, huge, binary, or no file at all."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

from advisor.formula.faults import FormulaFault, Problem, shown
from advisor.formula.formula import Formula
from advisor.formula.lines.formula_tables import formulas_in_table, has_headings
from advisor.formula.reading import read_formula_text
from advisor.formula.text_lines import MOST_BYTES
from advisor.knowledge_base.knowledge import Knowledge

TABLES = (".csv", ".tsv", ".xlsx")
"""Files that hold a table, perhaps of several formulas."""


def formula_from_file(path: Path, knowledge: Knowledge, *, region: str = "us", part: str = "") -> Formula:
    """Read a formula from a UTF-8 text file or a table; its stem names a formula without a title.

    `part` names one formula of a table that holds several.

    Raises:
        FormulaFault: the file cannot be read as text, or the text cannot be read as a formula.
    """
    text = _text_of(path)
    if part:
        parts = {one.name: one.text for one in formulas_in_table(text)}
        if part not in parts:
            what, do = (
                f"no formula '{shown(part)}' in the table",
                f"it holds {', '.join(parts) or 'one formula'}",
            )
            raise FormulaFault(str(path), (Problem(line=1, column=1, what=what, do=do),))
        return read_formula_text(parts[part], knowledge, name=f"{path}#{part}", region=region)
    formula = read_formula_text(text, knowledge, name=str(path), region=region)
    if formula.name != str(path):
        return formula
    return replace(formula, name=path.stem.replace("-", " ").replace("_", " "))


def parts_of_file(path: Path) -> tuple[str, ...]:
    """Give the names of the formulas of a table; empty where the file is no table, holds one, or cannot be read."""
    if path.suffix.lower() not in TABLES:
        return ()
    try:
        return tuple(part.name for part in formulas_in_table(_text_of(path)))
    except FormulaFault:
        return ()


def is_formula_table(path: Path) -> bool:
    """Say whether a table in a folder is one of formulas, and no other: a row near its top heads the ingredients."""
    try:
        return has_headings(_text_of(path))
    except FormulaFault:
        return path.suffix.lower() == ".xlsx"  # what cannot be looked into is told when it is read


def file_and_part(word: str) -> tuple[Path, str]:
    """Take "table.csv#Loaf A" apart; a file that is called so as a whole wins."""
    before, mark, part = word.rpartition("#")
    if mark and before and not Path(word).exists() and Path(before).suffix.lower() in TABLES:
        return Path(before), part
    return Path(word), ""


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
    if path.suffix.lower() == ".xlsx":
        return _first_sheet(path)
    if len(data) > MOST_BYTES:
        raise fault(f"the file is larger than {MOST_BYTES // 1_000_000} MB", "give a file with one formula")
    if b"\x00" in data:
        raise fault("the file is not text", "save it as plain text (UTF-8)")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise fault("the file is not UTF-8", "save it as plain text with the encoding UTF-8", line) from None


def rows_of_table(path: Path) -> list[list[str]]:
    """Give the rows of a table as they stand: of a .csv or .tsv file, or of a spreadsheet's first sheet.

    Raises:
        FormulaFault: the file cannot be read as a table.
    """
    text = _text_of(path)
    if path.suffix.lower() != ".csv":
        return [line.split("\t") for line in text.splitlines()]
    lines = text.splitlines()
    mark = max(",;\t", key=lines[0].count) if lines else ","
    try:
        return list(csv.reader(lines, delimiter=mark))
    except csv.Error as error:
        problem = Problem(line=1, column=1, what=f"this is no table ({error})", do="save it as CSV again")
        raise FormulaFault(str(path), (problem,)) from None


def _first_sheet(path: Path) -> str:
    """Give the first sheet of a spreadsheet as rows parted by tabs.

    Raises:
        FormulaFault: the library for spreadsheets is not installed, or the file is no spreadsheet.
    """
    try:
        import openpyxl  # type: ignore[import-untyped,import-not-found,unused-ignore]  # an extra without types
    except ImportError:
        do = "install it with: pip install 'dough-advisor[xlsx]', or save the sheet as CSV"
        problem = Problem(line=1, column=1, what="a spreadsheet needs the library openpyxl", do=do)
        raise FormulaFault(str(path), (problem,)) from None
    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
        rows = [["" if cell is None else str(cell) for cell in row] for row in book.worksheets[0].values]
    except Exception:  # whatever a broken file makes the library raise, it is no spreadsheet for the baker
        problem = Problem(
            line=1, column=1, what="this is no spreadsheet that can be read", do="save it as CSV"
        )
        raise FormulaFault(str(path), (problem,)) from None
    return "\n".join("\t".join(row) for row in rows if any(row))
