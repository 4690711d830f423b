"""Clues by which a symptom is heard, made of the words of knowledge/, and where they are met in a phrase.

A term is a phrase or a group of words; the terms of a clue stand in one clause of the sentence, in any order, or, with
"..." between them, one after the other anywhere in it. Words that carry no meaning are left out on both sides, and one
other word may stand inside a phrase: "stuck to my best knife" holds "stuck knife".
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.phrases.said_words import DENYING, SaidWord, plain_tokens
from advisor.knowledge_base.phrase_entries import WordGroup

_TERM = re.compile(r"(?:not )?<[a-z_]+>|(?:(?!not <)[^+<])+")
PRAISE, TURNING = "pleased", "turning"
"""Groups that no clue names: words of a baker who is content, and those after which the fault comes all the same."""
SUBJECTS = ("crumb", "bottom", "top", "side", "crust", "taste", "smell", "dough")
"""Groups of what anything is said of: a clause without one speaks of what the clause before it named."""
_INSIDE = 1
"""Other words that may stand inside a phrase of several words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """Phrases of which one must be met, each as its words and whether it must be denied."""

    phrases: tuple[tuple[tuple[str, ...], bool], ...]
    shared: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Clue:
    """Terms that speak for a symptom when all are met; `in_order` where they need not share a clause."""

    terms: tuple[Term, ...]
    in_order: bool
    worth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """A clue met in a phrase: places of its words, and of those that no other symptom may use; its clauses."""

    clue: Clue
    places: frozenset[int]
    own: frozenset[int]
    clauses: frozenset[int]
    torn: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    places: tuple[int, ...]
    denied: bool


class PhraseWords:
    """The words of one phrase, asked again and again where a phrase of a clue stands in them."""

    def __init__(self, words: Sequence[SaidWord]) -> None:
        self.words = words
        self._forms = frozenset(form for word in words for form in word.forms)
        self._terms: dict[tuple[int, bool], tuple[_Span, ...]] = {}

    def met(self, clue: Clue, *, denied: bool = False) -> Met | None:
        """Give the closest place where a clue is met; `denied` asks for it with every term denied instead."""
        found = [self._spans(term, denied) for term in clue.terms]
        if not all(found):
            return None
        best: tuple[int, Met] | None = None
        for spans in itertools.islice(itertools.product(*found), 64):
            met = self._joined(clue, spans)
            if met is not None and (best is None or _width(met) < best[0]):
                best = (_width(met), met)
        return best[1] if best else None

    def likeness_beside(self, own: frozenset[int]) -> frozenset[int]:
        """Give the words that only say what that is like which `own` says: "sticks like wallpaper paste"."""
        said = {self.words[place].clause for place in own if not self.words[place].likeness}
        return frozenset(n for n, word in enumerate(self.words) if word.likeness and word.clause in said)

    def only_likened(self, own: frozenset[int]) -> bool:
        """Say whether these words only say what something is like."""
        return all(self.words[place].likeness for place in own)

    def _joined(self, clue: Clue, spans: Sequence[_Span]) -> Met | None:
        places = [place for span in spans for place in span.places]
        if len(set(places)) < len(places) or len({self.words[place].sentence for place in places}) > 1:
            return None
        if clue.in_order and any(a.places[-1] >= b.places[0] for a, b in itertools.pairwise(spans)):
            return None
        clauses = frozenset(self.words[place].clause for place in places)
        own = [
            p for span, term in zip(spans, clue.terms, strict=True) if not term.shared for p in span.places
        ]
        return Met(
            clue=clue,
            places=frozenset(places),
            own=frozenset(own or places),
            clauses=clauses,
            torn=not clue.in_order and len(clauses) > 1,
        )

    def _spans(self, term: Term, denied: bool) -> tuple[_Span, ...]:
        if (known := self._terms.get((id(term), denied))) is None:
            known = tuple(self._find(term, denied))
            self._terms[(id(term), denied)] = known  # a term lives as long as the reader that made it
        return known

    def _find(self, term: Term, denied: bool) -> Iterator[_Span]:
        for phrase, wants_denied in term.phrases:
            if not all(word in self._forms for word in phrase):
                continue
            for start in range(len(self.words)):
                span = self._from(start, phrase)
                if span is not None and span.denied == (wants_denied != denied):
                    yield span

    def _from(self, start: int, phrase: Sequence[str]) -> _Span | None:
        """Lay a phrase on the words from one place on."""
        places: list[int] = []
        here, skipped = start, 0
        for word in phrase:
            while here < len(self.words) and word not in self.words[here].forms:
                skipped += not self.words[here].filling
                if not places or skipped > _INSIDE:
                    return None
                here += 1
            if here == len(self.words):
                return None
            places.append(here)
            here += 1
        same = len({self.words[place].clause for place in places}) == 1
        return _Span(places=tuple(places), denied=self.words[places[-1]].denied) if same else None


def _width(met: Met) -> int:
    return max(met.places) - min(met.places) + (100 if met.torn else 0)


def terms_of_groups(groups: Mapping[str, WordGroup]) -> dict[str, Term]:
    """Give the term of each group as a clue writes it, `<group>` and `not <group>`."""
    terms = {}
    for name, group in groups.items():
        plain = [word for word in group.words if not word.startswith("not ")]
        terms[f"<{name}>"] = Term(phrases=tuple(_phrase(word) for word in group.words), shared=group.shared)
        terms[f"not <{name}>"] = Term(phrases=tuple(_phrase(f"not {w}") for w in plain), shared=group.shared)
    return terms


def read_clue(text: str, worth: float, groups: Mapping[str, Term]) -> Clue:
    """Read one clue as it is written in knowledge/.

    Raises:
        KeyError: a group that knowledge/word_groups.yaml does not have.
        ValueError: a term without a word that carries meaning.
    """
    in_order = "..." in text
    parts = [found.group().strip() for found in _TERM.finditer(text.replace("...", "+"))]
    terms = tuple(groups[p] if "<" in p else Term(phrases=(_phrase(p),), shared=False) for p in parts if p)
    if not all(words for term in terms for words, _ in term.phrases):
        raise ValueError(f"'{text}' holds no word to listen for")
    return Clue(terms=terms, in_order=in_order, worth=worth)


def _phrase(text: str) -> tuple[tuple[str, ...], bool]:
    words = plain_tokens(text)
    denied = bool(words) and words[0] in DENYING
    return tuple(words[1:] if denied else words), denied


def words_of(clue: Clue) -> Iterator[str]:
    """Give every word that a clue listens for."""
    for term in clue.terms:
        for phrase, _ in term.phrases:
            yield from phrase
