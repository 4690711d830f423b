"""The shape of what `check` and `diagnose` answer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from advisor.rendering.documents.dough_shapes import (
    FormulaShape,
    MeasureShape,
    NutritionShape,
    ProcessValueShape,
)
from advisor.rendering.documents.remedy_shapes import (
    ByHandShape,
    FirstTrialShape,
    JointPlanShape,
    ProposalShape,
    RescueShape,
    SlipShape,
)
from advisor.rendering.documents.shape import CautionShape, Document, Share, shape


@shape
class SymptomShape:
    """One fault that a loaf may show."""

    name: str
    """What it is called."""
    risk: Share
    """How likely the loaf has it, as the formula and what was told say."""
    agree: Share | None
    """Share of draws with the same verdict on this risk; null without `--all`."""
    observed: bool | None
    """Seen, looked for and not there, or (null) not told."""


@shape
class CauseShape:
    """One cause."""

    id: str
    """Id in knowledge/causes.yaml."""
    name: str
    """What it is called."""
    probability: Share
    """How likely it is at work, its own kinds counted in."""
    calibrated: bool
    """Whether such probabilities have been held against loaves that were really baked."""
    refines: str | None
    """Id of the wider cause of which this is a kind."""
    named: bool
    """Whether pages name it; the others are too unlikely, or stand under a kind of theirs."""
    chains: tuple[tuple[str, ...], ...]
    """Ids from the cause to a symptom, the strongest way first."""
    rules: tuple[str, ...]
    """Ids of the rules that spoke for it, then against it."""


@shape
class QuestionShape:
    """The question whose answer would tell most."""

    id: str
    """Id of the symptom or the question."""
    question: str
    """The question in a baker's words."""
    because: str
    """How to look, or why it is asked."""
    answers: Mapping[str, str]
    """Id of each answer with its text; a symptom has seen and absent."""


@shape
class OpenShape:
    """Something that is not known and matters."""

    what: str
    """What is not known."""
    why: str
    """What was taken instead, or why it cannot be judged."""
    write: str | None
    """What to write, in the formula or on the command line, so that it is known; null where nothing can be."""


@shape
class BakeShape:
    """Which kind of bake it was judged as."""

    id: str
    """Id of the kind, as `kind:` takes it."""
    name: str
    """Its name."""
    likelihood: Share
    """How likely it is that kind, from title, shape and process; 1 where it was written."""
    by: str
    """What it was chosen by."""


@shape
class VerdictShape:
    """The answer in two sentences."""

    wrong: bool
    """Whether something is wrong."""
    says: str
    """What is wrong, or that nothing is, and how sure that is."""
    change_first: str
    """What to change first; empty where nothing is to be changed."""


@shape
class AssessmentDocument(Document):
    """What `check` says before a bake, and `diagnose` after one."""

    kind: Literal["check", "diagnosis"]
    """Before the bake, or after it."""
    verdict: VerdictShape
    """The answer in two sentences."""
    formula: FormulaShape
    """The formula as it was read."""
    process: Mapping[str, ProcessValueShape]
    """What is done with the dough, stated or assumed."""
    bake: BakeShape | None
    """The kind of bake; null where the knowledge has none."""
    structure: str
    """Id of the structure that carries most of the loaf."""
    structures: Mapping[str, Share]
    """How much each structure carries; the shares add up to 1."""
    measures: Mapping[str, MeasureShape]
    """Every measure by its id."""
    symptoms: Mapping[str, SymptomShape]
    """Every symptom by its id, the largest risk first."""
    causes: tuple[CauseShape, ...]
    """Every cause that is in play, the most probable first."""
    proposals: tuple[ProposalShape, ...]
    """Changes that help, best first."""
    joint_plan: JointPlanShape | None
    """Several amounts changed at once; null where one change is enough or no such plan helps."""
    first_trial: FirstTrialShape | None
    """The change to bake first; null where no causes compete."""
    rescues: tuple[RescueShape, ...]
    """What can still be done with this dough or loaf."""
    next_question: QuestionShape | None
    """The question to answer next; null where none would change the answer."""
    asked: tuple[OpenShape, ...]
    """What was not stated and decides."""
    not_judged: tuple[OpenShape, ...]
    """What could not be worked out."""
    slips: tuple[SlipShape, ...] | None
    """What small slips of the scales do, the worst first; null where it was not asked for (--sensitivity)."""
    by_hand: ByHandShape | None
    """Ways in which the loaf was perhaps not made as written; null where nothing was seen."""
    allergens: tuple[str, ...]
    """Allergens that the ingredients name, the most of it first."""
    nutrition: NutritionShape
    """What the baked loaf holds."""
    reminders: tuple[str, ...]
    """Of the process, for this dough."""
    cautions: tuple[CautionShape, ...]
    """What to watch out for with this formula."""
    limits_broken: tuple[str, ...]
    """Limits of the baker's own that the formula breaks, in a sentence each."""
    assumed: tuple[str, ...]
    """What the formula leaves open and was assumed, in a sentence each."""
    warnings: tuple[str, ...]
    """What was not read or may be a mistake, in a sentence each."""


@shape
class CheckDocument(AssessmentDocument):
    """What `check` says before a bake."""

    kind: Literal["check"] = "check"
    """Before the bake."""


@shape
class DiagnosisDocument(AssessmentDocument):
    """What `diagnose` says of a baked loaf."""

    kind: Literal["diagnosis"] = "diagnosis"
    """After the bake."""
