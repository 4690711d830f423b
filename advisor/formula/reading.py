"""Reads a whole formula text: what each line is, by order of precedence, and every problem in one error."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache, partial

from advisor.formula.draft import Draft
from advisor.formula.faults import LineFault, UnknownName, shown
from advisor.formula.formula import Formula
from advisor.formula.keyed_lines import KeyedReader
from advisor.formula.left_out import limits_of
from advisor.formula.lines.amounts import comma_parts_thousands, with_decimal_points
from advisor.formula.lines.beside_dough import is_beside_the_dough
from advisor.formula.lines.comma_rows import with_names_beside_amounts
from advisor.formula.lines.formula_columns import with_one_column
from advisor.formula.lines.formula_tables import refuse_several
from advisor.formula.lines.grammar import has_amount
from advisor.formula.lines.ingredient_reading import IngredientReader
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.prose_reading import ProseReader
from advisor.formula.lines.several import SeveralReader
from advisor.formula.lines.share_base import size_the_base, take_shares
from advisor.formula.lines.shares import with_blend_in_shares
from advisor.formula.lines.table_rows import TableColumns, row_of
from advisor.formula.lines.totals import is_base, made_in_title, total_in
from advisor.formula.lines.units import UnitTable
from advisor.formula.lines.weighed_pairs import each_in_full
from advisor.formula.method.headings import (
    begins_method,
    is_card_note,
    is_card_row,
    is_section,
    without_card_times,
)
from advisor.formula.method.rest_of_text import RestReader, heading
from advisor.formula.method.scale_of_text import is_fahrenheit
from advisor.formula.process.process_lines import (
    PROCESS_KEYS,
    SAME_KEY,
    plain_key,
)
from advisor.formula.reports import Kind, ReadReport
from advisor.formula.spelling import words_of
from advisor.formula.spoken_numbers import with_digits
from advisor.formula.text_lines import LONGEST_LINE, TITLE_KEY, TextLine, text_lines
from advisor.formula.whole_text import formula_of
from advisor.formula.yaml_lines import is_yaml, yaml_lines
from advisor.knowledge_base.knowledge import Knowledge

_KEYED = re.compile(r"(?P<key>(?![0-9]+:[0-9])[^:]{1,40}?)\s*:\s*(?P<value>.*)")
_HEIGHT_OF_A_PLACE = re.compile(r"(?<![0-9.,])[1-9][0-9]?,[0-9]{3}(?=\s*(?:m|ft|feet|foot|met(?:re|er)s)\b)")
_MEASURED_CELL = re.compile(
    r"[^0-9]{0,12}[0-9][0-9.,]*\s*(?:min\w*|h|hours?|s(?:ec\w*)?|['’′]|(?:°\s*)?[CF]|cm|mm)\b.{0,12}"
)
_OF_WHICH = re.compile(r"\W*(?:of\s+(?:which|this|that|these)|thereof|davon|dont)\b", re.IGNORECASE)
_SQUARE = re.compile(r"(?<=\w)\s*\[([^\[\]()]{1,60})\]")
"""A remark in square brackets behind something: "1 egg [or 2?]"."""
_KEYS = frozenset(PROCESS_KEYS)
_LONGEST_HEADING = 4


class FormulaReader:
    """Reads formula texts with one knowledge; the name index and the unit table are built once, here."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.names = NameIndex(knowledge.ingredients, knowledge.plain_words)
        self.units = UnitTable(knowledge.units)
        self._pans = knowledge.pan_sizes
        self._left_out = limits_of(knowledge)
        self._ingredients = IngredientReader(self.names, self.units)
        self._several = SeveralReader(self._ingredients, self.units)
        self._prose = ProseReader(self._ingredients, self.names, self.units)
        self._rest = RestReader(self._prose, self.names, self.units, self._pans)
        self._keys = KeyedReader(self._rest, self.names, self.units, self._pans)

    def read(self, text: str, *, name: str = "formula", region: str = "us") -> Formula:
        """Turn a text into a formula in grams.

        `name` stands in messages, and names a formula without a title; `region` sets cups and egg sizes.

        Raises:
            FormulaFault: with every problem of the text.
        """
        return self.report(text, name=name, region=region).required()

    def report(self, text: str, *, name: str = "formula", region: str = "us") -> ReadReport:
        """Tell of every line what it was taken for, beside the formula or its problems.

        Raises:
            FormulaFault: the text is refused whole: empty, binary, too long.
        """
        draft = Draft(name=name, region=region)
        written_as_yaml = is_yaml(text)
        source = text
        text, side_by_side = with_one_column(text)
        if side_by_side:
            draft.warnings.append(side_by_side)
        text, blend_g = with_blend_in_shares(text)
        refuse_several(text, name)
        lines, problems = yaml_lines(text, name) if written_as_yaml else text_lines(text, name)
        draft.problems += problems
        if "," in text:
            draft.thousands = comma_parts_thousands(text, region)
        for line in lines:
            if (keyed := _KEYED.fullmatch(line.text)) and is_base(plain_key(keyed["key"]), keyed["value"]):
                draft.attempt(line, partial(self._keys.base, draft, line, keyed["value"]))
        take_shares(draft, text, blend_g)
        draft.method_reader.fahrenheit = is_fahrenheit(text)
        columns = TableColumns()
        for line in lines:
            draft.attempt(line, lambda line=line: self._row(draft, line, columns))  # type: ignore[misc]
        self._prose.add_told(draft)
        self._prose.take_back(draft, lines)
        size_the_base(draft, text)
        formula, rest = formula_of(draft, self.names, self.units, text, self._left_out)
        if formula is not None and side_by_side:
            formula = replace(formula, source_text=source)
        kinds = draft.line_kinds(source, written_as_yaml=written_as_yaml)
        return ReadReport(
            name=name, lines=kinds, problems=tuple(sorted(draft.problems)), formula=formula, rest=rest
        )

    def _row(self, draft: Draft, line: TextLine, columns: TableColumns) -> Kind:
        if len(line.text) > LONGEST_LINE and not self._several.begins(draft, line.text, self._rest.is_method):
            return self._rest.paragraph(draft, line, draft.thousands)
        row = row_of(line, columns)
        if row is None:
            return self._line(draft, line, line.text)
        if not row.text:
            return "heading"
        if any(_MEASURED_CELL.fullmatch(cell) for cell in row.unused):
            return self._line(draft, line, line.text)  # "Core<tab>97 °C": a row of the process below a table
        for unused in row.unused:
            draft.assume(line, f"the cell '{shown(unused)}' is not used")
        return self._line(draft, line, row.text)

    def _line(self, draft: Draft, line: TextLine, written: str) -> Kind:
        if not written:
            return self._rest.commented_out(draft, line)
        if "[" in written:
            written = _SQUARE.sub(r"(\1)", written)
        if (short := without_card_times(written)) != written:
            if not short:
                draft.assume(line, f"'{shown(written)}' is not used")
                return "comment"
            draft.assume(line, f"the times of the card in '{shown(written)}' are not used")
            written = short
        if draft.lines and _OF_WHICH.match(written):
            draft.warn(line, f"'{shown(written)}' is part of what stands above it: not counted again")
            return "comment"
        if is_card_row(written):
            draft.assume(line, f"'{shown(written)}' is not used")
            return "comment"
        if (
            line.ruled
            and not any(c.isdigit() for c in written)
            and (draft.title or is_section(written.rstrip(": ")))
        ):
            return heading(draft, written)
        keyed = _KEYED.fullmatch(written) if ":" in written else None
        if keyed is not None:
            key = plain_key(keyed["key"])
            if (key in _KEYS or key in SAME_KEY) and (
                kind := self._keys.keyed(draft, line, key, keyed["value"])
            ):
                return kind
            if is_base(plain_key(keyed["key"]), keyed["value"]):
                return "process"
            if title := TITLE_KEY.match(written):
                return self._rest.title(draft, line, written[title.end() :])
            if keyed["value"] and is_card_note(key):
                self._rest.pan(draft, line, keyed["value"])
                draft.assume(line, f"'{shown(written)}' is not used")
                return "comment"
        try:
            total = total_in(written, self.units)
        except LineFault as fault:  # servings
            draft.warn(line, f"'{shown(written)}' is not taken: {fault.what}; {fault.do}")
            return "process"
        if total:
            return self._keys.total(draft, line, total)
        if (
            not draft.title
            and not draft.tried
            and (made := made_in_title(with_digits(written), self.units))
            and not self._several.begins(draft, with_digits(written), self._rest.is_method)
        ):
            self._keys.total(draft, line, made)
            return self._rest.title(draft, line, written)
        written = _HEIGHT_OF_A_PLACE.sub(lambda found: found.group().replace(",", ""), written)
        text = with_decimal_points(with_names_beside_amounts(with_digits(written)), draft.thousands)
        if " each " in text:
            text = each_in_full(text, self.names)
        if keyed is None and self._keys.process_without_colon(draft, line, text):
            return "process"
        if is_section(text.split(",")[0].rstrip(": .")) and len(text.split()) <= _LONGEST_HEADING:
            return heading(draft, text)
        if text.endswith(":") and not has_amount(text, self.units):
            return heading(draft, text)
        keyed = keyed if keyed is not None and keyed["value"] else None
        if keyed is not None and is_section(keyed["key"]) and self.names.match(keyed["key"]) is None:
            if is_beside_the_dough(keyed["key"]):
                with draft.under(keyed["key"]):
                    return self._line(draft, line, keyed["value"])
            draft.section, draft.method = keyed["key"], begins_method(keyed["key"])
            text, keyed = with_decimal_points(with_digits(keyed["value"]), draft.thousands), None
        if (
            keyed is not None
            and plain_key(keyed["key"]) not in _KEYS
            and plain_key(keyed["key"]) not in SAME_KEY
            and (kind := self._keys.misspelt_key(draft, line, keyed["key"], keyed["value"]))
        ):
            return kind
        tried, mark = draft.tried, draft.mark()
        try:
            if self._several.begins(draft, text, self._rest.is_method) and self._several.read(
                draft, line, text, lambda sentence: self._title_or_remark(draft, line, sentence)
            ):
                return "ingredient"
            if self._rest.is_method(text):
                return self._rest.read(draft, line, text)
            if self._several.read(
                draft, line, text, lambda sentence: self._rest.remark(draft, line, sentence)
            ):
                return "ingredient"
            kind = self._ingredients.read(draft, line, text)
        except LineFault as fault:
            unknown = draft.unknown.pop(line.number, None)
            draft.tried = tried
            draft.back_to(mark)
            behind = self._prose.in_front(draft, line, text)
            if behind is not None:
                if behind:
                    self._rest.remark(draft, line, behind)
                return "ingredient"
            named = not isinstance(fault, UnknownName) and any(
                self.names.match(word) for word in words_of(text)
            )
            if self._rest.asks_back(text, named=named):
                if unknown is not None:
                    draft.unknown[line.number] = unknown
                draft.tried = tried + 1
                raise
            kind = None
        return kind or self._rest.read(draft, line, text)

    def _title_or_remark(self, draft: Draft, line: TextLine, sentence: str) -> None:
        name = sentence.rstrip(".!? ")
        if draft.title or draft.lines or any(c.isdigit() for c in name) or self.names.match(name) is not None:
            self._rest.remark(draft, line, sentence)
        else:
            draft.title = name


