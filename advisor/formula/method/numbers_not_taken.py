"""Names the numbers of a text that became nothing: none is lost without a word, whichever reader passed it over."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from advisor.formula.faults import LineFault, shown
from advisor.formula.formula import Process
from advisor.formula.lines.amounts import with_decimal_points
from advisor.formula.lines.running import amounts_at
from advisor.formula.lines.sentences import sentences_of
from advisor.formula.method.bare_numbers import says_no_size
from advisor.formula.method.told_ages import MINUTES_A_MONTH
from advisor.formula.method.told_numbers import NumberKind, Told, numbers_told
from advisor.formula.process.process_values import bare_heat_c
from advisor.formula.spoken_numbers import with_digits
from advisor.formula.text_lines import raw_lines

if TYPE_CHECKING:
    from advisor.formula.draft import Draft
    from advisor.formula.lines.units import UnitTable

_WRITE = {
    "time": "write what it is, such as 'rest: 15 min', 'proof: 60 min' or 'oven: 175 C for 70 min'",
    "heat": "write what it is, such as 'oven: 175 C', 'proof: 60 min at 27 C' or 'dough temp: 26 C'",
    "bare": "write what it is, such as 'oven: 175 C' or 'water temp: 32 C'",
    "length": "write 'thickness: 5 mm', 'height after: 10 cm' or 'pan: 25 x 10 x 10 cm'",
    "weight": "write 'piece weight: 90 g' or 'weight after: 700 g', or the ingredient on a line of its own",
    "height": "write 'altitude: 1600 m', if it is how high the kitchen lies",
}
_MEASURED = re.compile(
    r"[0-9]\s*(?:-\s*)?(?:m\b|mi|h\b|ho|hr|s\b|se|da|we|°|º|deg|[cf]\b|cm|mm|in|\"|″|['’′])|\b(?:hour|minute|half|quarter)",
    re.IGNORECASE,
)
"""What a line holds at the least that gives a time, a heat or a length."""
_WITHIN = 0.02
_HEAT_WITHIN = 1.0
_ENDS: dict[str, NumberKind] = {"_min": "time", "_c": "heat", "_cm": "length", "_g": "weight", "_m": "height",
                                "minutes": "time", "celsius": "heat", "mixes": "time", "rests": "time"}  # fmt: skip
_OF_STEPS: dict[str, NumberKind] = {"minutes": "time", "celsius": "heat"}
_QUOTED = re.compile(r"'([^']{1,160})'")
_ROW = frozenset(["ingredient", "unweighed"])
_MOST_WORDS_OF_ROW = 9
"""Words up to which a line of an ingredient is a row, whose bare numbers are its amount."""
_ONE_OF_A_LIST = re.compile(r"\s*(?:[-*•]\s*)?[0-9]{1,2}[.)]\s")


def tell_without_home(draft: Draft, text: str, units: UnitTable) -> None:
    """Say of every line which of its times, heats, lengths and bare numbers are neither taken nor named."""
    known: dict[NumberKind, list[float]] | None = None
    for number, raw in raw_lines(text):
        kind = draft.kinds.get(number)
        row = kind in _ROW and len(raw.split()) <= _MOST_WORDS_OF_ROW
        if (
            kind in (None, "heading", "problem")
            or raw.lstrip()[:1] in "#/"
            or (row and not _MEASURED.search(raw))
        ):
            continue
        known = known if known is not None else _known(draft)
        plain = " ".join(_ONE_OF_A_LIST.sub("", raw, count=1).split())
        try:
            plain = with_digits(with_decimal_points(plain, draft.thousands))
        except LineFault:
            continue  # what is wrong with it is said where the line was read
        named = _named(draft, number)
        taken = _taken(draft, number, known)
        from_sentences = kind == "comment" and bool(taken)
        left: list[Told] = []
        told_in = [(told, sentence) for sentence in sentences_of(plain) for told in numbers_told(sentence)]
        for told, sentence in told_in:
            if not _counts(told, sentence) or (row and told.start == 0):
                continue
            if text_of := next((words for words in taken if told.text in words), None):
                taken.remove(text_of)
                if len(text_of) > len(told.text):  # "8 balls of 45 g" holds two
                    taken.append(text_of.replace(told.text, "", 1))
            elif not _stands_in(told, named) and (from_sentences or not _is_known(told, known)):
                left.append(told)
        if left:
            amounts = [plain[a.start : a.end] for a in amounts_at(plain, units) if a.amount.parts[0].unit]
            left = [t for t in left if not any(one.startswith(t.text) for one in amounts)]
        if row or number in draft.passed_over:
            left = [t for t in left if t.kind in ("time", "heat", "length")]
        if kind == "title":
            left = [t for t in left if t.kind in ("heat", "length")]  # "90 second bread" is a name
        tell_left(draft, number, left)


def _known(draft: Draft) -> dict[NumberKind, list[float]]:
    """Give every size that the formula holds, by its kind."""
    kinds: tuple[NumberKind, ...] = ("time", "heat", "length", "weight", "height", "bare")
    found: dict[NumberKind, list[float]] = {kind: [] for kind in kinds}
    for name, value in draft.fields.items():
        for part, size in _sizes(name, value):
            found[next((k for end, k in _ENDS.items() if part.endswith(end)), "bare")].append(size)
    bakes = [step.minutes or 0.0 for step in Process(**draft.fields).bakes]  # type: ignore[arg-type]
    found["time"] += [sum(bakes), *map(sum, pairwise(bakes))]  # a time that was parted at its first minutes
    found["heat"] += [line.celsius for line in draft.lines if line.celsius is not None]
    found["time"] += [line.age_months * MINUTES_A_MONTH for line in draft.lines if line.age_months]
    found["weight"] += [line.grams for line in draft.lines]
    found["bare"] += [count for _, _, count in draft.totals]
    return found


def _sizes(name: str, value: object) -> Iterator[tuple[str, float]]:
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        yield name, float(value)
    elif isinstance(value, tuple):
        for one in value:
            yield from _sizes(name, one)
    elif is_dataclass(value):
        for part in fields(value):
            yield from _sizes(part.name, getattr(value, part.name))


def _is_known(told: Told, known: dict[NumberKind, list[float]]) -> bool:
    if told.kind != "bare":
        slack = _HEAT_WITHIN if told.kind == "heat" else _WITHIN * abs(told.value)
        return any(abs(told.value - size) <= max(slack, _WITHIN) for size in known[told.kind])
    heats = {told.value, (told.value - 32) / 1.8, bare_heat_c(told.value)[0]}
    if any(abs(heat - size) <= _HEAT_WITHIN for heat in heats for size in known["heat"]):
        return True
    sizes = (
        *known["bare"],
        *known["time"],
        *known["weight"],
        *known["length"],
        *(s / 2.54 for s in known["length"]),
    )
    return any(abs(told.value - size) <= _WITHIN * told.value for size in sizes)


def _taken(draft: Draft, number: int, known: dict[NumberKind, list[float]]) -> list[str]:
    """Give the words of a line's numbers that became something, each as often as it did."""
    found = [text for line, text, _, _ in draft.pans if line == number]
    for line, fact in draft.facts:
        size = fact.value if isinstance(fact.value, float) else None
        kind = _OF_STEPS.get(fact.what)
        kept = kind is None or size is None or any(abs(one - size) <= _WITHIN * size for one in known[kind])
        found += [fact.text] if line == number and kept else []
    return found


