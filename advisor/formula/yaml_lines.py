"""A formula written as YAML, turned into the lines that the same formula has as text."""

from __future__ import annotations

import re

from advisor.formula.faults import FormulaFault, Problem, shown
from advisor.formula.process.process_lines import PROCESS_KEYS, SAME_KEY, plain_key
from advisor.formula.text_lines import MOST_BYTES, MOST_LINES, TextLine
from advisor.formula.writing.numerals import plain_number
from advisor.knowledge_base.faults import KnowledgeFault
from advisor.knowledge_base.strict_yaml import Document, Plain, parse_yaml

_NAME_KEY = re.compile(r"^name:\s", re.MULTILINE)
_LINES_KEY = re.compile(r"^lines:\s*(?:#.*)?$", re.MULTILINE)
_ENTRY_KEYS = {"ingredient", "grams"}
_KEYS = {"name", "lines", "process"}


def is_yaml(text: str) -> bool:
    """Tell whether a text is a formula as YAML: keys `name` and `lines` at the left edge."""
    return "lines:" in text and bool(_LINES_KEY.search(text) and _NAME_KEY.search(text))


class _Walk:
    def __init__(self, document: Document, raws: list[str]) -> None:
        self._document = document
        self._raws = raws
        self.found: list[TextLine] = []
        self.problems: list[Problem] = []

    def line(self, path: tuple[str | int, ...], text: str) -> None:
        number = self._document.line_of(path)
        raw = self._raws[number - 1] if number <= len(self._raws) else ""
        self.found.append(TextLine(number=number, raw=raw, text=" ".join(text.split())))

    def problem(self, path: tuple[str | int, ...], what: str, do: str) -> None:
        self.problems.append(Problem(line=self._document.line_of(path), column=1, what=what, do=do))

    def entry(self, index: int, entry: Plain) -> None:
        path = ("lines", index)
        if isinstance(entry, str):
            if entry.strip():
                return self.line(path, entry)
        elif isinstance(entry, dict):
            if len(entry) == 1 and next(iter(entry.values())) is None:  # "- Dry:" is a key without value
                return self.line(path, f"{next(iter(entry))}:")
            name, grams = entry.get("ingredient"), entry.get("grams")
            named = set(entry) == _ENTRY_KEYS and isinstance(name, str) and bool(name.strip())
            if named and isinstance(grams, int | float) and not isinstance(grams, bool):
                return self.line(path, f"{plain_number(float(grams))} g {name}")
        self.problem(
            path,
            "this is no line of a formula",
            "write a text, or {ingredient: water, grams: 200}, without other keys",
        )
        return None


def yaml_lines(text: str, name: str) -> tuple[tuple[TextLine, ...], tuple[Problem, ...]]:
    """Give the lines of a formula written as YAML, and the problems of entries that are none.

    Raises:
        FormulaFault: no YAML, or what the strict reader refuses: a key twice, on/off, 12:30, aliases.
    """
    if len(text) > MOST_BYTES:
        what = f"the text is longer than {MOST_BYTES:,} characters"
        raise FormulaFault(name, (Problem(line=1, column=1, what=what, do="give one formula"),))
    try:
        document = parse_yaml(text.lstrip("\ufeff"), shown(name))
    except KnowledgeFault as fault:
        found = tuple(
            Problem(line=f.line, column=1, what=shown(f.message), do="mend the YAML") for f in fault.findings
        )
        raise FormulaFault(name, found) from None
    data = document.data
    walk = _Walk(document, re.split(r"\r\n|\r|\n", text))
    if not isinstance(data, dict):
        walk.problem((), "the YAML holds no keys", "write name, lines and process")
        return (), tuple(walk.problems)
    for key in sorted(set(data) - _KEYS):
        walk.problem((key,), f"'{shown(key)}' is no key of a formula", "known are name, lines and process")
    title = data.get("name")
    if isinstance(title, str) and title.strip():
        walk.line(("name",), f"title: {title}")
    elif title is not None:
        walk.problem(("name",), "the name is no text", "put quotes around it")
    entries = data.get("lines")
    if not isinstance(entries, list) or len(entries) > MOST_LINES:
        walk.problem(
            ("lines",), "lines is no list of at most 200 lines", "write one entry a line, each after '- '"
        )
        entries = []
    for index, entry in enumerate(entries):
        walk.entry(index, entry)
    process = data.get("process")
    for key, value in process.items() if isinstance(process, dict) else ():
        if (
            plain_key(key) not in (*PROCESS_KEYS, *SAME_KEY)
            or isinstance(value, list | dict | bool)
            or value is None
        ):
            what = f"'{shown(key)}' is no process line that is known"
            walk.problem(("process", key), what, f"known are {', '.join(PROCESS_KEYS)}")
        else:
            walk.line(
                ("process", key), f"{key}: {value if isinstance(value, str) else plain_number(float(value))}"
            )
    if process is not None and not isinstance(process, dict):
        walk.problem(("process",), "process holds no keys", "write keys such as 'oven: 175 C for 70 min'")
    return tuple(walk.found), tuple(walk.problems)
