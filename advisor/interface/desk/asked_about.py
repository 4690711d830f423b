"""From the words of a reader to the cause or the symptom that they name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from advisor.diagnosis.symptom_names import reader_of, words_of_symptoms
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest

About = Literal["cause", "symptom"]


def asked_about(words: str, knowledge: Knowledge) -> tuple[About, str]:
    """Find the cause or symptom that words name, by id or by name.

    Raises:
        InputFault: nothing is called so; the nearest names are offered.
    """
    wanted = " ".join(words.lower().replace("_", " ").replace("-", " ").split())
    names: dict[str, tuple[About, str]] = {}
    kinds: tuple[tuple[About, Mapping[str, str]], ...] = (
        ("cause", {i: c.name for i, c in knowledge.causes.items()}),
        ("symptom", {i: s.name for i, s in knowledge.symptoms.items()}),
    )
    for kind, entries in kinds:
        for key, name in entries.items():
            names.setdefault(key.replace("_", " "), (kind, key))
            names.setdefault(name.lower().replace("-", " "), (kind, key))
    if wanted in names:
        return names[wanted]
    if (symptom := words_of_symptoms(knowledge).get(wanted)) is not None:
        return "symptom", symptom
    holding = {names[n] for n in names if wanted and all(w in n.split() for w in wanted.split())}
    if len(holding) == 1:
        return holding.pop()
    if len(heard := reader_of(knowledge).hear(wanted).taken) == 1:
        return "symptom", heard[0]
    near = list(nearest(wanted, names, 4, least=55)) or sorted(n for n in names)[:3]
    raise InputFault(f"advisor: no cause or symptom is called '{words[:40]}'; near: {', '.join(near)}")