def _named(draft: Draft, number: int) -> list[str]:
    """Give the words of a line that are named as not taken already."""
    begin = re.compile(rf"lines? (?:[0-9]+, )*{number}\b")
    quiet = draft.assumed if draft.kinds.get(number) == "comment" else ()
    told = (*draft.warnings, *(said for said in quiet if " not used" in said))
    return [quoted for said in told if begin.match(said) for quoted in _QUOTED.findall(said)]


def _stands_in(told: Told, named: list[str]) -> bool:
    return any(told.text in quoted for quoted in named)


def _counts(told: Told, text: str) -> bool:
    """Tell whether a number says how much of something: none that counts, numbers or names."""
    if told.kind != "bare" or told.degrees:
        return True
    return text[told.end : told.end + 1] not in ("/", ":") and not says_no_size(told, text)


def tell_left(draft: Draft, number: int, left: Sequence[Told]) -> None:
    """Say which numbers of a line have no home, with how to write them, those of one kind together."""
    by_kind: dict[str, list[str]] = {}
    for told in left:
        by_kind.setdefault("heat" if told.degrees else told.kind, []).append(f"'{shown(told.text)}'")
    for kind, found in by_kind.items():
        unit = " without a unit:" if kind == "bare" else f" {'is' if len(found) == 1 else 'are'}"
        draft.warnings.append(f"line {number}: {' and '.join(found)}{unit} not taken; {_WRITE[kind]}")
