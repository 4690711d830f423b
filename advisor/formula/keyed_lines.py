"""Lines with a key and a colon: which key is meant, and what becomes of a value that it does not take."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.formula.draft import Draft
from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.amounts import with_decimal_points
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.quantities import amount_at
from advisor.formula.lines.totals import Total
from advisor.formula.lines.units import UnitTable
from advisor.formula.method.rest_of_text import RestReader
from advisor.formula.process.joining import further
from advisor.formula.process.named_pans import pan_in
from advisor.formula.process.process_lines import (
    ADDED_UP,
    SAME_KEY,
    keeps_bread,
    nearest_key,
    read_process_value,
)
from advisor.formula.process.without_colon import without_colon
from advisor.formula.reports import Kind
from advisor.formula.text_lines import TextLine
from advisor.knowledge_base.measured import PanSize

_ALIKE = 72.0
"""Likeness (0 to 100) from which an unknown key is taken for a misspelt process key."""
_IN_WORDS = frozenset(
    ["cooled in", "kind", "mixer", "starter", "stored", "baked on", "pan material", "added last"]
)
"""Keys that take any words, so that nothing tells whether one of them was meant."""
_LONG_VALUE = 5
"""Words from which a value that its key does not take is read as a sentence, and not refused."""


class KeyedReader:
    """Reads process lines into the draft; what stands behind a value that was read is a remark."""

    def __init__(
        self, rest: RestReader, names: NameIndex, units: UnitTable, pans: Mapping[str, PanSize]
    ) -> None:
        self._rest = rest
        self._names = names
        self._units = units
        self._pans = pans

    @staticmethod
    def total(draft: Draft, line: TextLine, total: Total) -> Kind:
        """Note what comes of the formula: slices, loaves, the whole dough in grams."""
        draft.totals += ((line.number, field, count) for field, count in total.counts)
        if total.rolls:
            draft.totals.append((line.number, "rolls", 1))
        if total.dough_g is not None:
            draft.whole_g.append((line.number, total.dough_g))
        return "process"

    def base(self, draft: Draft, line: TextLine, value: str) -> Kind:
        """Note the weight that percentages are of.

        Raises:
            LineFault: it is no weight.
        """
        self._once(draft, line, "base")
        amount = amount_at(value.strip(), 0, self._units)
        size = 0.0
        if amount is not None and len(amount.parts) == 1 and not value.strip()[amount.end :].strip():
            part = amount.parts[0]
            size = (part.unit.grams or 0.0) if part.unit and part.weighs else 0.0
        if amount is None or not size:
            raise LineFault(value or "base", "the base of the percentages is no weight", "write base: 500 g")
        draft.base_g = amount.parts[0].value * size
        return "process"

    @staticmethod
    def _once(draft: Draft, line: TextLine, key: str) -> None:
        if (first := draft.written_keys.get(key)) is not None:
            raise LineFault(key, f"'{key}' stands already on line {first}", "keep one of the two lines")
        draft.written_keys[key] = line.number
        draft.key_lines.setdefault(SAME_KEY.get(key, key), line.number)

    def keyed(self, draft: Draft, line: TextLine, key: str, value: str) -> Kind | None:
        """Read a process line; `None` where the value is a sentence, or the key a word that means it only mostly.

        Raises:
            LineFault: a short value that is not what the key takes.
        """
        if keeps_bread(key, value):
            return None
        meant = SAME_KEY.get(key, key)
        if meant == "core measured" != key:
            return None  # a card says to what it is baked, a log what was read: the whole text tells
        value = value.replace("@", " at ")
        try:
            read_process_value(meant, with_decimal_points(value, draft.thousands))
        except LineFault:
            first, _, behind = value.partition(",")
            if behind.strip() and self._takes(meant, first, draft):
                self._process(draft, line, key, first)
                self._rest.remark(draft, line, behind.strip())
                return "process"
            told = key in SAME_KEY or meant == "steam" or len(value.split()) > _LONG_VALUE
            if meant != "pan" and told and value.strip():
                return None
            if self._rest.tells_all(f"{key} {value}"):
                return None  # "mix: 5 low + 3 second"
        return self._process(draft, line, key, value)

    @staticmethod
    def _takes(key: str, value: str, draft: Draft) -> bool:
        try:
            read_process_value(key, with_decimal_points(value, draft.thousands))
        except LineFault:
            return False
        return True

    def _process(self, draft: Draft, line: TextLine, written: str, value: str) -> Kind:
        self._once(draft, line, written)
        key = SAME_KEY.get(written, written)
        try:
            fields, said = read_process_value(key, with_decimal_points(value, draft.thousands))
        except LineFault:
            ways = (value, f"{value} tin", f"{value.partition(',')[0]} tin") if key == "pan" else ()
            pans = (pan_in(way, self._pans) for way in ways)
            pan = next((p for p in pans if p is not None and len(p.fields) > 1), None)
            if pan is None:
                raise
            fields, said = dict(pan.fields), (f"'{shown(value)}' is taken at {pan.said}",)
        if key in ADDED_UP:
            fields = further(draft.fields, fields)
        for field, known in ((f, draft.fields.get(f)) for f in fields if key not in ADDED_UP):
            if known is not None and fields[field] is not None and known != fields[field]:
                raise LineFault(
                    written, f"'{shown(written)}' says otherwise than a line above", "keep one of the two"
                )
        draft.fields.update(fields)
        draft.assumed += (f"line {line.number}: {s}" for s in said)
        if key == "added last":
            draft.added_last = line
        return "process"

    def misspelt_key(self, draft: Draft, line: TextLine, key: str, value: str) -> Kind | None:
        """Read a line whose key is nearly a known one, where its value is what that key takes: "ovn: 175 C"."""
        if draft.method or self._names.match(key) is not None or not any(c.isdigit() for c in value):
            return None
        near = nearest_key(key, _ALIKE)
        if near is None or near in draft.key_lines or near in _IN_WORDS:
            return None
        try:
            read_process_value(near, with_decimal_points(value, draft.thousands))
        except LineFault:
            return None
        draft.assume(line, f"'{shown(key)}' is read as '{near}'")
        return self._process(draft, line, near, value)

    def process_without_colon(self, draft: Draft, line: TextLine, text: str) -> bool:
        """Read a line whose colon was left out; tell whether it is one."""
        found = without_colon(text)
        if found is None:
            return False
        written, key, value = found
        if key in draft.key_lines:
            return False  # a second one is prose, and is compared with the first
        if key == "oven" or key in ADDED_UP:  # one step of several, as sentences tell them
            return self._rest.process(draft, line, text)
        draft.assume(line, f"'{shown(text)}' is taken as '{key}: {shown(value)}'")
        self._process(draft, line, written, value)
        return True
