"""Reads one ingredient line: its phrases, its grammar, its name, its weight, and the ways out where one fails."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from advisor.formula.draft import Draft, Warmth
from advisor.formula.faults import LineFault, UnknownName, shown
from advisor.formula.formula import Line, Unweighed
from advisor.formula.left_out import note_unknown
from advisor.formula.lines.beside_dough import is_beside_the_dough
from advisor.formula.lines.compounds import pieces_of, turned_ways
from advisor.formula.lines.grammar import has_second_amount, names_nothing, split_line, unit_in_front
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.naming import Naming
from advisor.formula.lines.phrasing import Phrase, without_phrases
from advisor.formula.lines.prose_amounts import Pair, pairs_in
from advisor.formula.lines.prose_words import is_for_dough
from advisor.formula.lines.running import amounts_at
from advisor.formula.lines.sentences import is_sentence
from advisor.formula.lines.stated_protein import with_stated_protein
from advisor.formula.lines.states import traits_of
from advisor.formula.lines.titles import is_title
from advisor.formula.lines.units import UnitTable
from advisor.formula.lines.weighed import BareNumber, Read
from advisor.formula.lines.weighing import Scale, is_poured
from advisor.formula.regions import region_of_line
from advisor.formula.reports import Kind
from advisor.formula.spelling import words_of
from advisor.formula.text_lines import TextLine

_MOST_OFFERS = 25
"""Problems of one text up to which the nearest names are looked up, which takes some milliseconds each."""
_KEPT = 1024
_LEAST = frozenset({"pinch", "dash", "drop"})
"""Units of what weighs nothing that matters."""
_ANY_SPICE = "other herb or spice"
_LONGEST_SPICE = 4
_ALTERNATIVE = re.compile(r"\b(?:or|instead|not|less|minus|without|like)\b|[(/]", re.IGNORECASE)
_AMOUNT_IN_NOTE = re.compile(r"the note '[^']*[0-9]\s*(?:g|gr|ml|kg|oz|cups?|tsp|tbsp)\b", re.IGNORECASE)
_NEAR = 22
"""Letters behind an amount within which "for the pot" says that it is for no dough."""
_TAKEN_AS = "taken as"
"""How the note of a composition begins that is said wherever the ingredient is used."""


class IngredientReader:
    """Reads ingredient lines with one index of names and one table of units."""

    def __init__(self, names: NameIndex, units: UnitTable) -> None:
        self._names = names
        self._units = units
        self._naming = Naming(names, units)
        self._one = lru_cache(maxsize=_KEPT)(self._read_one)
        """A kitchen writes the same lines again and again, and a change to a formula leaves most of them."""

    def read(self, draft: Draft, line: TextLine, text: str) -> Kind | None:
        """Add what a line holds to the draft; `None` where it is no ingredient line or is the title.

        Raises:
            LineFault: it is an ingredient line that cannot be read in one way.
        """
        found: tuple[Read, ...] = ()
        try:
            one = self._one(text, draft.region, draft.base_g, draft.bare)
            found = (one,) if one is not None else self._another_way(draft, text)
        except LineFault as fault:
            found = self._another_way(draft, text)
            if not found:
                if (
                    draft.method
                    or is_title(draft, text, self._names, self._units)
                    or is_sentence(text, self._units, self._names)
                ):
                    return None
                draft.tried += 1
                if isinstance(fault, UnknownName) and len(draft.problems) < _MOST_OFFERS:
                    near = " or ".join(known for known, _ in self._names.nearest(fault.fragment))
                    note_unknown(draft, line.number, text, near, self._units)
                    raise self._names.unknown(fault.fragment) from None
                raise
        if not found:
            return None
        if not draft.title and not draft.tried and found[0].unknown:
            return None  # "Left to taste" is a title
        draft.tried += 1
        for read in found:
            self.add(draft, line, read)
        if len(found) == 1 and found[0].weighed is not None:
            self._add_in_notes(draft, line, text, found[0])
        return "ingredient" if any(read.weighed and not read.beside for read in found) else "unweighed"

    @staticmethod
    def add(draft: Draft, line: TextLine, read: Read) -> None:
        """Add to the draft what was read of a line, with what was assumed and what is doubtful."""
        weighed, entry = read.weighed, read.ingredient
        after = any(other.section != draft.section for other in draft.lines)
        beside = read.beside or draft.section * is_beside_the_dough(draft.section, after_dough=after)
        if weighed is not None and beside:
            draft.warn(line, f"'{shown(read.text)}' is for '{shown(beside)}': not counted with the dough")
            weighed = None  # its name is kept for its allergens
        if read.said:
            draft.assumed += (f"line {line.number}: {s}" for s in read.said)
        if read.doubts:
            draft.warnings += (f"line {line.number}: {s}" for s in read.doubts)
        if weighed is None:
            kept = Unweighed(text=read.text, number=line.number, ingredient=entry, section=draft.section)
            draft.unweighed.append(replace(kept, beside=bool(beside)))
            return
        draft.assumed += weighed.regional
        draft.lines.append(
            Line(
                text=read.text,
                number=line.number,
                ingredient=entry,
                grams=weighed.grams,
                conversion=weighed.conversion,
                grade=weighed.grade,
                counted=weighed.counted,
                traits=read.traits,
                age_months=read.age_months,
                section=draft.section,
                celsius=None if "water" in entry.roles else read.celsius,
            )
        )
        if read.celsius is not None and is_poured(entry) and "fat" not in entry.roles:
            draft.warmth.append(
                Warmth(
                    number=line.number,
                    name=entry.name,
                    grams=weighed.grams,
                    celsius=read.celsius,
                    is_water="water" in entry.roles,
                )
            )

    def _read_one(self, text: str, region: str, base_g: float | None, bare: BareNumber) -> Read | None:
        stated, text = region_of_line(text) if "(" in text or "," in text else (None, text)
        region = stated or region
        phrase = without_phrases(text)
        written = split_line(phrase.text, self._units) if phrase.text else None
        if written is None:
            return self._without_weight(text, phrase)
        named = self._naming.of_line(written)
        if named is None:
            unit = written.amount.parts[0].unit
            if unit is not None and unit.id in _LEAST and (some := self._seasoning(text, written.name)):
                return some
            if written.implied_one:
                return None
            if has_second_amount(written.name, self._units):
                raise LineFault(written.name, "the line has two amounts", "keep one, or join them with +")
            raise UnknownName(written.name)
        ingredient, states = named.match.ingredient, named.match.states
        weighed = Scale(self._units, region, base_g, bare).weigh(written, ingredient, states)
        said, doubts = [*weighed.said, *named.said, *phrase.said], [*weighed.doubts, *named.doubts]
        if (note := ingredient.per_100g.note or "").startswith(_TAKEN_AS):
            said.append(f"{ingredient.name} is {note}")
        ingredient, protein_said = with_stated_protein(ingredient, text)
        said += protein_said
        celsius = phrase.celsius
        if celsius is not None:
            said = [s for s in said if "no temperature" not in s]
            if "water" not in ingredient.roles:
                said.append(f"{ingredient.name} goes in at {celsius:.4g} C")
        ages = bool(ingredient.soda_per_100g) or ingredient.yeast_rate is not None
        if phrase.age_months and not ages:
            said.append(f"the age of {ingredient.name} is not used")
        if written.implied_one:
            said.append(f"'{written.amount.parts[0].text}' is taken as one")
        if phrase.more:
            doubts.append(f"'{shown(phrase.more)}' of {ingredient.name} has no weight: counted as nothing")
        return Read(
            text=text,
            ingredient=ingredient,
            weighed=weighed,
            traits=traits_of(states, ingredient) if states else (),
            celsius=celsius,
            age_months=phrase.age_months if ages else 0.0,
            said=tuple(said),
            doubts=tuple(doubts),
            beside=phrase.beside,
        )

    def _without_weight(self, text: str, phrase: Phrase) -> Read | None:
        """Keep "salt to taste" and "oil for the tin": an ingredient, and nothing that weighs it."""
        if not phrase.vague or not phrase.text:
            return None
        named = self._naming.of_words(phrase.text)
        if named is None:
            if phrase.taste and (some := self._seasoning(text, phrase.text)):
                return some
            raise UnknownName(phrase.text)
        entry = named.match.ingredient
        doubt = f"{entry.name} has no weight: '{shown(text)}' is counted as nothing"
        return Read(text=text, ingredient=entry, said=named.said, doubts=(doubt,), beside=phrase.beside)

    def _seasoning(self, text: str, name: str) -> Read | None:
        """Keep a pinch of a spice that is not known: it weighs nothing that matters."""
        entry = self._names.lookup(words_of(_ANY_SPICE))
        if entry is None or len(name.split()) > _LONGEST_SPICE or any(c.isdigit() for c in name):
            return None
        doubt = f"no ingredient is called '{shown(name)}': counted as a seasoning without weight; look up its allergens"
        return Read(text=text, ingredient=entry, doubts=(doubt,), unknown=True)

    def add_pairs(self, draft: Draft, line: TextLine, pairs: Sequence[Pair]) -> bool:
        """Add ingredients of one line, all or none; tell whether each could be read."""
        reads = [self.sure(draft, pair.line) for pair in pairs]
        if any(read is None or read.weighed is None for read in reads):
            return False
        draft.tried += 1
        for read in filter(None, reads):
            self.add(draft, line, read)
        return True

    def _add_in_notes(self, draft: Draft, line: TextLine, text: str, read: Read) -> None:
        """Add what the notes of an ingredient weigh of another: "cracked rye, soaked in 1/2 cup boiling water"."""
        pairs = [p for p in pairs_in(text, self._units, self._names) if p.known]
        for before, pair in pairwise(pairs):
            between = text[before.end : pair.start]
            other = self.sure(draft, pair.line)
            if other is None or other.weighed is None or other.ingredient.id == read.ingredient.id:
                continue
            if _ALTERNATIVE.search(between) or not is_for_dough(text[pair.start : pair.end + _NEAR]):
                continue
            self.add(draft, line, other)
            draft.assume(line, f"'{shown(pair.line)}' in the note is counted")

    def known_in(self, text: str) -> int:
        """Count the ingredients that are known and have an amount in a text."""
        return sum(p.known for p in pairs_in(text, self._units, self._names))

    def reads(self, draft: Draft, text: str) -> bool:
        """Tell whether a text is one ingredient with an amount, of which nothing is left over."""
        read = self.sure(draft, text)
        if read is None or read.weighed is None or read.unknown:
            return False
        if any(_AMOUNT_IN_NOTE.search(said) for said in (*read.said, *read.doubts)):
            return False
        return len(amounts_at(text, self._units)) < 2 or self.known_in(text) < 2  # none stands in a note

    def add_piece(self, draft: Draft, line: TextLine, text: str) -> None:
        """Add one ingredient of a line that holds several; one without an amount that is not known is named.

        Raises:
            LineFault: it has an amount and cannot be read in one way.
        """
        fault: LineFault | None = None
        read: Read | None = None
        try:
            read = self._one(text, draft.region, draft.base_g, draft.bare)
        except LineFault as caught:
            fault = caught
        if read is not None:
            self.add(draft, line, read)
            return
        pairs = pairs_in(text, self._units, self._names)
        if pairs and all(p.known for p in pairs) and self.add_pairs(draft, line, pairs):
            return
        if fault is None or not any(c.isdigit() for c in text):
            draft.warn(line, f"'{shown(text)}' is counted as nothing")
            return
        if isinstance(fault, UnknownName):
            raise self._names.unknown(fault.fragment) from None
        raise fault

    def _another_way(self, draft: Draft, text: str) -> tuple[Read, ...]:
        """Try a unit before its number, then several ingredients on one line; only whole readings count."""
        if (turned := unit_in_front(text, self._units)) and (read := self.sure(draft, turned)):
            return (read,)
        for way in turned_ways(text):
            if read := self.sure(draft, way):
                return (read,)
        pieces = pieces_of(text)
        found: list[Read] = []
        for piece in pieces:
            read = self.sure(draft, piece)
            if read is None and found:  # "200 g water plus 1 tbsp": more of what stands before
                phrase = without_phrases(piece)
                more = f"{phrase.text} {found[-1].ingredient.name}"
                read = self.sure(draft, more) if names_nothing(phrase.text, self._units) else None
                read = replace(read, said=(*read.said, *phrase.said)) if read is not None else None
            if read is None:
                return ()
            found.append(read)
        return tuple(found)

    def sure(self, draft: Draft, text: str) -> Read | None:
        """Read a text as one ingredient; `None` where it is none, or cannot be read in one way."""
        try:
            return self._one(text, draft.region, draft.base_g, draft.bare)
        except LineFault:
            return None
