"""From a written name to an ingredient: exact once spelling is levelled and states are off; never a guess."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations, product

from advisor.formula.faults import LineFault, UnknownName, shown
from advisor.formula.lines.abbreviated import Meant, Words, meant_by
from advisor.formula.lines.states import Span, denies, plain_spans, state_spans
from advisor.formula.spelling import key_of, word_set, words_of
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.likeness import likeness, most_like, nearest, within_letters
from advisor.knowledge_base.plain_words import PlainWords

_MOST_LOOSE = 7
_SHORTEST_MENDED = 4
_SHORTEST_ALONE = 5
"""Letters below which a word that stands alone is another word as easily: keep is no kelp."""
_LONG = 9
"""Letters from which a word may be two letters off: "erithrytol"."""
_MOST_WAYS = 4
_OFTEN = 2
"""Names in which a word has to stand for a misspelt word to be taken for it; sorbet is no Sorbit."""
_MOST_WORDS_MENDED = 6
_NEARLY = 85.0
"""Likeness (0 to 100) from which the end of a first line is taken for a misspelt ingredient, not for a title."""
_LEAST_OFFERED = 68.0
"""Likeness (0 to 100) below which a name is no help to the writer: quark is not guar gum."""
_MEANT = 70.0
"""Likeness (0 to 100) from which a name that is counted by its kind is asked first: silium husks, psyllium husks."""
_LEAST_LETTERS = 4
_PERCENT = re.compile(r"[0-9.]+\s?%(?:\s?fat)?")
_NO_FOOD = word_set(
    """
    batter better bitter make then than them there take have used need with this that they what when were
    from your more most some each half till into over just like give good best here rest bake cook time last
    first next form work rise roll fold cool hour mins tray loaf shape slice piece pieces makes minute
    minutes later after before about until still wait left leave dough batch bread little sheet stand lined
    cover covered hands total weight would could should really think maybe gel core vent div vol bench heap
    heaps mound mounds blob blobs dollop dollops
    """
)
"""Words that are no misspelt food, however near one is spelt: make is no mace."""
_RANKS = ("name", "also", "countable", "counts_for")
"""Kinds of names in the order in which they are believed."""
_MADE_FROM = re.compile(
    r"\s(?:of|with|from|by|containing|using|fermented|raised|made|treated)\s", re.IGNORECASE
)
_TWO = re.compile(r"\+|/|&|\bplus\b|\bor\b|\band\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """The ingredient that a name means, and the states that were taken off the name."""

    ingredient: Ingredient
    states: tuple[tuple[str, ...], ...] = ()
    counts_for: str = ""
    """The food that was written, where it is another one that is only counted as this ingredient."""


def _states_beside_name(words: tuple[str, ...], entry: Ingredient) -> tuple[tuple[str, ...], ...]:
    # "boiling water" is a known name of water, and boiling all the same; "fresh" is part of fresh yeast.
    own = words_of(entry.name)
    if own == words:
        return ()
    own_words = set(own)
    return tuple(words[a:b] for a, b in state_spans(words) if not own_words.issuperset(words[a:b]))


def _is_offered(wanted: str, known: str) -> bool:
    """Tell whether a known name is spelt like a word, or all its words stand in it."""
    inside = len(known) >= _LEAST_LETTERS and set(words_of(known)) <= set(words_of(wanted))
    return inside or likeness(wanted, known) >= _LEAST_OFFERED


class NameIndex:
    """Every name of every ingredient, built once; a lookup costs one dictionary access."""

    def __init__(self, ingredients: Mapping[str, Ingredient], plain_words: Iterable[str] = ()) -> None:
        self._by_key: dict[str, tuple[Ingredient, ...]] = {}
        self._names: dict[str, Ingredient] = {}
        self._words: set[str] = set()
        uses: Counter[str] = Counter()
        self._counted_for = {
            key_of(words_of(food)): food for entry in ingredients.values() for food in entry.counts_for
        }
        self.match = lru_cache(maxsize=2048)(self._match)
        """Matches by name; a kitchen writes the same few dozen names again and again."""
        self.spelt_nearly = lru_cache(maxsize=256)(self._spelt_nearly)
        """Tells whether the last words of a text are nearly the name of an ingredient, misspelt perhaps."""
        for rank in _RANKS:
            found: dict[str, dict[str, Ingredient]] = {}
            for entry in ingredients.values():
                for name in self._names_of(entry, rank):
                    words = words_of(name)
                    self._names.setdefault(name.lower(), entry)
                    self._words.update(words)
                    uses.update(set(words) if rank != "name" else words * _OFTEN)
                    found.setdefault(key_of(words), {})[entry.id] = entry
            for key, entries in found.items():
                self._by_key.setdefault(key, tuple(entries.values()))
        self._known = tuple(self._names)
        self._often = frozenset(word for word, count in uses.items() if count >= _OFTEN)
        self._uses = uses
        self._plain = PlainWords((*plain_words, *_NO_FOOD))
        self._kinds = {words_of(end): entry for entry in ingredients.values() for end in entry.of_kind}

    @staticmethod
    def _names_of(entry: Ingredient, rank: str) -> tuple[str, ...]:
        if rank == "name":
            return (entry.name,)
        if rank == "counts_for":
            return entry.counts_for
        if rank == "also":
            return (*entry.also, *entry.shared_names, entry.id.replace("_", " "))
        # People write "3 whites" and "2 yolks"; one egg has one of each, so the word alone is enough.
        return (entry.countable, entry.countable.split()[-1]) if entry.countable else ()

    def lookup(self, words: tuple[str, ...]) -> Ingredient | None:
        """Give the ingredient of exactly this name.

        Raises:
            LineFault: two ingredients share the name.
        """
        found = self._by_key.get(key_of(words))
        if not found:
            return None
        if len(found) > 1:
            names = " or ".join(f"'{e.name}'" for e in found[:4])
            raise LineFault(
                " ".join(words),
                f"'{shown(' '.join(words))}' can be {names}",
                "write one of them",
                tuple(e.name for e in found[:4]),
            )
        return found[0]

    def _match(self, *orders: str) -> Match | None:
        """Match a name, in any order in which its parts may stand, taking off as few state words as will do.

        "flaxseed, ground" is tried as "ground flaxseed" before "ground" is taken off.
        `None` where nothing fits.
        """
        spelt = [words for words in map(words_of, orders) if words]
        for words in spelt:
            if entry := self.lookup(words):
                return self._matched(words, words, entry)
        return self._without_states(spelt, plain_spans) or self._without_states(spelt, state_spans)

    def _without_states(
        self, spelt: list[Words], spans_in: Callable[[Words], tuple[Span, ...]]
    ) -> Match | None:
        covered = [[i for start, stop in spans_in(words) for i in range(start, stop)] for words in spelt]
        for size in range(1, max(map(len, covered), default=0) + 1):
            for words, loose in zip(spelt, covered, strict=True):
                if size != len(loose) and (size > len(loose) or len(loose) > _MOST_LOOSE):
                    continue
                for gone in combinations(loose, size):
                    rest = tuple(w for i, w in enumerate(words) if i not in gone)
                    if rest and (entry := self.lookup(rest)):
                        return None if denies(words, entry) else self._matched(words, rest, entry)
        return None

    def _matched(self, words: tuple[str, ...], used: tuple[str, ...], entry: Ingredient) -> Match:
        own = {key_of(words_of(name)) for rank in _RANKS[:-1] for name in self._names_of(entry, rank)}
        key = key_of(used)
        return Match(
            ingredient=entry,
            states=_states_beside_name(words, entry),
            counts_for="" if key in own else self._counted_for.get(key, ""),
        )

    def speaks_of_food(self, words: tuple[str, ...]) -> bool:
        """Tell whether any word is part of an ingredient's name, so that leaving it out is doubtful."""
        return any(word in self._words for word in words)

    def match_mended(
        self, name: str, *, measured: bool = False
    ) -> tuple[Match, tuple[tuple[str, str], ...]] | None:
        """Match a name in which a word or two is misspelt: one letter off, or two in a long word.

        Gives what was mended as well. `None` where a word can be mended in two ways that are two ingredients, or in
        none; a short word is never mended, since it is another word as easily; one of four letters is where it was
        `measured`: "280 ml wter".
        """
        written = words_of(name)
        least = _SHORTEST_MENDED if measured else _SHORTEST_ALONE
        if len(written) > _MOST_WORDS_MENDED or sum(map(len, written)) < least:
            return None
        ways = [self._mended(word) for word in written]
        if not any(way != (word,) for way, word in zip(ways, written, strict=True)) or not all(ways):
            return None
        found: dict[str, tuple[Match, tuple[str, ...]]] = {}
        for words in product(*ways):
            match = self.match(" ".join(words))
            if match is not None and not match.counts_for:  # another food counted as it: two steps too far
                found.setdefault(match.ingredient.id, (match, words))
        if len(found) != 1:
            return None
        ((match, words),) = found.values()
        return match, tuple((a, b) for a, b in zip(written, words, strict=True) if a != b)

    def _mended(self, word: str) -> tuple[str, ...]:
        """Give the word itself where it is known or short, else the known words that it may be."""
        if len(word) < _SHORTEST_MENDED or word in self._words or word in _NO_FOOD or state_spans((word,)):
            return (word,)
        off = 1 if len(word) < _LONG else 2
        near = within_letters(word, self._often, off)
        return tuple(near[:_MOST_WAYS]) or (word,)

    def short_for(self, name: str) -> Meant | None:
        """Give the names for which one can be short, word for word; another food counted as one comes after them."""
        written = words_of(name)
        if state_spans(written) == ((0, len(written)),):
            return None
        ways = (meant_by(written, names, self._uses, self._plain) for names in self._spelt_out)
        return next(filter(None, ways), None)

    @cached_property
    def _spelt_out(self) -> tuple[Mapping[Words, str], Mapping[Words, str]]:
        """Ingredients by the words of their names, without other foods counted as them, and with them."""
        known = {words: self._names[known].id for known in self._known if (words := words_of(known))}
        return {w: entry for w, entry in known.items() if key_of(w) not in self._counted_for}, known

    def match_ignoring_percent(self, name: str) -> Match | None:
        """Match a name after taking "3.5 % fat" and the like off it; the caller warns."""
        return self.match(_PERCENT.sub(" ", name)) if "%" in name else None

    def match_by_kind(self, name: str) -> Match | None:
        """Match a name that nobody wrote down by its end, which says of what kind it is: "tiger nut flour" is a flour.

        The longest end counts: as an ingredient of that name ("sprouted chickpea flour"), or as the kind. `None` where
        the name does not end in a kind, or says two things. What stands behind "with" or "from" is left out: "sourdough
        fermented with kefir grains".
        """
        name = _MADE_FROM.split(name.strip(), maxsplit=1)[0]
        words = words_of(name)
        ends = [words[at:] for at in range(len(words))]
        if len(words) > _MOST_WORDS_MENDED or _TWO.search(name) or any(c.isdigit() for c in name):
            return None
        if not any(end in self._kinds for end in ends):
            return None
        for end in ends:
            if entry := self._kinds.get(end) or self.lookup(end):
                return Match(ingredient=entry)
        return None

    def is_near_another(self, name: str, kind: Ingredient) -> bool:
        """Tell whether the first word of a name is spelt so like another that a known name may be meant."""
        first, *rest = words_of(name)
        if first in self._words or not rest:
            return False
        for word in nearest(first, self._often, 3, _MEANT):
            match = self.match(" ".join((word, *rest)))
            if match is not None and match.ingredient.id != kind.id:
                return True
        return False

    def nearest(self, name: str, count: int = 3) -> tuple[tuple[str, float], ...]:
        """Give the nearest names, one an ingredient, with their likeness from 0 to 100.

        First those that are spelt alike, then their nearest kin in the same family; none at all where nothing is
        spelt alike, since an offer of something quite different only makes the reader laugh.
        """
        wanted = " ".join(name.lower().split())
        seen: dict[str, tuple[str, float]] = {}
        for words in short.names if (short := self.short_for(name)) else ():
            if entry := self.lookup(words):
                seen.setdefault(entry.id, (entry.name, likeness(wanted, " ".join(words))))
        if seen:
            return tuple(seen.values())[:count]
        for found, score in most_like(wanted, self._known, 12):
            if _is_offered(wanted, found):
                seen.setdefault(self._names[found].id, (self._names[found].name, score))
        if seen and len(seen) < count:
            first = next(iter(seen))
            family = next(entry.family for entry in self._names.values() if entry.id == first)
            kin = [known for known in self._known if self._names[known].family == family]
            for found, score in most_like(wanted, kin, 60):
                seen.setdefault(self._names[found].id, (self._names[found].name, score))
        return tuple(seen.values())[:count]

    def _spelt_nearly(self, text: str) -> bool:
        words = text.lower().split()
        return any(nearest(" ".join(words[at:]), self._known, 1, _NEARLY) for at in range(len(words)))

    def unknown(self, name: str) -> UnknownName:
        """Say that a name is not known, with the nearest; one that is like nothing known gets no offer."""
        near = [n for n, _ in self.nearest(name)]
        offered = f"{', '.join(near[:-1])} or {near[-1]}" if len(near) > 1 else "".join(near)
        do = f"write {offered}, or add it to the ingredients" if offered else "add it to the ingredients"
        if _TWO.search(name):
            do = f"if it is two ingredients, give each its own line; else {do}"
        return UnknownName(name, do, tuple(near))
