"""A phrase as words: what carries no meaning left out, what is denied marked, clauses told apart."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from advisor.knowledge_base.plain_words import bases

LONGEST = 600
"""Letters of a phrase that are read; the clues of one fault lie close together."""
_SENTENCE = re.compile(r"[.;!?\n]+")
_CLAUSE = re.compile(
    r",|:|\s-+\s|[–—()]|\b(?:and|but|then|though|although|however|yet|plus|whereas|while|because)\b"
)
_WORD = re.compile(r"[^\W_]+")


def _listed(*lines: str) -> frozenset[str]:
    return frozenset(word for line in lines for word in line.split())


DENYING = _listed(
    "not no never didnt doesnt dont wasnt isnt wont wouldnt couldnt cant cannot hasnt havent hadnt arent werent aint",
    "without nor neither hardly barely scarcely none lacks lacking lacked zero",
    "fail fails failed refuse refuses refused nt didn doesn wasn isn wouldn couldn hasn",
)
_EMPTY = _listed(
    "a an the my your its it this that these those be is was were are am been being i im ive we you he she they",
    "me us our their there here also even kind sort kinda sorta got get gets getting have has had having does",
    "will would could should can may might which who what with loaf loaves bread breads again always every time",
    "for by seem seems seemed abit literally actually honestly t s m d ll ve re u ur",
)
FILLING = _listed(
    "to do did like as of than bit more just so very really quite rather pretty super how lot lots much all whole",
    "some any only totally completely absolutely",
)
"""Words that may stand inside any phrase, and that a clue may ask for: "like a tin" is no tin."""
_NOT_DENYING = re.compile(
    r"\b(?:not|never) (?:only|just|to mention|know|guess)\b"
    r"|\bno (?:matter|problem|idea|clue|doubt|wonder)\b|\bnever mind\b"
)
_REACH = 4
"""Words after a "not" that it may deny: "not at all burnt"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidWord:
    """One word that carries meaning: as written, its simpler forms, where it stands, and whether it is denied.

    `likeness` words only say what something is like: after "like", and after the second "as" of "as soft as a sock".
    """

    text: str
    forms: frozenset[str]
    clause: int
    sentence: int
    filling: bool
    denied: bool
    likeness: bool


@lru_cache(maxsize=8192)  # a phrase repeats the words of the clues
def forms_of(word: str) -> frozenset[str]:
    """Give a word and the simpler ones it may come from; "uneven" is no form of "even", nor "tasteless" of "taste"."""
    if word.endswith("less"):
        return frozenset({word})
    return frozenset(form for form in bases(word) if form.startswith("un") or not word.startswith("un"))


def plain_tokens(text: str) -> list[str]:
    """Give the words of a phrase or clue in small letters, without those that carry no meaning."""
    return [word for word in _tokens(text) if word not in _EMPTY]


def said_words(text: str, mend: Callable[[str], str]) -> tuple[SaidWord, ...]:
    """Read a phrase; `mend` gives the known word for a misspelt one, or the word itself."""
    return tuple(_words(text[:LONGEST], mend))


def parts_of(text: str, subjects: frozenset[str]) -> tuple[str, ...]:
    """Give the clauses of a phrase, which may each tell another fault; one without a subject keeps that before it.

    "Dough was slack and sticky" is ("dough was slack", "dough sticky"). `subjects` are what anything is said of.
    """
    out, said_of = [], ""
    for _, clause in _clauses(text[:LONGEST]):
        words = _tokens(clause)
        named = [word for word in words if forms_of(word) & subjects]
        if set(words) - _EMPTY - FILLING - set(named) - {"on"}:  # "black on top and sides" says one thing
            out.append(clause.strip() if named or not said_of else f"{said_of} {clause.strip()}")
            said_of = named[-1] if named else said_of
    return tuple(out)


def _clauses(text: str) -> Iterator[tuple[int, str]]:
    """Give each clause with the place of its sentence."""
    for sentence, part in enumerate(_SENTENCE.split(_level(text))):
        for clause in _CLAUSE.split(part):
            yield sentence, clause


def _words(text: str, mend: Callable[[str], str]) -> Iterator[SaidWord]:
    for clause, (sentence, words) in enumerate(_clauses(text)):
        since: list[int] = []  # how many words ago each "not" of this clause stood
        likened = 0
        for token in _tokens(words):
            if token in DENYING:
                since.append(0)
            if token in DENYING or token in _EMPTY:
                continue
            word = token if token in FILLING else mend(token)
            near = [n for n in since if n < _REACH]
            filling = token in FILLING
            yield SaidWord(
                text=word,
                forms=forms_of(word),
                clause=clause,
                sentence=sentence,
                filling=filling,
                denied=len(near) % 2 == 1,  # "can't cut it without it crumbling" says that it crumbles
                likeness=likened > 1,
            )
            likened += {"like": 2, "as": 1}.get(token, 0)
            if not filling:
                since = [n + 1 for n in since]


def _level(text: str) -> str:
    return _NOT_DENYING.sub(" ", text.replace("’", "'").replace("'", "").casefold())


def _tokens(text: str) -> list[str]:
    return _WORD.findall(text.replace("’", "'").replace("'", "").casefold())