@dataclass(frozen=True, slots=True, eq=False)
class _SameObject:
    """A knowledge that is looked up by identity, since its mappings cannot be hashed; it is kept alive."""

    knowledge: Knowledge

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _SameObject) and other.knowledge is self.knowledge

    def __hash__(self) -> int:
        return id(self.knowledge)


@lru_cache(maxsize=4)
def _reader(same: _SameObject) -> FormulaReader:
    return FormulaReader(same.knowledge)


def reader_for(knowledge: Knowledge) -> FormulaReader:
    """Give the reader of a knowledge, built at first use; safe to call from threads."""
    return _reader(_SameObject(knowledge))


def read_formula_text(
    text: str, knowledge: Knowledge, *, name: str = "formula", region: str = "us"
) -> Formula:
    """Turn a text as people write it, or the same as YAML, into a formula in grams.

    Raises:
        FormulaFault: with every problem of the text, each with line, column and what to do.
    """
    return reader_for(knowledge).read(text, name=name, region=region)


def report_on_text(
    text: str, knowledge: Knowledge, *, name: str = "formula", region: str = "us"
) -> ReadReport:
    """Tell of every line of a text what it was taken for, beside the formula or its problems.

    Raises:
        FormulaFault: the text is refused whole: empty, binary, too long.
    """
    return reader_for(knowledge).report(text, name=name, region=region)
