"""Writes a formula as YAML that reads back as the same formula."""

from __future__ import annotations

import json

from advisor.formula.formula import Formula, Line, Unweighed
from advisor.formula.writing.as_text import in_sections, one_line, process_values, written_line
from advisor.formula.writing.numerals import plain_number
from advisor.formula.writing.weighed import as_weighed


def write_formula_yaml(formula: Formula) -> str:
    """Give a formula as YAML with the keys name, lines and process, amounts in grams as a kitchen weighs them.

    A plain amount is a mapping; counted pieces, states and what has no weight are lines of text, and headings
    are texts that end in a colon. Texts are quoted as JSON does, which is YAML too.

    Raises:
        ValueError: a process that no text can say, such as a tin with a length and no width.
    """
    formula = as_weighed(formula)
    out = [f"name: {_quoted(one_line(formula.name) or 'formula')}", "lines:"]
    for entry in in_sections(formula):
        if isinstance(entry, str):
            out.append(f"  - {_quoted(f'{entry}:')}")
        elif (
            isinstance(entry, Unweighed)
            or entry.counted is not None
            or entry.traits
            or entry.age_months
            or entry.celsius is not None
        ):
            out.append(f"  - {_quoted(written_line(entry))}")
        else:
            out.append(f"  - {{ingredient: {_quoted(entry.ingredient.name)}, grams: {_number(entry)}}}")
    process = process_values(formula.process)
    if process:
        out.append("process:")
        out += (f"  {key}: {_quoted(value)}" for key, value in process.items())
    return "\n".join(out) + "\n"


def _number(line: Line) -> str:
    return plain_number(line.grams)


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
