"""Reads a whole formula text: what each line is, by order of precedence, and every problem in one error."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from advisor.formula.amounts import with_decimal_points
from advisor.formula.draft import Draft
from advisor.formula.faults import FormulaFault, LineFault, Problem, shown
from advisor.formula.formula import Formula, Line, Process
from advisor.formula.lines import Written, amount_at, has_amount, has_second_amount, split_line
from advisor.formula.matching import Match, NameIndex
from advisor.formula.process import (
    PROCESS_KEYS,
    looks_like_process,
    nearest_key,
    plain_key,
    read_process_value,
    unknown_key,
)
from advisor.formula.spelling import words_of
from advisor.formula.states import only_states, size_in, state_spans, traits_of
from advisor.formula.text_lines import TITLE_KEY, TextLine, text_lines
from advisor.formula.units import UnitTable
from advisor.formula.weighing import Scale
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge

_KEYED = re.compile(r"(?P<key>[^:]{1,40}?)\s*:\s*(?P<value>.*)")
_ALIKE = 72.0
"""Likeness (0 to 100) from which an unknown key is taken for a misspelt process key."""
_TITLE_UNLIKE = 85.0
"""Likeness to an ingredient below which a first line with a bare number is a title ("Loaf 2")."""
_KEYS = frozenset(PROCESS_KEYS)


class FormulaReader:
    """Reads formula texts with one knowledge; the name index and the unit table are built once, here."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.names = NameIndex(knowledge.ingredients)
        self.units = UnitTable(knowledge.units)

    def read(self, text: str, *, name: str = "formula", region: str = "us") -> Formula:
        """Turn a text into a formula in grams.

        `name` stands in messages, and names a formula without a title; `region` sets cups and egg sizes.

        Raises:
            FormulaFault: with every problem of the text.
        """
        draft = Draft(name=name, region=region)
        lines = text_lines(text, name)
        for line in lines:
            if (keyed := _KEYED.fullmatch(line.text)) and plain_key(keyed["key"]) == "base":
                draft.attempt(line, lambda line=line, value=keyed["value"]: self._base(draft, line, value))  # type: ignore[misc]
        for line in lines:
            draft.attempt(line, lambda line=line: self._line(draft, line))  # type: ignore[misc]
        if draft.added_last is not None:
            draft.attempt(draft.added_last, lambda: self._name_added_last(draft))
        if not draft.tried and not draft.problems:
            draft.problems.append(
                Problem(
                    line=1,
                    column=1,
                    what="no line holds an ingredient",
                    do="write lines such as '200 g water'",
                )
            )
        if draft.problems:
            raise FormulaFault(name, tuple(draft.problems))
        return Formula(
            name=draft.title or name,
            lines=tuple(draft.lines),
            process=Process(**draft.fields),  # type: ignore[arg-type]
            assumed=tuple(dict.fromkeys(draft.assumed)),
            warnings=tuple(dict.fromkeys(draft.warnings)),
            source_text=text,
        )

    def _line(self, draft: Draft, line: TextLine) -> None:
        keyed = _KEYED.fullmatch(line.text)
        if keyed is not None:
            key = plain_key(keyed["key"])
            if key in _KEYS:
                return self._process(draft, line, key, keyed["value"])
            if key == "base":
                return None
            if title := TITLE_KEY.match(line.text):
                return self._title(draft, line, line.text[title.end() :])
        text = with_decimal_points(line.text)
        if text.endswith(":") and not has_amount(text, self.units):
            draft.section = text.rstrip(": ")
            return None
        if keyed is not None and keyed["value"]:
            self._refuse_unknown_key(keyed["key"], keyed["value"])
        written = split_line(text, self.units)
        if written is None:
            return self._other(draft, line)
        return self._ingredient(draft, line, written)

    def _base(self, draft: Draft, line: TextLine, value: str) -> None:
        self._once(draft, line, "base")
        amount = amount_at(value.strip(), 0, self.units)
        size = 0.0
        if amount is not None and len(amount.parts) == 1 and not value.strip()[amount.end :].strip():
            part = amount.parts[0]
            size = (part.unit.grams or 0.0) if part.unit and not part.unit.millilitres else 0.0
        if amount is None or not size:
            raise LineFault(value or "base", "the base of the percentages is no weight", "write base: 500 g")
        draft.base_g = amount.parts[0].value * size

    @staticmethod
    def _once(draft: Draft, line: TextLine, key: str) -> None:
        if (first := draft.key_lines.get(key)) is not None:
            raise LineFault(key, f"'{key}' stands already on line {first}", "keep one of the two lines")
        draft.key_lines[key] = line.number

    def _process(self, draft: Draft, line: TextLine, key: str, value: str) -> None:
        self._once(draft, line, key)
        fields, said = read_process_value(key, with_decimal_points(value))
        draft.fields.update(fields)
        draft.assumed += (f"line {line.number}: {s}" for s in said)
        if key == "added last":
            draft.added_last = line

    def _refuse_unknown_key(self, key: str, value: str) -> None:
        if self.names.match(key) is not None:
            return
        near = nearest_key(key, _ALIKE)
        if near is not None or looks_like_process(value):
            raise unknown_key(key, near)

    def _title(self, draft: Draft, line: TextLine, text: str) -> None:
        if draft.title:
            raise LineFault(text, f"'{shown(text)}' is a second title", "keep one")
        draft.title = text

    def _other(self, draft: Draft, line: TextLine) -> None:
        match = self.names.match(line.text.split(",")[0])
        if not draft.title and not draft.tried:
            draft.title = line.text
            if match is not None:
                draft.warnings.append(
                    f"line {line.number}: '{shown(line.text)}' is taken as the title; "
                    f"if it is the ingredient, write its amount"
                )
            return
        if match is not None:
            do = f"write an amount before the name, such as '5 g {match.ingredient.name}'"
            raise LineFault(line.text, f"'{shown(line.text)}' has no amount", do)
        if not draft.title:
            draft.title = line.text
            return
        raise LineFault(
            line.text,
            f"'{shown(line.text)}' is no ingredient, process line or heading",
            "give it an amount, end a heading with ':', or put '#' before a remark",
        )

    def _ingredient(self, draft: Draft, line: TextLine, written: Written) -> None:
        found, notes, doubts = self._match(written)
        if found is None:
            if written.implied_one:
                return self._other(draft, line)
            if self._is_title(draft, written):
                draft.title = line.text
                draft.assumed.append(f"line {line.number}: '{shown(line.text)}' is taken as the title")
                return None
            draft.tried += 1
            if has_second_amount(written.name, self.units):
                raise LineFault(written.name, "the line has two amounts", "keep one, or join them with +")
            raise self.names.unknown(written.name)
        draft.tried += 1
        ingredient, states = found.ingredient, found.states
        weighed = Scale(self.units, draft.region, draft.base_g).weigh(written, ingredient, states)
        where = f"line {line.number}: "
        if written.implied_one:
            draft.assumed.append(f"{where}'{written.amount.parts[0].text}' is taken as one")
        draft.assumed += (*weighed.regional, *(where + s for s in (*weighed.said, *notes)))
        draft.warnings += (where + s for s in (*weighed.doubts, *doubts))
        draft.lines.append(
            Line(
                text=line.text,
                number=line.number,
                ingredient=ingredient,
                grams=weighed.grams,
                conversion=weighed.conversion,
                grade=weighed.grade,
                counted=weighed.counted,
                traits=traits_of(states, ingredient),
                section=draft.section,
            )
        )
        return None

    def _match(self, written: Written) -> tuple[Match | None, list[str], list[str]]:
        """Match the name with its notes (flaxseed, ground), then alone; tell which notes went unused."""
        name, notes = written.name, written.notes
        if notes:
            all_notes = " ".join(notes)
            if found := self.names.match(f"{name} {all_notes}", f"{all_notes} {name}"):
                return found, [], []
        doubts: list[str] = []
        found = self.names.match(name)
        if found is None and (found := self.names.match_ignoring_percent(name)):
            doubts.append(f"'{shown(name)}' is taken as {found.ingredient.name}, whatever its percentage")
        if found is None:
            return None, [], []
        states: list[tuple[str, ...]] = list(found.states)
        unused: list[str] = []
        for note in notes:
            words = words_of(note)
            states += (words[a:b] for a, b in state_spans(words))
            if not words or only_states(words):
                continue
            if other := self.names.match(note):
                what = f"'{shown(note)}' behind the comma is another ingredient, {other.ingredient.name}"
                raise LineFault(note, what, "write one ingredient a line")
            doubtful = self.names.speaks_of_food(words)
            (doubts if doubtful else unused).append(f"the note '{shown(note)}' is not used")
        return Match(ingredient=found.ingredient, states=tuple(states)), unused, doubts

    def _is_title(self, draft: Draft, written: Written) -> bool:
        if draft.title or draft.tried or not written.amount.bare or size_in((words_of(written.name),)):
            return False
        return all(score < _TITLE_UNLIKE for _, score in self.names.nearest(written.name, 1))

    def _name_added_last(self, draft: Draft) -> None:
        """Turn what was added last into the name of an ingredient of the formula."""
        said = str(draft.fields["added_last"])
        here = {line.ingredient.id: line.ingredient for line in draft.lines}
        found = self.names.match(said)
        if found is not None and found.ingredient.id in here:
            draft.fields["added_last"] = found.ingredient.name
            return
        wanted = set(words_of(said))
        close = [e for e in here.values() if wanted and _is_called(e, wanted)]
        if len(close) != 1:
            if draft.problems:
                return  # its line may be among those that could not be read
            what = "is no ingredient of this formula" if not close else "can be more than one ingredient"
            names = ", ".join(e.name for e in (close or list(here.values()))[:6])
            raise LineFault(said, f"'{shown(said)}' {what}", f"write one of: {names}")
        draft.fields["added_last"] = close[0].name


def _is_called(ingredient: Ingredient, wanted: set[str]) -> bool:
    names = (ingredient.name, *ingredient.also, *ingredient.roles)
    return any(wanted <= set(words_of(name.replace("_", " "))) for name in names)


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
    """Turn a text as people write it into a formula in grams.

    Raises:
        FormulaFault: with every problem of the text, each with line, column and what to do.
    """
    return reader_for(knowledge).read(text, name=name, region=region)
