"""How bakers say what they saw: groups of words that mean one thing, and the clues by which a symptom is heard."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field

from advisor.knowledge_base.entry import Graded, Id, Text, Words


class WordGroup(Graded):
    """Words and short phrases for one thing; `shared` where they only say where, when or by which sense."""

    id: Id
    words: Annotated[tuple[Words, ...], Field(min_length=2)]
    shared: bool = False


class SymptomWords(Graded):
    """Clues for one symptom by what they are worth; knowledge/symptom_words.yaml tells how a clue is written."""

    symptom: Id
    clear: Annotated[tuple[Words, ...], Field(min_length=1)]
    likely: tuple[Words, ...] = ()
    hint: tuple[Words, ...] = ()
    against: tuple[Words, ...] = ()


class ToldPhrases(Graded):
    """What one writer said in plain words, and the symptoms that each phrase means; none for no fault."""

    id: Id
    said: Mapping[Text, tuple[Id, ...]]
