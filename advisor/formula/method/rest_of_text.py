"""Lines that are no ingredient with an amount and no process line: headings, the title, free sentences, bare names."""

from __future__ import annotations

import re
from collections.abc import Mapping

from advisor.formula.draft import Draft
from advisor.formula.faults import LineFault, shown
from advisor.formula.formula import Unweighed
from advisor.formula.lines.amounts import with_decimal_points
from advisor.formula.lines.matching import Match, NameIndex
from advisor.formula.lines.prose_reading import ProseReader
from advisor.formula.lines.remarks import is_kept, is_short, is_unknown_ingredient
from advisor.formula.lines.sentences import begins_with_weight, is_sentence
from advisor.formula.lines.totals import made_in_title
from advisor.formula.lines.units import UnitTable
from advisor.formula.method.headings import begins_method, is_finish, is_section, tells_work
from advisor.formula.method.method_facts import MethodReader
from advisor.formula.method.process_from_method import (
    note_amounts,
    note_facts,
    note_sentence,
    tells_process,
)
from advisor.formula.process.named_pans import pan_in
from advisor.formula.process.process_lines import PROCESS_KEYS, plain_key
from advisor.formula.process.rolls_named import pieces_in
from advisor.formula.regions import region_of_title
from advisor.formula.reports import Kind
from advisor.formula.spoken_numbers import with_digits
from advisor.formula.text_lines import TextLine, without_dash
from advisor.knowledge_base.measured import PanSize

_HASH = re.compile(r"(?:#+|//)\s*(?P<said>[^\W\d].*)")
_LEAST_METHOD, _LEAST_FACTS = 5, 2
_MAKES = re.compile(r"(?:makes?|yields?)\b", re.IGNORECASE)
_LONGEST_TITLE = 10
"""Words up to which a first line may be a title although it begins with a verb."""
_BAKED_WEIGHT = re.compile(
    r"\b(?:baked|final|finished|out-of-oven|loaf)\s+weight\b|\bafter\s+baking\b", re.IGNORECASE
)


def heading(draft: Draft, text: str) -> Kind:
    """Begin a section; what stands under one of the method is prose."""
    draft.section = text.rstrip(": ")
    draft.method = begins_method(draft.section)
    return "heading"


