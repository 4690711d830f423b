"""By which words a symptom is known, and which symptoms a word or a phrase may mean."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from functools import lru_cache

from advisor.diagnosis.phrases import PhraseReader
from advisor.knowledge_base.graph_entries import Symptom
from advisor.knowledge_base.knowledge import Knowledge


def plain(word: str) -> str:
    """A word as it is looked up: small letters, one space for each sign that joins or parts words."""
    return " ".join(word.replace("_", " ").replace("-", " ").lower().split())


def words_of_symptoms(knowledge: Knowledge) -> dict[str, str]:
    """Give every word by which a symptom is known, in small letters, with the symptom's id."""
    return {
        plain(word): name
        for name, symptom in knowledge.symptoms.items()
        for word in (name, symptom.name, *symptom.also)
    }


def reader_of(knowledge: Knowledge) -> PhraseReader:
    """Give the reader of phrases; it is made once for the same knowledge."""
    return _reader(_ById(knowledge))


def symptoms_meant(wanted: str, knowledge: Knowledge) -> tuple[Symptom, ...]:
    """Give what is called so; then what is heard in the phrase; then what has the words in its description."""
    said = plain(wanted)
    name = words_of_symptoms(knowledge).get(said)
    heard = reader_of(knowledge).hear(said)
    names = (*([name] if name else ()), *heard.taken, *itertools.chain(*heard.choices), *heard.denied)
    holding = [
        s.id for s in knowledge.symptoms.values()
        if said and all(word in f"{s.name} {s.says} {s.question}".lower() for word in said.split())
    ]  # fmt: skip
    return tuple(knowledge.symptoms[n] for n in dict.fromkeys((*names, *holding)))


@dataclass(frozen=True, slots=True)
class _ById:
    """Knowledge that is the same only as itself: its mappings cannot be hashed."""

    knowledge: Knowledge

    def __hash__(self) -> int:
        return id(self.knowledge)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ById) and other.knowledge is self.knowledge


@lru_cache(maxsize=2)  # a process has one knowledge, or two where the user's own ingredients come in
def _reader(known: _ById) -> PhraseReader:
    return PhraseReader(known.knowledge)
