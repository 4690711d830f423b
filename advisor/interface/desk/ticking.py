"""Symptoms ticked by number or by word: what the list looks like, and what a typed line means."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.diagnosis.phrases import PhraseReader
from advisor.explanation.blocks import Item
from advisor.explanation.quantities import runs_of
from advisor.interface.desk.showing import plain_lines
from advisor.knowledge_base.graph_entries import Symptom
from advisor.knowledge_base.likeness import nearest

_ALIKE = 55.0
"""Likeness (0 to 100) from which a name is offered for a misspelt one."""
_SHORTEST = 2
_NUMBER = re.compile(r"-?[0-9]{1,6}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticks:
    """What a typed line ticks and takes back (places from 0), and what of it was not understood, in sentences."""

    on: tuple[int, ...] = ()
    off: tuple[int, ...] = ()
    doubts: tuple[str, ...] = ()


def pages_of(symptoms: Sequence[Symptom], rows: int) -> list[list[str]]:
    """Lay out the list, one line a symptom where it fits, in pages of at most so many rows.

    A symptom is never split between pages.
    """
    pages: list[list[str]] = [[]]
    for place, symptom in enumerate(symptoms, 1):
        entry = Item(label=f"{place}", runs=runs_of(f"{symptom.name}: {symptom.says}"))
        lines = plain_lines((entry,), 3 - len(entry.label))
        if pages[-1] and len(pages[-1]) + len(lines) > rows:
            pages.append([])
        pages[-1] += lines
    return pages


def read_ticks(typed: str, symptoms: Sequence[Symptom], reader: PhraseReader) -> Ticks:
    """Understand a line such as `4 9`, `gummy centre, 12`, `it sank as it cooled` or `-4`, which takes back."""
    on: list[int] = []
    off: list[int] = []
    doubts: list[str] = []
    for part in re.split(r"[,;]", typed):
        words: list[str] = []
        for word in part.split():
            if not _NUMBER.fullmatch(word):
                words.append(word)
            elif 1 <= abs(int(word)) <= len(symptoms):
                (off if word.startswith("-") else on).append(abs(int(word)) - 1)
            else:
                doubts.append(f"There is no number {word}: they go from 1 to {len(symptoms)}.")
        if words:
            _read_words(" ".join(words), symptoms, reader, on, doubts)
    return Ticks(on=tuple(dict.fromkeys(on)), off=tuple(dict.fromkeys(off)), doubts=tuple(doubts))


def _read_words(
    phrase: str, symptoms: Sequence[Symptom], reader: PhraseReader, on: list[int], doubts: list[str]
) -> None:
    exact = [n for n, s in enumerate(symptoms) if _words(phrase) in (_words(s.name), _words(s.id))]
    heard = reader.hear(phrase)
    places = {s.id: place for place, s in enumerate(symptoms)}
    taken = exact or [places[name] for name in heard.taken if name in places]
    found = taken or [places[s] for s in dict.fromkeys(itertools.chain(*heard.choices)) if s in places]
    found = found or ([] if heard.denied else _called(phrase, symptoms))
    if taken or len(found) == 1:
        on += found
    elif heard.denied and not found:
        names = ", ".join(symptoms[places[s]].name for s in heard.denied if s in places)
        doubts.append(f"'{phrase[:40]}': read as no {names}; nothing is ticked for it.")
    elif found:
        several = ", ".join(f"{place + 1} {symptoms[place].name}" for place in found[:6])
        doubts.append(f"'{phrase[:40]}' may be: {several}. Give the number.")
    else:
        near = ", ".join(f"{place + 1} {symptoms[place].name}" for place in _nearest(phrase, symptoms))
        doubts.append(f"No symptom fits '{phrase[:40]}'{f'; near: {near}.' if near else '.'}")


def _nearest(phrase: str, symptoms: Sequence[Symptom]) -> list[int]:
    """Give at most three places whose name or id is spelt most like the phrase, best first."""
    names = {" ".join(_words(text)): place for place, s in enumerate(symptoms) for text in (s.id, s.name)}
    return list(dict.fromkeys(names[name] for name in nearest(phrase.lower(), names, 5, _ALIKE)))[:3]


def _called(phrase: str, symptoms: Sequence[Symptom]) -> list[int]:
    """Give the places whose name is the phrase, else whose name or id holds its words, else whose sentences do."""
    wanted = _words(phrase)
    for exactly in (True, False):
        found = [
            place
            for place, s in enumerate(symptoms)
            for name in (_words(s.name), _words(s.id))
            if (wanted == name if exactly else _holds(name, wanted))
        ]
        if found:
            return list(dict.fromkeys(found))
    return [n for n, s in enumerate(symptoms) if _holds(_words(f"{s.name} {s.says} {s.question}"), wanted)]


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.lower())


def _holds(words: Sequence[str], wanted: Sequence[str]) -> bool:
    """Every wanted word begins one of the words: `crumb` finds `crumbly`; a letter or two are no word."""
    return (
        bool(wanted)
        and all(len(one) > _SHORTEST for one in wanted)
        and all(any(word.startswith(one) for word in words) for one in wanted)
    )
