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
from advisor.knowledge_base.label_entries import LabelPart, NetCarbConvention
from advisor.knowledge_base.lesson_entries import Lesson
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.measured import (
    Acid,
    Band,
    Coefficient,
    KitchenConstant,
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
from advisor.knowledge_base.style_entries import BakersFormula, DoughPart, Style
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
    bakers_formulas: Mapping[str, BakersFormula] = field(default_factory=dict)
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

    def in_files(model: type[E], paths: Iterable[Path], kind: str) -> dict[str, E]:
        return shelf.by_id(kind, paths, model, lambda entry: str(entry.id))  # type: ignore[attr-defined]

    def named(model: type[E], name: str, kind: str) -> dict[str, E]:
        return in_files(model, one(name), kind)

    def there(name: str) -> list[Path]:
        return [path for path in one(name) if path.is_file()]

    def beside(model: type[E], name: str, kind: str) -> dict[str, E]:
        """What a knowledge may do without."""
        return in_files(model, there(name), kind)

    def folder(model: type[E], name: str, kind: str) -> dict[str, E]:
        return in_files(model, sorted((top / name).glob("*.yaml")), kind)

    rules = places.rules.glob("*/*.yaml") if whole else places.rules.rglob("*.yaml")
    rule_files = sorted(p for p in rules if p.name != "retired.yaml")
    retired_files = sorted(places.rules.glob("*/retired.yaml"))
    knowledge = Knowledge(
        ingredients=folder(Ingredient, "ingredients", "ingredient"),
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
        rules=in_files(Rule, rule_files, "rule"),
        retired=in_files(RetiredRule, retired_files, "retired rule"),
        formulas={p.stem: p for p in sorted((top / "formulas").glob("*.txt"))},
        origin=shelf.origin,
        pan_sizes=beside(PanSize, "pan_sizes", "pan size"),
        lessons=folder(Lesson, "lessons", "lesson"),
        influences=folder(Influence, "influences", "influence"),
        rescues=beside(Rescue, "rescues", "rescue"),
        thresholds=beside(Threshold, "thresholds", "threshold"),
        kinks=beside(Kink, "known_jumps", "kink"),
        hand_slips=beside(HandSlip, "hand_slips", "hand slip"),
        weighed_parts=beside(WeighedPart, "weighed_parts", "weighed part"),
        kinds=beside(Kind, "kinds", "kind"),
        sanity=beside(Bound, "sanity", "bound"),
        dough_parts=beside(DoughPart, "dough_parts", "part of a dough"),
        styles=beside(Style, "styles", "style"),
        bakers_formulas=beside(BakersFormula, "bakers_formulas", "baker's formula"),
        not_judged=beside(Gap, "not_judged", "gap"),
        unstated=beside(Unstated, "unstated", "unstated field"),
        word_groups=beside(WordGroup, "word_groups", "word group"),
        symptom_words=shelf.by_id(
            "words for symptom", there("symptom_words"), SymptomWords, lambda e: e.symptom
        ),
        told_phrases=beside(ToldPhrases, "told_phrases", "told phrases"),
        kitchen_constants=beside(KitchenConstant, "kitchen_constants", "kitchen constant"),
        mixers=beside(Mixer, "mixers", "mixer"),
        net_carb=beside(NetCarbConvention, "net_carb", "convention"),
        label_parts=beside(LabelPart, "label_parts", "label line"),
        plain_words=_plain_words(top / "plain_words.txt"),
    )
    if shelf.faults:
        raise KnowledgeFault(tuple(sorted(shelf.faults)))
    return knowledge
