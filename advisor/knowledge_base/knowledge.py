"""Everything the assistant knows, loaded once into one frozen object."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel

from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.graph_entries import Cause, Link, Mechanism, Symptom
from advisor.knowledge_base.influence import Influence
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.kind_entries import Kind
from advisor.knowledge_base.kitchen_entries import KitchenConstant
from advisor.knowledge_base.label_entries import LabelPart, NetCarbConvention
from advisor.knowledge_base.lesson_entries import Lesson
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.measured import (
    Acid,
    Band,
    Coefficient,
    MeasureEntry,
    Mixer,
    PanSize,
    ProteinClassEntry,
    Structure,
    Unit,
)
from advisor.knowledge_base.phrase_entries import SymptomWords, ToldPhrases, WordGroup
from advisor.knowledge_base.places import Places
from advisor.knowledge_base.plain_words import read_plain_words
from advisor.knowledge_base.reading import read_entries
from advisor.knowledge_base.rule_entries import Lever, RetiredRule, Rule
from advisor.knowledge_base.sanity_entries import Bound
from advisor.knowledge_base.style_entries import DoughPart, Style
from advisor.knowledge_base.texts import (
    Caution,
    Gap,
    GlossaryWord,
    HandSlip,
    Kink,
    Question,
    Rescue,
    Source,
    Threshold,
    Trait,
    Unstated,
    WeighedPart,
)

E = TypeVar("E", bound=BaseModel)
Origin = tuple[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Knowledge:
    """All entries by id, in the order of their files; `origin` tells where each stands."""

    ingredients: Mapping[str, Ingredient]
    units: Mapping[str, Unit]
    protein_classes: Mapping[str, ProteinClassEntry]
    acids: Mapping[str, Acid]
    coefficients: Mapping[str, Coefficient]
    measures: Mapping[str, MeasureEntry]
    structures: Mapping[str, Structure]
    bands: tuple[Band, ...]
    causes: Mapping[str, Cause]
    mechanisms: Mapping[str, Mechanism]
    symptoms: Mapping[str, Symptom]
    links: tuple[Link, ...]
    levers: Mapping[str, Lever]
    questions: Mapping[str, Question]
    cautions: Mapping[str, Caution]
    traits: Mapping[str, Trait]
    sources: Mapping[str, Source]
    glossary: Mapping[str, GlossaryWord]
    rules: Mapping[str, Rule]
    retired: Mapping[str, RetiredRule]
    formulas: Mapping[str, Path]
    origin: Mapping[tuple[str, str], Origin] = field(repr=False)
    pan_sizes: Mapping[str, PanSize] = field(default_factory=dict)
    lessons: Mapping[str, Lesson] = field(default_factory=dict)
    rescues: Mapping[str, Rescue] = field(default_factory=dict)
    thresholds: Mapping[str, Threshold] = field(default_factory=dict)
    unstated: Mapping[str, Unstated] = field(default_factory=dict)
    not_judged: Mapping[str, Gap] = field(default_factory=dict)
    kinds: Mapping[str, Kind] = field(default_factory=dict)
    kinks: Mapping[str, Kink] = field(default_factory=dict)
    hand_slips: Mapping[str, HandSlip] = field(default_factory=dict)
    weighed_parts: Mapping[str, WeighedPart] = field(default_factory=dict)
    sanity: Mapping[str, Bound] = field(default_factory=dict)
    dough_parts: Mapping[str, DoughPart] = field(default_factory=dict)
    styles: Mapping[str, Style] = field(default_factory=dict)
    influences: Mapping[str, Influence] = field(default_factory=dict)
    word_groups: Mapping[str, WordGroup] = field(default_factory=dict)
    symptom_words: Mapping[str, SymptomWords] = field(default_factory=dict)
    told_phrases: Mapping[str, ToldPhrases] = field(default_factory=dict)
    kitchen_constants: Mapping[str, KitchenConstant] = field(default_factory=dict)
    mixers: Mapping[str, Mixer] = field(default_factory=dict)
    net_carb: Mapping[str, NetCarbConvention] = field(default_factory=dict)
    label_parts: Mapping[str, LabelPart] = field(default_factory=dict)
    plain_words: frozenset[str] = field(default=frozenset(), repr=False)

    def coefficient(self, name: str) -> float:
        """Give a constant's value; an unknown name is a bug and says what is near.

        Raises:
            KeyError: no such coefficient.
        """
        if (entry := self.coefficients.get(name)) is None:
            near = nearest(name, self.coefficients)
            raise KeyError(f"no coefficient '{name}'; near: {', '.join(near)}")
        return entry.value

    def where(self, kind: str, name: str) -> str:
        """Give ``file:line`` of an entry, for messages and proofs."""
        file, line = self.origin.get((kind, name), ("?", 0))
        return f"{file}:{line}"


class _Shelf:
    """Reads files kind by kind and gathers every fault before it complains."""

    def __init__(self, places: Places) -> None:
        self.places = places
        self.origin: dict[tuple[str, str], Origin] = {}
        self.faults: list[Finding] = []

    def entries(self, paths: Iterable[Path], model: type[E]) -> list[tuple[E, str, int]]:
        out: list[tuple[E, str, int]] = []
        for path in paths:
            shown = self.places.show(path)
            try:
                out += [(entry, shown, line) for entry, line in read_entries(path, shown, model)]
            except KnowledgeFault as fault:
                self.faults += fault.findings
        return out

    def by_id(
        self, kind: str, paths: Iterable[Path], model: type[E], key: Callable[[E], str]
    ) -> dict[str, E]:
        out: dict[str, E] = {}
        for entry, shown, line in self.entries(paths, model):
            name = key(entry)
            if (first := self.origin.get((kind, name))) is not None:
                message = f"the {kind} '{name}' stands already at {first[0]}:{first[1]}"
                self.faults.append(Finding(file=shown, line=line, check="unique", message=message))
            else:
                self.origin[(kind, name)] = (shown, line)
                out[name] = entry
        return out

    def in_order(
        self, kind: str, paths: Iterable[Path], model: type[E], key: Callable[[E], str]
    ) -> tuple[E, ...]:
        return tuple(self.by_id(kind, paths, model, key).values())


def band_key(band: Band) -> str:
    """Name a band: its measure and the structures that it serves."""
    return f"{band.measure}@{'+'.join(band.structures)}"


def link_key(link: Link) -> str:
    """Name a link by its two ends."""
    return f"{link.start}>{link.to}"


def _plain_words(path: Path) -> frozenset[str]:
    return read_plain_words(path).as_written if path.is_file() else frozenset()


def read_knowledge(places: Places, *, whole: bool = True) -> Knowledge:
    """Read every file of knowledge/ and rules/; where it need not be `whole`, a file that is not there holds nothing.

    Raises:
        KnowledgeFault: with every finding of every file, in one go.
    """
    top = places.knowledge
    shelf = _Shelf(places)

    def one(name: str) -> list[Path]:
        path = top / f"{name}.yaml"
        return [path] if whole or path.is_file() else []

    def named(model: type[E], name: str, kind: str) -> dict[str, E]:
        return shelf.by_id(kind, one(name), model, lambda entry: str(entry.id))  # type: ignore[attr-defined]

    rules = places.rules.glob("*/*.yaml") if whole else places.rules.rglob("*.yaml")
    rule_files = sorted(p for p in rules if p.name != "retired.yaml")
    retired_files = sorted(places.rules.glob("*/retired.yaml"))
    ingredients = shelf.by_id(
        "ingredient", sorted((top / "ingredients").glob("*.yaml")), Ingredient, lambda e: e.id
    )
    knowledge = Knowledge(
        ingredients=ingredients,
        units=named(Unit, "units", "unit"),
        protein_classes=named(ProteinClassEntry, "protein_classes", "protein class"),
        acids=named(Acid, "acids", "acid"),
        coefficients=named(Coefficient, "coefficients", "coefficient"),
        measures=named(MeasureEntry, "measures", "measure"),
        structures=named(Structure, "structures", "structure"),
        bands=shelf.in_order("band", one("bands"), Band, band_key),
        causes=named(Cause, "causes", "cause"),
        mechanisms=named(Mechanism, "mechanisms", "mechanism"),
        symptoms=named(Symptom, "symptoms", "symptom"),
        links=shelf.in_order("link", one("links"), Link, link_key),
        levers=named(Lever, "levers", "lever"),
        questions=named(Question, "questions", "question"),
        cautions=named(Caution, "cautions", "caution"),
        traits=named(Trait, "traits", "trait"),
        sources=shelf.by_id("source", one("sources"), Source, lambda e: e.key),
        glossary=shelf.by_id("word", one("glossary"), GlossaryWord, lambda e: e.word.lower()),
        rules=shelf.by_id("rule", rule_files, Rule, lambda e: e.id),
        retired=shelf.by_id("retired rule", retired_files, RetiredRule, lambda e: e.id),
        formulas={p.stem: p for p in sorted((top / "formulas").glob("*.txt"))},
        origin=shelf.origin,
        pan_sizes=shelf.by_id(
            "pan size", [p for p in one("pan_sizes") if p.is_file()], PanSize, lambda e: e.id
        ),
        lessons=shelf.by_id("lesson", sorted((top / "lessons").glob("*.yaml")), Lesson, lambda e: e.id),
        influences=shelf.by_id(
            "influence", sorted((top / "influences").glob("*.yaml")), Influence, lambda e: e.id
        ),
        rescues=shelf.by_id("rescue", [p for p in one("rescues") if p.is_file()], Rescue, lambda e: e.id),
        thresholds=shelf.by_id(
            "threshold", [p for p in one("thresholds") if p.is_file()], Threshold, lambda e: e.id
        ),
        kinks=shelf.by_id("kink", [p for p in one("known_jumps") if p.is_file()], Kink, lambda e: e.id),
        hand_slips=shelf.by_id(
            "hand slip", [p for p in one("hand_slips") if p.is_file()], HandSlip, lambda e: e.id
        ),
        weighed_parts=shelf.by_id(
            "weighed part", [p for p in one("weighed_parts") if p.is_file()], WeighedPart, lambda e: e.id
        ),
        kinds=shelf.by_id("kind", [p for p in one("kinds") if p.is_file()], Kind, lambda e: e.id),
        sanity=shelf.by_id("bound", [p for p in one("sanity") if p.is_file()], Bound, lambda e: e.id),
        dough_parts=shelf.by_id(
            "part of a dough", [p for p in one("dough_parts") if p.is_file()], DoughPart, lambda e: e.id
        ),
        styles=shelf.by_id("style", [p for p in one("styles") if p.is_file()], Style, lambda e: e.id),
        not_judged=shelf.by_id("gap", [p for p in one("not_judged") if p.is_file()], Gap, lambda e: e.id),
        unstated=shelf.by_id(
            "unstated field", [p for p in one("unstated") if p.is_file()], Unstated, lambda e: e.id
        ),
        word_groups=shelf.by_id(
            "word group", [p for p in one("word_groups") if p.is_file()], WordGroup, lambda e: e.id
        ),
        symptom_words=shelf.by_id(
            "words for symptom",
            [p for p in one("symptom_words") if p.is_file()],
            SymptomWords,
            lambda e: e.symptom,
        ),
        told_phrases=shelf.by_id(
            "told phrases", [p for p in one("told_phrases") if p.is_file()], ToldPhrases, lambda e: e.id
        ),
        kitchen_constants=shelf.by_id(
            "kitchen constant",
            [p for p in one("kitchen_constants") if p.is_file()],
            KitchenConstant,
            lambda e: e.id,
        ),
        mixers=shelf.by_id("mixer", [p for p in one("mixers") if p.is_file()], Mixer, lambda e: e.id),
        net_carb=shelf.by_id(
            "convention", [p for p in one("net_carb") if p.is_file()], NetCarbConvention, lambda e: e.id
        ),
        label_parts=shelf.by_id(
            "label line", [p for p in one("label_parts") if p.is_file()], LabelPart, lambda e: e.id
        ),
        plain_words=_plain_words(top / "plain_words.txt"),
    )
    if shelf.faults:
        raise KnowledgeFault(tuple(sorted(shelf.faults)))
    return knowledge
