"""The table at the end of a batch: a line a formula, and how many are sound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from advisor.explanation.wording import percent
from advisor.interface.desk.showing import prose_width
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.graph_entries import Cause, Symptom
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.checked import Checked

_SYMPTOM, _CAUSE = 16, 22
_REST = 1 + 6 + 2 + _SYMPTOM + 2 + _CAUSE + 2 + 4


def table_lines(found: Iterable[Checked], knowledge: Knowledge, risk_limit: float) -> Iterator[str]:
    """Give the table line by line; a name that leaves no room for the rest has a line of its own.

    Nothing is shortened but the words for symptom and cause, whose ids stand in the JSON.
    """
    found = list(found)
    room, inside = max(prose_width() - _REST, 8), common_folder([one.source for one in found])
    if inside:
        yield f"In {shown(inside, 1000)}:"
    yield _row("formula", "risk", "worst symptom", "first cause", "exit", room)
    for one in found:
        risk = "-" if one.risk is None else percent(one.risk)
        symptom = _named(one.symptom, knowledge.symptoms)
        cause = _named(one.cause, knowledge.causes)
        if one.problems:
            symptom, cause = ("not read", "-") if one.exit == 2 else ("fault in the program", "-")
        elif one.exit == 1 and (one.risk or 0.0) < risk_limit:
            cause = "past a limit" if one.broken else "far out" if one.past else "guessed"
        elif one.exit == 0:
            cause = "-"  # a sound formula has a least unlikely cause too, which says nothing
        name = shown(one.source[len(inside) :], 1000)
        if len(name) > room:
            yield name
            name = ""
        yield _row(name, risk, symptom, cause, str(one.exit), room)


def common_folder(names: Sequence[str]) -> str:
    """Give the folder, ending in a slash, that all names begin with; empty where there is none."""
    if len(names) < 2:
        return ""
    # The first and the last in order share least, letter by letter, so what they share all share.
    first, last = min(names), max(names)
    alike = next((n for n, (a, b) in enumerate(zip(first, last, strict=False)) if a != b), len(first))
    return first[: first.rfind("/", 0, alike) + 1]


def counted(exits: Counter[int], kept: int) -> str:
    """Say how many formulas came out how."""
    said = [f"{exits[0]} sound", f"{exits[1]} at risk or past a limit", f"{exits[2]} not read"]
    if exits[3]:
        said.append(f"{exits[3]} stopped by a fault in the program")
    whole = sum(exits.values())
    there = f" ({kept} known from before)" if kept else ""
    return f"{whole} formula{'' if whole == 1 else 's'}{there}: {', '.join(said)}."


def _named(id_: str | None, entries: Mapping[str, Symptom] | Mapping[str, Cause]) -> str:
    entry = None if id_ is None else entries.get(id_)
    return "-" if entry is None else entry.name.lower()


def _row(name: str, risk: str, symptom: str, cause: str, code: str, room: int) -> str:
    left = f"{name:<{room}} {risk:>6}  {_short(symptom, _SYMPTOM):<{_SYMPTOM}}"
    return f"{left}  {_short(cause, _CAUSE):<{_CAUSE}}  {code:>4}"


def _short(text: str, columns: int) -> str:
    return text if len(text) <= columns else text[: columns - 1] + "…"