class RestReader:
    """Reads what the grammar of ingredients and process lines leaves over."""

    def __init__(
        self, prose: ProseReader, names: NameIndex, units: UnitTable, pans: Mapping[str, PanSize]
    ) -> None:
        self._prose = prose
        self._names = names
        self._units = units
        self._pans = pans

    def is_method(self, text: str) -> bool:
        """Tell whether a line is one of the method, whatever ingredient it begins with: "Water 18 C, knead 12 min"."""
        if begins_with_weight(text, self._units) or len(text.split()) < _LEAST_METHOD:
            return False
        told = MethodReader().read(text).found
        return len({f.topic for f in told if f.what not in ("piece_g", "weight_after_g")}) >= _LEAST_FACTS

    def paragraph(self, draft: Draft, line: TextLine, thousands: bool | None = None) -> Kind:
        """Read a line that is too long for an ingredient: a paragraph of the method, or a formula told in one."""
        try:
            text = with_decimal_points(line.text, thousands)
        except LineFault:
            text = line.text  # a number in prose that can be read in two ways is no reason to refuse it
        return self.read(draft, line, with_digits(text))

    def title(self, draft: Draft, line: TextLine, text: str) -> Kind:
        """Take a line as the title, with the region and the pan that it names.

        Raises:
            LineFault: there is a title already.
        """
        if draft.title:
            raise LineFault(text, f"'{shown(text)}' is a second title", "keep one")
        draft.title = text = without_dash(text)
        if region := region_of_title(text):
            draft.region = region
            draft.assume(line, f"cups, spoons and pints are those of region {region}")
        made = pieces_in(text) and not made_in_title(text, self._units) and not _MAKES.match(text)
        if pan_in(text, self._pans) or made or MethodReader().read(text).found:
            note_facts(draft, line, text, self._pans)
        return "title"

    def commented_out(self, draft: Draft, line: TextLine) -> Kind:
        """Take what a line behind '#' says of the process, as people note it below a table; it adds no ingredient."""
        said = _HASH.match(line.raw.strip())
        text = with_digits(" ".join(said["said"].split())) if said else ""
        key = plain_key(text.split(":")[0])
        if (
            draft.lines
            and text
            and key not in PROCESS_KEYS
            and any(c.isdigit() for c in text)
            and tells_process(text, self._pans)
        ):
            note_facts(draft, line, text, self._pans)
        return "comment"

    def pan(self, draft: Draft, line: TextLine, text: str) -> None:
        """Take the pan that a list of equipment names; its other numbers are of no process."""
        if found := pan_in(text, self._pans):
            draft.pans.append(
                (line.number, found.text, dict(found.fields), (found.said,) if found.said else ())
            )

    def process(self, draft: Draft, line: TextLine, text: str) -> bool:
        """Take a line as one of the process; tell whether it says anything."""
        return note_facts(draft, line, text, self._pans)

    def remark(self, draft: Draft, line: TextLine, text: str) -> None:
        """Take what a sentence says of the process, and keep the rest of it."""
        note_sentence(draft, line, text, self._pans, self._names, self._units)

    def tells_process(self, text: str) -> bool:
        """Tell whether a line that is no ingredient says something of the process, so that it is none gone wrong."""
        if not tells_process(text, self._pans):
            return False
        return _BAKED_WEIGHT.search(text) is not None or not begins_with_weight(text, self._units)

    @staticmethod
    def tells_all(text: str) -> bool:
        """Tell whether a text read as a sentence gives each of its numbers a meaning, several of them."""
        told = MethodReader().read(text)
        return len(told.found) > 1 and not told.left

    def asks_back(self, text: str, *, named: bool = False) -> bool:
        """Tell whether a line that is no ingredient is an amount of something that is not known.

        `named`: the ingredient is known, and it is the amount that cannot be read; then only a remark is none.
        """
        if self.tells_process(text) or is_kept(text, self._units):
            return False
        return (named and is_short(text)) or is_unknown_ingredient(text, self._units)

    def read(self, draft: Draft, line: TextLine, text: str) -> Kind:
        """Tell what a line is that holds no ingredient with an amount and is no process line.

        Whatever is left is a remark: it is kept and shown.

        Raises:
            LineFault: an amount in it is of nothing that is known.
        """
        if is_section(text):
            return heading(draft, text)
        if draft.method:
            if tells_work(draft.section):
                text, _ = note_amounts(draft, line, text, self._names, self._units)
            if not tells_work(draft.section) or not note_facts(draft, line, text, self._pans):
                draft.passed_over.append(line.number)
            return "comment"
        if self._prose.of_message(draft, line, text):
            note_sentence(draft, line, text, self._pans, self._names, self._units, counted=True)
            return "ingredient"
        sentence = is_sentence(text, self._units, self._names)
        if sentence and (
            draft.title or draft.tried or text.endswith(".") or len(text.split()) > _LONGEST_TITLE
        ):
            note_sentence(draft, line, text, self._pans, self._names, self._units)
            return "comment"
        match = self._names.match(text.split(",")[0])
        if not draft.title and not draft.tried:
            self.title(draft, line, text)
            if match is not None:
                draft.warn(
                    line, f"'{shown(text)}' is taken as the title; if it is the ingredient, write its amount"
                )
            elif text[:1].isdigit() or text[-1:].isdigit():
                draft.assume(line, f"'{shown(text)}' is taken as the title")
            return "title"
        if match is not None and _may_lack_an_amount(draft, match):
            entry = match.ingredient
            draft.tried += 1
            draft.unweighed.append(
                Unweighed(text=text, number=line.number, ingredient=entry, section=draft.section)
            )
            draft.warn(line, f"{entry.name} has no weight: '{shown(text)}' is counted as nothing")
            return "unweighed"
        numbered = any(c.isdigit() for c in text)
        asks = numbered and not sentence and not self.tells_process(text) and not is_kept(text, self._units)
        if match is not None and asks and not sentence:
            do = f"write an amount before the name, such as '5 g {match.ingredient.name}'"
            raise LineFault(text, f"'{shown(text)}' has no amount that can be read", do)
        if match is not None and (asks or not numbered):
            entry = match.ingredient
            draft.tried += 1
            draft.unweighed.append(
                Unweighed(text=text, number=line.number, ingredient=entry, section=draft.section)
            )
            draft.warn(line, f"'{shown(text)}' has no amount and is counted as nothing")
            return "unweighed"
        if (asks or not numbered) and not sentence and is_unknown_ingredient(text, self._units):
            raise LineFault(text, f"'{shown(text)}' is no ingredient that is known", "write it as '5 g salt'")
        note_sentence(draft, line, text, self._pans, self._names, self._units)
        return "comment"


def _may_lack_an_amount(draft: Draft, match: Match) -> bool:
    """Tell whether an ingredient may stand alone: a spice anywhere, anything under a heading of what goes on top."""
    return set(match.ingredient.roles) == {"flavour"} or is_finish(draft.section)
