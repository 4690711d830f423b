"""Where the checks write down what they find, each with the place of its entry and the nearest spelling."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from pydantic import BaseModel

from advisor.knowledge_base.faults import Finding
from advisor.knowledge_base.knowledge import Knowledge, band_key, link_key
from advisor.knowledge_base.places import Places

ProcessFields = Mapping[str, frozenset[str] | None]
"""Process field to the words it may hold; `None` for a number, an empty set for any word."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """An entry with the kind and id under which `Knowledge.origin` knows it."""

    kind: str
    name: str
    entry: BaseModel


@dataclass(slots=True, kw_only=True)
class Report:
    """What is checked, and the findings so far."""

    knowledge: Knowledge
    places: Places
    process: ProcessFields | None = None
    """`None` where the caller does not know the process; its names are then not checked."""
    read_by_code: frozenset[str] | None = None
    """Words of the program, among them traits and coefficients that models read; `None` where not known."""
    traits_of_words: frozenset[str] | None = None
    """Traits that words of a formula ("melted", "grated") set on an ingredient; `None` where not known."""
    findings: list[Finding] = field(default_factory=list)

    def add(self, kind: str, name: str, check: str, message: str) -> None:
        """Write down a finding on one entry."""
        file, line = self.knowledge.origin.get((kind, name), ("?", 0))
        self.findings.append(Finding(file=file, line=line, check=check, message=f"{name}: {message}"))

    def refer(self, kind: str, name: str, what: str, target: str, known: Collection[str]) -> bool:
        """Say whether `target` is known; where it is not, write that down with the nearest spelling."""
        if target in known:
            return True
        near = difflib.get_close_matches(target, sorted(known), n=1)
        hint = f"; did you mean '{near[0]}'?" if near else ""
        self.add(kind, name, "reference", f"no {what} '{target}'{hint}")
        return False


def all_entries(knowledge: Knowledge) -> Iterator[Named]:
    """Every entry of every file, kind by kind."""
    by_id: dict[str, Mapping[str, BaseModel]] = {
        "ingredient": knowledge.ingredients,
        "unit": knowledge.units,
        "pan size": knowledge.pan_sizes,
        "rescue": knowledge.rescues,
        "protein class": knowledge.protein_classes,
        "acid": knowledge.acids,
        "coefficient": knowledge.coefficients,
        "measure": knowledge.measures,
        "structure": knowledge.structures,
        "cause": knowledge.causes,
        "mechanism": knowledge.mechanisms,
        "symptom": knowledge.symptoms,
        "lever": knowledge.levers,
        "question": knowledge.questions,
        "caution": knowledge.cautions,
        "trait": knowledge.traits,
        "source": knowledge.sources,
        "word": knowledge.glossary,
        "rule": knowledge.rules,
        "retired rule": knowledge.retired,
        "lesson": knowledge.lessons,
    }
    for kind, entries in by_id.items():
        for name, entry in entries.items():
            yield Named(kind=kind, name=name, entry=entry)
    for band in knowledge.bands:
        yield Named(kind="band", name=band_key(band), entry=band)
    for link in knowledge.links:
        yield Named(kind="link", name=link_key(link), entry=link)


def parts_of(value: object) -> Iterator[BaseModel]:
    """An entry and every entry inside it (its figures, its composition, its conditions)."""
    if isinstance(value, BaseModel):
        yield value
        for name in type(value).model_fields:
            yield from parts_of(getattr(value, name))
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from parts_of(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from parts_of(inner)
