"""Reads one ingredient line: its phrases, its grammar, its name, its weight, and the ways out where one fails."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from advisor.formula.draft import Draft, Warmth
from advisor.formula.faults import LineFault, UnknownName, shown
from advisor.formula.formula import Line, Unweighed
from advisor.formula.left_out import note_unknown
from advisor.formula.lines.compounds import pieces_of
from advisor.formula.lines.grammar import has_second_amount, split_line, unit_in_front
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.naming import Naming
from advisor.formula.lines.phrasing import Phrase, without_phrases
from advisor.formula.lines.prose_amounts import (
    Pair,
    goes_on,
    is_about_another,
    is_for_dough,
    joins,
    pairs_in,
    without_head,
)
from advisor.formula.lines.running import amounts_at
from advisor.formula.lines.sentences import begins_with_amount, is_sentence
from advisor.formula.lines.states import size_in, traits_of
from advisor.formula.lines.units import UnitTable
from advisor.formula.lines.weighing import BareNumber, Scale, Weighed, is_poured
from advisor.formula.regions import region_of_line
from advisor.formula.reports import Kind
from advisor.formula.spelling import words_of
from advisor.formula.text_lines import TextLine
from advisor.knowledge_base.ingredient import Ingredient

_MOST_OFFERS = 25
"""Problems of one text up to which the nearest names are looked up, which takes some milliseconds each."""
_KEPT = 4096
_LEAST = frozenset({"pinch", "dash", "drop"})
"""Units of what weighs nothing that matters."""
_ANY_SPICE = "other herb or spice"
_LONGEST_SPICE = 4
_LEAST_TOLD = 3
_LONGEST_FOOD = 3
_BEGINS = re.compile(
    r"^(?:\W|\b(?:i|we|you|used?|uses|take|takes|add|get|need|then|and|with|of|it'?s|is|was|has|have|had|put|mine|in|for|about|recipe|"
    r"just|only|so|now|ok|right)\b)+",
    re.IGNORECASE,
)
_ENDS_WEIGHED = re.compile(
    r"[0-9½¼¾]\s*(?:g|gr|gm|grams?|kg|ml|oz|lbs?|cups?|tsp|tbsp)\b[^0-9]{0,12}$", re.IGNORECASE
)
_BARE_END = re.compile(r"[\s(,]*(?:x|for|no\.?|makes|serves)?\s*[0-9]{1,2}\s*\)?$", re.IGNORECASE)
_UNIT_BEHIND = re.compile(
    r"([^\W\d][^0-9]{2,30}?)[\s,:–—-]+(?:an?\s+)?(?:good\s+|big\s+|small\s+)?(pinch|dash|handful|splash|knob|glug|drizzle|bunch)\.?",
    re.IGNORECASE,
)
_ALTERNATIVE = re.compile(r"\b(?:or|instead|not|less|minus|without|like)\b|[(/]", re.IGNORECASE)
_NEAR = 22
"""Letters behind an amount within which "for the pot" says that it is for no dough."""
_TAKEN_AS = "taken as"
"""How the note of a composition begins that is said wherever the ingredient is used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    """What one text says, wherever it stands; without `weighed` it is an ingredient of unknown weight."""

    text: str
    ingredient: Ingredient
    weighed: Weighed | None = None
    traits: tuple[str, ...] = ()
    age_months: float = 0.0
    celsius: float | None = None
    said: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()
    unknown: bool = False


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
        found: tuple[_Read, ...] = ()
        try:
            one = self._one(text, draft.region, draft.base_g, draft.bare)
            found = (one,) if one is not None else self._another_way(draft, text)
        except LineFault as fault:
            found = self._another_way(draft, text)
            if not found:
                if draft.method or self._is_title(draft, text) or is_sentence(text, self._units, self._names):
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
            self._add(draft, line, read)
        if len(found) == 1 and found[0].weighed is not None:
            self._add_in_notes(draft, line, text, found[0])
        return "ingredient" if any(read.weighed for read in found) else "unweighed"

    @staticmethod
    def _add(draft: Draft, line: TextLine, read: _Read) -> None:
        weighed, entry = read.weighed, read.ingredient
        if read.said:
            draft.assumed += (f"line {line.number}: {s}" for s in read.said)
        if read.doubts:
            draft.warnings += (f"line {line.number}: {s}" for s in read.doubts)
        if weighed is None:
            draft.unweighed.append(
                Unweighed(text=line.text, number=line.number, ingredient=entry, section=draft.section)
            )
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

    def _read_one(self, text: str, region: str, base_g: float | None, bare: BareNumber) -> _Read | None:
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
        return _Read(
            text=text,
            ingredient=ingredient,
            weighed=weighed,
            traits=traits_of(states, ingredient) if states else (),
            celsius=celsius,
            age_months=phrase.age_months if ages else 0.0,
            said=tuple(said),
            doubts=tuple(doubts),
        )

    def _without_weight(self, text: str, phrase: Phrase) -> _Read | None:
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
        return _Read(text=text, ingredient=entry, said=named.said, doubts=(doubt,))

    def _seasoning(self, text: str, name: str) -> _Read | None:
        """Keep a pinch of a spice that is not known: it weighs nothing that matters."""
        entry = self._names.lookup(words_of(_ANY_SPICE))
        if entry is None or len(name.split()) > _LONGEST_SPICE or any(c.isdigit() for c in name):
            return None
        doubt = f"no ingredient is called '{shown(name)}': counted as a seasoning without weight; look up its allergens"
        return _Read(text=text, ingredient=entry, doubts=(doubt,), unknown=True)

    def of_message(self, draft: Draft, line: TextLine, text: str) -> bool:
        """Read a formula told in one paragraph, amount by amount; tell whether the line is one.

        Raises:
            LineFault: an amount in it is of nothing that is known.
        """
        if draft.tried or draft.method:
            return False
        pairs = [
            p
            for p in pairs_in(text, self._units, self._names)
            if not is_about_another(text[p.start : p.end + _NEAR])
        ]
        if sum(p.known for p in pairs) < _LEAST_TOLD:
            return False
        found: list[_Read] = []
        for pair in pairs:
            read = self._sure(draft, pair.line)
            if read is None or read.weighed is None:
                raise self._names.unknown(pair.line)
            if pair.corrects and found:
                draft.assume(line, f"'{shown(found[-1].text)}' was taken back for '{shown(pair.line)}'")
                found.pop()
            if any(f.ingredient.id == read.ingredient.id and f.text == read.text for f in found):
                continue
            found.append(read)
        draft.tried += 1
        for read in found:
            self._add(draft, line, read)
        told = ", ".join(f"{r.weighed.grams:.4g} g {r.ingredient.name}" for r in found if r.weighed)
        draft.assume(line, f"the amounts are taken out of the sentence: {told}")
        return True

    def listed(self, draft: Draft, line: TextLine, text: str) -> bool:
        """Add the ingredients of a line that is nothing but amounts joined by commas: "1 tsp powder, pinch salt"."""
        if draft.method:
            return False
        pairs = pairs_in(text, self._units, self._names)
        between = [text[a.end : b.start] for a, b in pairwise(pairs)]
        kinds = {p.match.ingredient.id for p in pairs if p.match}
        if len(pairs) < 2 or len(kinds) < len(pairs) or not all(joins(gap) for gap in between):
            return False
        if text[: pairs[0].start].strip(" ~") or text[pairs[-1].end :].strip(" .!"):
            return False
        return self._add_pairs(draft, line, pairs)

    def _add_pairs(self, draft: Draft, line: TextLine, pairs: Sequence[Pair]) -> bool:
        reads = [self._sure(draft, pair.line) for pair in pairs]
        if any(read is None or read.weighed is None for read in reads):
            return False
        draft.tried += 1
        for read in reads:
            if read is not None:
                self._add(draft, line, read)
        return True

    def in_front(self, draft: Draft, line: TextLine, text: str) -> str | None:
        """Add the ingredients with which a line begins, and give what it says behind them; `None` where none does.

        "60 g butter rubbed in", "1 cup milk, bit more if dry", "1 1/4 cups boiling water. Stir, stand 15 min"; behind a
        head such as "Wet:" several are wanted.
        """
        head, body = without_head(text)
        for front, rest in (("", text), (head, body)):
            pairs = pairs_in(rest, self._units, self._names)
            if not pairs or not all(p.known for p in pairs) or (front and len(pairs) < 2):
                continue
            before = _BEGINS.sub("", rest[: pairs[0].start]).strip(" ~")
            gaps = [rest[a.end : b.start] for a, b in pairwise(pairs)]
            behind = rest[pairs[-1].end :]
            if before or self._names_food(behind) or not all(goes_on(gap) for gap in (*gaps, behind)):
                continue
            if self._add_pairs(draft, line, pairs):
                if front and not draft.title and not draft.lines[: -len(pairs)]:
                    draft.title = front
                left = " ".join([*(g for g in gaps if not joins(g)), behind]).strip(" ,;.!")
                return f"{front}: {left}" if front and any(c.isdigit() for c in left) else left
        return None

    def _add_in_notes(self, draft: Draft, line: TextLine, text: str, read: _Read) -> None:
        """Add what the notes of an ingredient weigh of another: "cracked rye, soaked in 1/2 cup boiling water"."""
        pairs = [p for p in pairs_in(text, self._units, self._names) if p.known]
        for before, pair in pairwise(pairs):
            between = text[before.end : pair.start]
            other = self._sure(draft, pair.line)
            if other is None or other.weighed is None or other.ingredient.id == read.ingredient.id:
                continue
            if _ALTERNATIVE.search(between) or not is_for_dough(text[pair.start : pair.end + _NEAR]):
                continue
            self._add(draft, line, other)
            draft.assume(line, f"'{shown(pair.line)}' in the note is counted")

    def _names_food(self, behind: str) -> bool:
        """Tell whether a few words behind an ingredient are another one without an amount: "with honey", ", gluten"."""
        words = [w for w in behind.split() if w.strip(" ,.&+")]
        tails = (" ".join(words[at:]).strip(" ,.") for at in range(len(words)))
        return 0 < len(words) <= _LONGEST_FOOD and any(
            self._names.match(tail) is not None for tail in tails if tail
        )

    def add_told(self, draft: Draft) -> None:
        """Count the amounts that sentences tell of ingredients which no line gives: "then whisk in 5 eggs"."""
        listed = [entry.ingredient for entry in draft.lines]
        words = [set(words_of(line.text)) | set(words_of(line.ingredient.name)) for line in draft.lines]
        found: list[tuple[TextLine, _Read]] = []
        for line, pair in draft.told:
            read = self._sure(draft, pair.line)
            if read is None or read.weighed is None:
                continue
            own = set(words_of(read.ingredient.name))
            same = any(entry.id == read.ingredient.id for entry in listed)
            alike = any(
                (own <= known or known <= own) and entry.family == read.ingredient.family
                for entry, known in zip(listed, words, strict=True)
            )
            if same or alike:
                own_line = f"{read.ingredient.name} stands in a line of its own"
                draft.warn(line, f"('{shown(pair.line)}' in it: counted as nothing, since {own_line})")
                continue
            if pair.corrects and found:
                found.pop()
            if not any(r.ingredient.id == read.ingredient.id for _, r in found):
                found.append((line, read))
        for line, read in found:
            self._add(draft, line, read)
            draft.tried += 1
            draft.kinds[line.number] = "ingredient"
            grams = read.weighed.grams if read.weighed else 0.0
            draft.assume(line, f"{grams:.4g} g {read.ingredient.name} is counted, out of the sentence")

    def reads(self, draft: Draft, text: str) -> bool:
        """Tell whether a text is one ingredient with an amount, of which nothing is left over."""
        read = self._sure(draft, text)
        return read is not None and read.weighed is not None and not read.unknown

    def add_piece(self, draft: Draft, line: TextLine, text: str) -> None:
        """Add one ingredient of a line that holds several; one without an amount that is not known is named.

        Raises:
            LineFault: it has an amount and cannot be read in one way.
        """
        fault: LineFault | None = None
        read: _Read | None = None
        try:
            read = self._one(text, draft.region, draft.base_g, draft.bare)
        except LineFault as caught:
            fault = caught
        if read is not None:
            self._add(draft, line, read)
            return
        pairs = pairs_in(text, self._units, self._names)
        if pairs and all(p.known for p in pairs) and self._add_pairs(draft, line, pairs):
            return
        if fault is None or not any(c.isdigit() for c in text):
            draft.warn(line, f"'{shown(text)}' is counted as nothing")
            return
        if isinstance(fault, UnknownName):
            raise self._names.unknown(fault.fragment) from None
        raise fault

    def _another_way(self, draft: Draft, text: str) -> tuple[_Read, ...]:
        """Try a unit before its number, then several ingredients on one line; only whole readings count."""
        if (turned := unit_in_front(text, self._units)) and (read := self._sure(draft, turned)):
            return (read,)
        if (behind := _UNIT_BEHIND.fullmatch(text)) and (
            read := self._sure(draft, behind.expand(r"1 \2 \1"))
        ):
            return (read,)  # "salt, a pinch"
        pieces = pieces_of(text)
        found: list[_Read] = []
        for piece in pieces:
            read = self._sure(draft, piece)
            if read is None and found:  # "200 g water plus 1 tbsp": more of what stands before
                phrase = without_phrases(piece)
                read = self._sure(draft, f"{phrase.text} {found[-1].ingredient.name}")
                read = replace(read, said=(*read.said, *phrase.said)) if read is not None else None
            if read is None:
                return ()
            found.append(read)
        return tuple(found)

    def _sure(self, draft: Draft, text: str) -> _Read | None:
        try:
            return self._one(text, draft.region, draft.base_g, draft.bare)
        except LineFault:
            return None

    def _is_title(self, draft: Draft, text: str) -> bool:
        if draft.title or draft.tried:
            return False
        if not begins_with_amount(text, self._units) and not _ENDS_WEIGHED.search(text):
            weighed = [a for a in amounts_at(text, self._units) if a.amount.parts[0].weighs]
            if "%" in text and self._names.match_ignoring_percent(text):
                return False
            return not weighed and not self._names.spelt_nearly(_BARE_END.sub("", text))
        try:
            written = split_line(text, self._units)
        except LineFault:
            return False
        if written is None or written.amount.word:  # "Two ways with gluten", "Made to taste"
            return (written is None or written.amount.bare) and not self._names.spelt_nearly(text)
        if not written.amount.bare or size_in((words_of(written.name),)):
            return False
        return not self._names.spelt_nearly(written.name)  # "Loaf 2"
