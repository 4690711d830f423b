"""A formula's text with something changed in it and everything else left as its writer wrote it."""

from __future__ import annotations

import re
from collections.abc import Callable

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula, Line
from advisor.formula.process.process_lines import SAME_KEY, plain_key
from advisor.formula.reports import ReadReport
from advisor.formula.text_lines import raw_lines
from advisor.formula.writing.as_text import process_values, write_formula_text, written_line
from advisor.formula.writing.weighed import as_weighed

_KEYED = re.compile(r"\s*(?P<key>[^:]{1,40}?)\s*:")


def with_process_line(text: str, key: str, value: str) -> str:
    """Give the text with a process line of this key and value, in place of those that there are; without, where empty.

    `key` is one of `PROCESS_KEYS`. What the text says of it elsewhere, in a sentence, stays.
    """
    line = f"{key}: {' '.join(value.split())}" if value.strip() else None
    out: list[str] = []
    for raw in text.splitlines():
        if _key_of(raw) != key:
            out.append(raw)
        elif line is not None:
            out.append(line)
            line = None
    if line is not None:
        out.append(line)
    return "\n".join(out) + "\n"


def with_words(text: str, number: int, fragment: str, instead: str) -> str:
    """Give the text with a fragment of one line (numbered from 1) written otherwise; as it is where it is not there."""
    found = dict(raw_lines(text)).get(number, "")
    at = found.lower().find(fragment.lower())
    if not fragment or at < 0:
        return text
    changed = found[:at] + " ".join(instead.split()) + found[at + len(fragment) :]
    lines = text.splitlines()
    place = next(
        (n for n, line in enumerate(lines) if n >= number - 1 and line.strip() == found.strip()), None
    )
    if place is None:
        return text
    lines[place] = changed
    return "\n".join(lines) + "\n"


def with_changes(text: str, before: Formula, after: Formula, read: Callable[[str], ReadReport]) -> str:
    """Give the text from which `before` was read so that `after` is read from it, by as few lines as can be.

    Where no line by line change says that (amounts in a sentence, a table), the formula is written anew, and every line
    that holds more than one ingredient or none stands below it as a remark.
    """
    before, after = as_weighed(before), as_weighed(after)
    edited = _line_by_line(text, before, after)
    if edited is not None and _reads_as(edited, after, read):
        return edited
    kept = [
        line.text.strip().lstrip("# ")
        for line in read(text).lines
        if (line.kind in ("comment", "process") and not _key_of(line.text))
        or len(_on(before, line.number)) > 1
    ]
    remarks = "".join(f"# {line}\n" for line in kept if line)
    return write_formula_text(after) + (f"\n# As it stood before:\n{remarks}" if remarks else "")


def _line_by_line(text: str, before: Formula, after: Formula) -> str | None:
    """Change the lines of amounts that differ, and the keyed lines of the process; `None` where one holds several."""
    lines = text.splitlines()
    numbers = {line.number for line in before.lines}
    out: dict[int, str] = dict(enumerate(lines, 1))
    for number in numbers:
        old, new = _on(before, number), _on(after, number)
        if [_held(line) for line in old] == [_held(line) for line in new]:
            continue
        if len(old) > 1 or number not in out:
            return None
        remark = re.search(r"\s*#.*$", out[number])
        said = "\n".join(written_line(line) for line in new)
        out[number] = f"{said}{remark[0] if remark and said else ''}" if said else "\0"
    if added := [line for line in after.lines if line.number not in numbers]:
        last = max(numbers, default=0)
        out[last] = "\n".join((out.get(last, ""), *(written_line(line) for line in added)))
    changed = "\n".join(line for line in out.values() if line != "\0") + "\n"
    was, now = process_values(before.process), process_values(after.process)
    for key in dict.fromkeys((*was, *now)):
        if was.get(key) != now.get(key):
            changed = with_process_line(changed, key, now.get(key, ""))
    return changed


def _on(formula: Formula, number: int) -> list[Line]:
    return [line for line in formula.lines if line.number == number]


def _held(line: Line) -> tuple[object, ...]:
    return line.ingredient.id, round(line.grams, 2), line.counted, line.traits


def _reads_as(text: str, wanted: Formula, read: Callable[[str], ReadReport]) -> bool:
    try:
        found = read(text).required()
    except FormulaFault:
        return False

    def held(formula: Formula) -> tuple[object, ...]:
        grams = {line.ingredient.id: round(formula.grams_of(line.ingredient.id)) for line in formula.lines}
        return grams, process_values(formula.process), {e.ingredient.id for e in formula.unweighed}

    return held(as_weighed(found)) == held(wanted)


def _key_of(raw: str) -> str:
    keyed = _KEYED.match(raw)
    if keyed is None:
        return ""
    key = plain_key(keyed["key"])
    return SAME_KEY.get(key, key)
