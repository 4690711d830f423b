"""Reads ingredients out of prose: a formula told in one paragraph, a list behind a head, an amount in a step."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from advisor.formula.draft import Draft
from advisor.formula.faults import shown
from advisor.formula.lines.ingredient_reading import IngredientReader
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.prose_amounts import pairs_in
from advisor.formula.lines.prose_words import goes_on, is_about_another, joins, without_head
from advisor.formula.lines.running import in_one_unit
from advisor.formula.lines.units import UnitTable
from advisor.formula.lines.weighed import Read
from advisor.formula.spelling import words_of
from advisor.formula.text_lines import TextLine

_LEAST_TOLD = 3
_LONGEST_FOOD = 3
_BEGINS = re.compile(
    r"^(?:\W|\b(?:i|we|you|used?|uses|take|takes|add|get|need|then|and|with|of|it'?s|is|was|has|have|had|put|mine|in|for|about|recipe|"
    r"just|only|so|now|ok|right)\b)+",
    re.IGNORECASE,
)
_ADDS = re.compile(r"\W*(?:(?:then|next\s+day|now)\W+|to\s+(?:this|it|the\s+\w+)\W+)?add\b", re.IGNORECASE)
"""How a sentence begins that puts more into a dough that stood: "Add 200 g rye flour and 20 g salt"."""
_AMOUNT = r"(?:[0-9]+(?:[./][0-9]+)?|[½¼¾⅓⅔])\s*(?:g|gr|kg|ml|oz|tsp|tbsp|teaspoons?|tablespoons?|cups?)?\b"
_CORRECTION = re.compile(
    rf"(?P<name>[^\W\d][^\W\d]*(?:[ -][^\W\d]+){{0,3}})\s+(?:is|was|should\s+(?:be|read|say)|means)\s+"
    rf"(?:really\s+|only\s+)?(?P<right>{_AMOUNT})\s*,?\s*(?:and\s+)?(?:not|instead\s+of|rather\s+than)\s+(?P<wrong>{_AMOUNT})",
    re.IGNORECASE,
)
"""What a text takes back further down: "EDIT: sorry, salt is 6 g not 12 g"."""
_MORE_OF_IT = re.compile(r"\b(?:another|a\s+(?:further|second)|again)\s+$", re.IGNORECASE)
_SAME_WEIGHT = 0.02
_NEAR = 22
"""Letters behind an amount within which "for the pot" says that it is for no dough."""


class ProseReader:
    """Reads amounts with their names wherever they stand in a text, each as a line of its own would be read."""

    def __init__(self, ingredients: IngredientReader, names: NameIndex, units: UnitTable) -> None:
        self._one = ingredients
        self._names = names
        self._units = units

    def of_message(self, draft: Draft, line: TextLine, text: str) -> bool:
        """Read a formula told in one paragraph, amount by amount; tell whether the line is one.

        What is not known among several that are is left out and named: a refusal would lose the whole text.
        """
        if draft.tried or draft.method:
            return False
        text = in_one_unit(text)
        pairs = [
            p
            for p in pairs_in(text, self._units, self._names)
            if not is_about_another(text[p.start : p.end + _NEAR])
        ]
        if sum(p.known for p in pairs) < _LEAST_TOLD:
            return False
        found: list[Read] = []
        for pair in pairs:
            read = self._one.sure(draft, pair.line)
            if read is None or read.weighed is None:
                near = " or ".join(known for known, _ in self._names.nearest(pair.line))
                asked = f" (is it {near}?)" if near else ""
                draft.warn(
                    line,
                    f"'{shown(pair.line)}' is not known: left out of the figures{asked}; write it on its own line",
                )
                continue
            if pair.corrects and found:
                draft.assume(line, f"'{shown(found[-1].text)}' was taken back for '{shown(pair.line)}'")
                found.pop()
            told = any(f.ingredient.id == read.ingredient.id and f.text == read.text for f in found)
            if told and not _MORE_OF_IT.search(text[: pair.start]):
                continue
            found.append(read)
        draft.tried += 1
        for read in found:
            self._one.add(draft, line, read)
        all_told = ", ".join(f"{r.weighed.grams:.4g} g {r.ingredient.name}" for r in found if r.weighed)
        draft.assume(line, f"the amounts are taken out of the sentence: {all_told}")
        return True

    @staticmethod
    def _further_lists(draft: Draft, known: set[str]) -> set[int]:
        """Give the lines of prose that list a further part of the dough: several amounts, one of what is new."""
        several: dict[int, list[str]] = {}
        for line, pair in draft.told:
            if pair.match is not None:
                several.setdefault(line.number, []).append(pair.match.ingredient.id)
        adds = {line.number for line, _ in draft.told if _ADDS.match(line.text)}
        return {
            n
            for n, ids in several.items()
            if len(ids) >= (_LEAST_TOLD - (n in adds)) and not set(ids) <= known
        }

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
            if self._one.add_pairs(draft, line, pairs):
                if front and not draft.title and not draft.lines[: -len(pairs)]:
                    draft.title = front
                left = " ".join([*(g for g in gaps if not joins(g)), behind]).strip(" ,;.!")
                return f"{front}: {left}" if front and any(c.isdigit() for c in left) else left
        return None

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
        found: list[tuple[TextLine, Read]] = []
        lists = self._further_lists(draft, {entry.id for entry in listed})
        for line, pair in draft.told:
            read = self._one.sure(draft, pair.line)
            if read is None or read.weighed is None:
                continue
            own = set(words_of(read.ingredient.name))
            same = any(entry.id == read.ingredient.id for entry in listed)
            alike = any(
                (own <= known or known <= own) and entry.family == read.ingredient.family
                for entry, known in zip(listed, words, strict=True)
            )
            if (same or alike) and line.number not in lists:
                own_line = f"{read.ingredient.name} stands in a line of its own"
                draft.warn(line, f"('{shown(pair.line)}' in it: counted as nothing, since {own_line})")
                continue
            if pair.corrects and found:
                found.pop()
            if not any(
                r.ingredient.id == read.ingredient.id and n.number == line.number for n, r in found
            ) and (line.number in lists or not any(r.ingredient.id == read.ingredient.id for _, r in found)):
                found.append((line, read))
        for line, read in found:
            self._one.add(draft, line, read)
            draft.tried += 1
            draft.kinds[line.number] = "ingredient"
            grams = read.weighed.grams if read.weighed else 0.0
            draft.assume(line, f"{grams:.4g} g {read.ingredient.name} is counted, out of the sentence")

    def take_back(self, draft: Draft, lines: Iterable[TextLine]) -> None:
        """Put the amount that a sentence corrects in the place of the one that it takes back, where a line has that."""
        for line in lines:
            for found in _CORRECTION.finditer(line.text):
                self._put_right(draft, line, found)

    def _put_right(self, draft: Draft, line: TextLine, found: re.Match[str]) -> None:
        words = found["name"].split()
        for name in (" ".join(words[at:]) for at in range(len(words))):
            right = self._one.sure(draft, f"{found['right']} {name}")
            wrong = self._one.sure(draft, f"{found['wrong']} {name}")
            if right is None or wrong is None or right.weighed is None or wrong.weighed is None:
                continue
            was, grams = wrong.weighed.grams, right.weighed.grams
            same = [
                n
                for n, entry in enumerate(draft.lines)
                if entry.ingredient.id == right.ingredient.id
                and entry.number != line.number
                and abs(entry.grams - was) <= _SAME_WEIGHT * was
            ]
            if len(same) == 1:
                old = draft.lines[same[0]]
                draft.lines[same[0]] = replace(
                    old, text=right.text, grams=grams, conversion=right.weighed.conversion
                )
                told = f"'{shown(found.group())}': {grams:.4g} g is counted for that of line {old.number}"
                draft.assume(line, told)
                untaken = f"line {line.number}: '{found['right']}'"
                draft.warnings = [w for w in draft.warnings if not w.startswith(untaken)]
            return
