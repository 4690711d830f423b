"""Every entry of the knowledge, kind by kind, and the parts inside one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from pydantic import BaseModel

from advisor.knowledge_base.entry import Graded
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge, band_key, link_key


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """An entry with the kind and id under which `Knowledge.origin` knows it."""

    kind: str
    name: str
    entry: BaseModel


def all_entries(knowledge: Knowledge) -> Iterator[Named]:
    """Every entry of every file, kind by kind."""
    by_id: dict[str, Mapping[str, BaseModel]] = {
        "ingredient": knowledge.ingredients,
        "unit": knowledge.units,
        "pan size": knowledge.pan_sizes,
        "rescue": knowledge.rescues,
        "influence": knowledge.influences,
        "protein class": knowledge.protein_classes,
        "acid": knowledge.acids,
        "coefficient": knowledge.coefficients,
        "measure": knowledge.measures,
        "structure": knowledge.structures,
        "cause": knowledge.causes,
        "mechanism": knowledge.mechanisms,
        "symptom": knowledge.symptoms,
        "word group": knowledge.word_groups,
        "words for symptom": knowledge.symptom_words,
        "told phrases": knowledge.told_phrases,
        "lever": knowledge.levers,
        "question": knowledge.questions,
        "caution": knowledge.cautions,
        "trait": knowledge.traits,
        "source": knowledge.sources,
        "word": knowledge.glossary,
        "rule": knowledge.rules,
        "retired rule": knowledge.retired,
        "lesson": knowledge.lessons,
        "threshold": knowledge.thresholds,
        "unstated field": knowledge.unstated,
        "gap": knowledge.not_judged,
        "kink": knowledge.kinks,
        "hand slip": knowledge.hand_slips,
        "weighed part": knowledge.weighed_parts,
        "kind": knowledge.kinds,
        "bound": knowledge.sanity,
        "kitchen constant": knowledge.kitchen_constants,
        "mixer": knowledge.mixers,
        "convention": knowledge.net_carb,
        "label line": knowledge.label_parts,
        "part of a dough": knowledge.dough_parts,
        "style": knowledge.styles,
        "baker's formula": knowledge.bakers_formulas,
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


def sources_behind(entry: Ingredient, knowledge: Knowledge) -> tuple[str, ...]:
    """Keys of all sources that an ingredient's figures rest on, with those of its protein classes."""
    cited: dict[str, None] = {entry.per_100g.data_set: None}
    classes = (knowledge.protein_classes[name] for name in entry.protein_classes)
    for part in (part for one in (entry, *classes) for part in parts_of(one)):
        if isinstance(part, Graded):
            cited |= dict.fromkeys(part.sources)
    return tuple(key for key in cited if key in knowledge.sources)
