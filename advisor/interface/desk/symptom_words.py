"""Symptoms as bakers call them: by id, by the name that the pages print, or by a common word."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest


def words_of_symptoms(knowledge: Knowledge) -> dict[str, str]:
    """Give every word by which a symptom is known, in small letters, with the symptom's id."""
    return {
        _plain(word): name
        for name, symptom in knowledge.symptoms.items()
        for word in (name, symptom.name, *symptom.also)
    }


def symptom_ids(words: Iterable[str], knowledge: Knowledge) -> list[str]:
    """Give the ids that words stand for.

    Raises:
        InputFault: naming the first word that stands for nothing, and the nearest that do.
    """
    known = words_of_symptoms(knowledge)
    found = []
    for word in words:
        if (name := known.get(_plain(word))) is None:
            near = dict.fromkeys(known[w] for w in nearest(_plain(word), known, 4, least=50))
            some = list(near)[:3] or list(knowledge.symptoms)[:8]
            hint = f"did you mean {' or '.join(some)}?" if near else f"known: {', '.join(some)} ..."
            raise InputFault(f"advisor: no symptom '{shown(word)}'; {hint}")
        found.append(name)
    return found


def _plain(word: str) -> str:
    return " ".join(word.replace("_", " ").replace("-", " ").lower().split())
