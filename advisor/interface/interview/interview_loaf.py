"""A loaf without its formula: told in three answers, and what can be said of it, which is directions and no grams."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from advisor.diagnosis.asking import QuestionInWords
from advisor.diagnosis.described_loaf import LoafExaminer, LoafKind, RaisedBy
from advisor.diagnosis.pipeline import Examination
from advisor.explanation.blocks import Block, Heading, Item, Paragraph
from advisor.explanation.causes import said_causes
from advisor.explanation.further import Further
from advisor.explanation.page import cause_item
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.verdict import verdict_of
from advisor.explanation.wording import sentence
from advisor.formula.formula import PanKind
from advisor.interface.desk.prompting import Left
from advisor.interface.desk.showing import plain_lines
from advisor.interface.interview.interview_commands import answer_meant, command_in
from advisor.interface.interview.interview_talk import Talk
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.texts import Caution, Rescue
from advisor.remedy.assessing import Assessment
from advisor.remedy.levers.directions import Direction, directions_for
from advisor.remedy.proposing import Plans
from advisor.remedy.rescuing import rescues_for
from advisor.rendering.documents.assessment import assessment_document
from advisor.rendering.documents.assessment_shapes import AssessmentDocument, OpenShape
from advisor.rendering.documents.dough_shapes import FormulaShape, NutritionShape, ProcessValueShape

K = TypeVar("K", bound=str)

RAISED: dict[RaisedBy, str] = {
    "yeast": "Yeast.",
    "powder": "Baking powder, or soda with something sour.",
    "both": "Yeast and powder or soda.",
    "foam": "Whipped egg whites, and neither of these.",
    "nothing": "Nothing of these.",
}
SHAPED: dict[PanKind, str] = {
    "tin": "A loaf in a tin.",
    "round": "A round loaf in a pan.",
    "free_standing": "A loaf without a pan.",
    "rolls": "Rolls, buns or rounds.",
    "flat": "A flat bread.",
}
CANNOT_KNOW = (
    "Without the formula this rests on what the loaf shows, on your answers, and on how often each fault happens. It "
    "cannot know whether there is too much or too little of anything, how far the middle was baked, or how much to "
    "change: it names directions, no grams. With the formula it computes all of these."
)
_DIRECTIONS_SHOWN = 4
_CAUTIONS = ("allergens_present", "raw_dough")
"""Due for any dough, whatever is in it."""


def ask_loaf(talk: Talk) -> LoafKind:
    """Ask what carries the loaf, what raised it, and its shape.

    Raises:
        Left: on Ctrl-C and Ctrl-D.
    """
    talk.say("Then it goes by the loaf alone, and gives directions, no grams.")
    structures = talk.knowledge.structures.values()
    carried = {s.id: f"{s.name[:1].upper()}{s.name[1:]}: {s.says}" for s in structures}
    return LoafKind(
        carried_by=_one_of(talk, "What carries it? What is most of it, or what holds it together?", carried),
        raised_by=_one_of(talk, "What raised it?", RAISED),
        shape=_one_of(talk, "What was it baked as?", SHAPED),
    )


def _one_of(talk: Talk, question: str, answers: Mapping[K, str]) -> K:
    """Ask until one of the answers is given; there is no not knowing, since nothing could be asked after it."""
    talk.prompter.say()
    talk.say(question)
    for number, text in enumerate(answers.values(), 1):
        talk.item(f"{number:>5}", text)
    while True:
        typed = talk.prompter.line("> ")
        command = command_in(typed)
        if command is not None and command.word == "quit":
            raise Left("")
        if command is not None and command.word == "explain" and command.about:
            talk.explain(command.about)
            continue
        meant = answer_meant(typed, list(answers), list(answers.values()))
        if meant is not None:
            return next(key for key in answers if key == meant)
        talk.say(f"A number from 1 to {len(answers)}: the one that comes nearest.")


def loaf_lines(found: Examination, examiner: LoafExaminer) -> list[str]:
    """The answer for a described loaf."""
    knowledge = examiner.knowledge
    ways = directions_of(found, examiner)
    return plain_lines((*_why(found, knowledge), *_ways(ways, found, knowledge), *_beside(found, knowledge)))


def _says(text: str) -> Paragraph:
    return Paragraph(runs=sentence(text))


def _ways(ways: Sequence[Direction], found: Examination, knowledge: Knowledge) -> Iterator[Block]:
    """Which way to go, and how to tell next time whether it was the right one."""
    yield Heading(text="Which way to go: one change at a time")
    if not ways:
        yield _says("No cause is likely enough to act on. The formula would tell more.")
        return
    for place, one in enumerate(ways, 1):
        name = knowledge.causes[one.cause].name.lower()
        says = f"{(one.does or one.says).rstrip('.')}, for {name}. {one.because}"
        yield Item(label=f"{place}.", runs=sentence(says))
    yield _says("How much is not known without the formula: go in small steps.")
    if not found.seen:
        return
    yield Heading(text="What to look for next time")
    for name in found.seen[:3]:
        symptom = knowledge.symptoms[name]
        yield Item(label="-", runs=sentence(f"{symptom.name}: {symptom.look}"))
    yield _says("If that stays as it was, it was another cause: come back and say so.")


def _beside(found: Examination, knowledge: Knowledge) -> Iterator[Block]:
    """What can be done with this loaf, what to beware of, and what is not known without its formula."""
    if rescues := rescues_of(found, knowledge):
        yield Heading(text="This loaf")
        yield _says("Only where nothing in it speaks against it:")
    for rescue in rescues:
        says = f"{rescue.says} {rescue.because} {rescue.mind or ''}".rstrip()
        yield Item(label="-", runs=sentence(says))
    yield Heading(text="Cautions")
    for caution in cautions_of(found, knowledge):
        yield Item(label="-", runs=sentence(caution.short))
    yield _says("What is in it is not known here: read the packets for allergens and other warnings.")
    yield Heading(text="What this cannot know")
    yield _says(CANNOT_KNOW)


def _why(found: Examination, knowledge: Knowledge) -> Iterator[Block]:
    """The verdict and the causes, by the rules of every other answer."""
    limits = Thresholds.read(knowledge)
    causes = said_causes(found, knowledge, limits)
    yield Paragraph(runs=verdict_of("diagnosis", causes=causes, limits=limits).problem, meaning="verdict")
    if causes:
        yield Heading(text="Why")
    for place, cause in enumerate(causes[: limits.causes_usual], 1):
        yield cause_item(cause, place, "usual", {}, baked=True)


def directions_of(found: Examination, examiner: LoafExaminer) -> tuple[Direction, ...]:
    """Which way to go, best first."""
    kind = examiner.kind
    without = set() if kind.yeasted else {"yeast"}
    if kind.raised_by not in ("powder", "both"):
        without |= {"powder", "soda"}
    found_ways = directions_for(found, examiner.knowledge, pan_kind=kind.shape, without=without)
    return found_ways[:_DIRECTIONS_SHOWN]


def rescues_of(found: Examination, knowledge: Knowledge) -> tuple[Rescue, ...]:
    """What can be done with the loaf at hand; none that some ingredient would make unsafe, since none is known."""
    every = rescues_for(found, knowledge, least=knowledge.coefficient("rescue_cause_from"))
    return tuple(rescue for rescue in every if not rescue.not_with)


def cautions_of(found: Examination, knowledge: Knowledge) -> tuple[Caution, ...]:
    """Cautions of the rules that could be read, and those due for any dough; egg and gluten where they carry it."""
    due = [*found.inference.cautions, *_CAUTIONS]
    if "yolk" in knowledge.structures[found.structure].network:
        due.append("egg_core_temperature")
    if "gluten" in knowledge.structures[found.structure].network:
        due.append("never_gluten_free")
    return tuple(knowledge.cautions[c] for c in dict.fromkeys(due) if c in knowledge.cautions)


def loaf_document(
    found: Examination, examiner: LoafExaminer, question: QuestionInWords | None
) -> AssessmentDocument:
    """The answer as the kind `diagnosis`: no line, no amount and no measure; directions stand among the reminders."""
    knowledge, kind = examiner.knowledge, examiner.kind
    ways = tuple(
        f"{one.says} ({knowledge.causes[one.cause].name.lower()})" for one in directions_of(found, examiner)
    )
    answer = Assessment(
        kind="diagnosis", examination=found, plans=Plans(proposals=(), declined=()), reminders=ways,
        cautions=cautions_of(found, knowledge), broken=(), assumed=(), warnings=(CANNOT_KNOW,),
    )  # fmt: skip
    made = assessment_document(answer, knowledge, question, Further(rescues=rescues_of(found, knowledge)))
    why = "no formula was given"
    return replace(
        made,
        formula=FormulaShape(name=examiner.loaf.name, dough_g=0.0, slices=0, loaves=0, lines=()),
        process={"pan_kind": ProcessValueShape(value=kind.shape, assumed=False)},
        measures={
            name: replace(
                measure, value=None, band=None, state="unbanded", basis="not_judged", excess=0.0, reason=why
            )
            for name, measure in made.measures.items()
        },
        asked=(),
        not_judged=(OpenShape(what="every number of the dough", why=why, write="the formula"),),
        allergens=(),
        nutrition=NutritionShape(per_100g=None, per_slice=None),
    )
