"""Symptoms as bakers call them: by id, by the name that the pages print, or in a phrase of their own."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from advisor.diagnosis.symptom_names import plain, reader_of, words_of_symptoms
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge

Chooser = Callable[[str, Sequence[str]], str | None]
"""Given a phrase and the ids that it may mean, gives the one that is meant, or `None`."""

_LONGEST = 2000
_TURNS = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})
"""Bidirectional classes of signs that turn the writing around (Unicode Standard Annex 9)."""
_ALIKE = frozenset({"LATIN", "CYRILLIC", "GREEK"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What phrases say: symptoms seen and denied, phrases of which no symptom was taken, and what to tell the baker."""

    saw: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    in_own_words: tuple[str, ...] = ()
    """Phrases that are no name of a symptom, read or not."""
    notes: tuple[str, ...] = ()


def read_said(words: Iterable[str], knowledge: Knowledge, choose: Chooser | None = None) -> Said:
    """Read names and phrases; `choose` is asked where two or three readings are close, if there is somebody to ask.

    Raises:
        InputFault: a phrase that is empty, that hides what it says, or that is longer than anybody writes.
    """
    known, reader = words_of_symptoms(knowledge), reader_of(knowledge)
    saw: list[str] = []
    denied: list[str] = []
    remarks: list[str] = []
    own: list[str] = []
    notes: list[str] = []
    for phrase in phrases_in(words, known):
        if (name := known.get(plain(phrase))) is not None:
            saw.append(name)
            continue
        if not plain(phrase):
            raise InputFault(f"advisor: no symptom '{phrase}'; 'advisor symptoms' lists them")
        if fault := _hidden(phrase):
            raise InputFault(f"advisor: no symptom '{shown(phrase, 60)}': {fault}")
        own.append(phrase)
        heard = reader.hear(phrase.replace("_", " "))
        saw += heard.taken
        denied += heard.denied
        meant = [f"'{knowledge.symptoms[s].name}'" for s in heard.taken]
        meant += [f"no '{knowledge.symptoms[s].name}'" for s in heard.denied]
        if meant:
            notes.append(f"'{shown(phrase)}': read as {', '.join(meant)}.")
        for group in heard.choices:
            if choose is not None and (answer := choose(phrase, group)) is not None:
                saw.append(answer)
                meant.append(answer)
            elif choose is None:
                either = " or ".join(f"'{knowledge.symptoms[s].name}'" for s in group)
                notes.append(f"'{shown(phrase)}' may mean {either}: say which.")
        if not meant:
            remarks.append(phrase)
        if heard.nothing:
            notes.append(
                f"'{shown(phrase)}': no symptom fits, kept as a remark; 'advisor symptoms' lists them."
            )
    seen = tuple(dict.fromkeys(saw))
    absent = tuple(s for s in dict.fromkeys(denied) if s not in seen)
    return Said(
        saw=seen, not_seen=absent, remarks=tuple(remarks), in_own_words=tuple(own), notes=tuple(notes)
    )


def symptom_ids(words: Iterable[str], knowledge: Knowledge) -> list[str]:
    """Give the ids that names and phrases stand for.

    Raises:
        InputFault: naming the first phrase in which no symptom is heard, or more than one that may be meant.
    """
    said = read_said(words, knowledge)
    if said.remarks:
        unread = said.remarks[0]
        note = next(n for n in said.notes if n.startswith(f"'{shown(unread)}'"))
        raise InputFault(f"advisor: {note}")
    return list(said.saw)


def phrases_in(words: Iterable[str], known: Iterable[str]) -> Iterator[str]:
    """Put single words that are no names back into the phrase that a shell took apart: --saw sunk in the middle."""
    names = frozenset(known)
    run: list[str] = []
    for word in words:
        if " " in word.strip() or "_" in word or "-" in word or not word.strip():
            yield from _one_or_several(run, names)
            run = []
            yield word
        else:
            run.append(word)
    yield from _one_or_several(run, names)


def _one_or_several(run: Sequence[str], names: frozenset[str]) -> Iterator[str]:
    if all(plain(word) in names for word in run):
        yield from run
    elif run:
        yield " ".join(run)


def _hidden(phrase: str) -> str:
    """What keeps a phrase from being read as it looks; empty where nothing does."""
    if len(phrase) > _LONGEST:
        return f"it is longer than {_LONGEST} letters"
    for letter in phrase:
        if not letter.isspace() and (
            unicodedata.category(letter) == "Cc" or unicodedata.bidirectional(letter) in _TURNS
        ):
            return f"it holds the sign U+{ord(letter):04X}, which does not show"
    for word in phrase.split():
        if len({_alphabet(letter) for letter in word if letter.isalpha()} & _ALIKE) > 1:
            return "a word of it mixes letters of two alphabets that look alike"
    return ""


def _alphabet(letter: str) -> str:
    return unicodedata.name(letter, "").partition(" ")[0]
