"""A lesson as blocks: its steps in order with the chain at the end, the handout without answers, and the key to it."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Page, Paragraph, Quantity, Runs, Table
from advisor.explanation.lesson.teach_steps import LETTERS, ROWS, ClassQuestion, Course, Side, Step
from advisor.explanation.wording import sentence

_TO_FILL_IN = "_" * 24
"""Where a class writes."""


def lesson_of(course: Course) -> Page:
    """All steps with what the engine says, and the chain."""
    out: list[Block] = [Heading(text=course.topic.title, level=1)]
    for number, step in enumerate(course.steps, 1):
        out.append(Heading(text=f"{number}. {step.title}", ident=f"step-{number}"))
        out.append(Paragraph(runs=(ROWS[step.row],)))
        out += step_blocks(step, tell=True)
    return (*out, *_chain(course))


def handout_of(course: Course) -> Page:
    """What the class gets: formula, questions with boxes to tick, and stages to fill in; nothing that tells."""
    out: list[Block] = [Heading(text=course.topic.title, level=1)]
    number = 0
    for step in course.steps:
        if step.kind == "formula":
            out += step_blocks(step, tell=False)
        elif step.asked is not None:
            number += 1
            out.append(Heading(text=f"Question {number}", ident=f"question-{number}"))
            out += _question(step.asked, tell=False)
    return (*out, *_stages_to_fill_in(course))


def key_of(course: Course) -> Page:
    """The answers to the handout, in its order."""
    out: list[Block] = [Heading(text=f"Key: {course.topic.title}", level=1)]
    asked = [step.asked for step in course.steps if step.asked is not None]
    for number, question in enumerate(asked, 1):
        letter = Emphasis(meaning="verdict", runs=(LETTERS[question.right],))
        right = (": ", *sentence(question.choices[question.right]), ". The assistant: ")
        said = (*sentence(question.found), ". ", *sentence(question.because))
        out.append(Item(label=f"{number}.", runs=(letter, *right, *said)))
    out += _chain(course)
    end = (step for step in course.steps if step.kind == "end")
    return (*out, *(Paragraph(runs=sentence(text)) for step in end for text in step.body))


def step_blocks(step: Step, *, tell: bool) -> Iterator[Block]:
    """One step without its headline; without `tell` a question keeps its answer to itself."""
    yield from (Paragraph(runs=sentence(text)) for text in step.body)
    yield from (Item(label="-", runs=sentence(fact)) for fact in step.facts)
    if step.asked is not None:
        yield from _question(step.asked, tell=tell)
    for side in step.sides:
        yield from _side(side)


def _question(asked: ClassQuestion, *, tell: bool) -> Iterator[Block]:
    yield Paragraph(runs=sentence(asked.ask))
    for place, choice in enumerate(asked.choices):
        box = "[x]" if tell and place == asked.right else "[ ]"
        yield Item(label=box, runs=(f"{LETTERS[place]}) ", *sentence(choice)))
    if tell:
        yield Paragraph(runs=("The assistant: ", *sentence(asked.found), ". ", *sentence(asked.because)))


def _side(side: Side) -> Iterator[Block]:
    yield Heading(text=side.title, level=3)
    for label, texts in (("For it: ", side.speaks_for), ("Against it: ", side.against)):
        yield from (Item(label="-", runs=(label, *sentence(text))) for text in texts)


def _chain(course: Course) -> Iterator[Block]:
    if not course.chain:
        return
    yield Heading(text="The chain", ident="chain")
    yield Table(
        caption="What arrives over each link",
        head=("stage", "from", "to", "arrives"),
        rows=tuple(
            (
                (ROWS[link.row],),
                (course.names[link.start],),
                (course.names[link.to].lower(),),
                (Quantity(value=link.carried, unit="share"), "" if link.lit else ", out"),
            )
            for link in course.chain
        ),
        figures=frozenset({3}),
    )


def _stages_to_fill_in(course: Course) -> Iterator[Block]:
    """As many rows a stage as it has links."""
    yield Heading(text="The chain", ident="chain")
    yield Paragraph(runs=("Fill in what happens at each stage.",))
    rows: list[tuple[Runs, ...]] = []
    for row, links in course.rows().items():
        if not links:
            rows.append(((ROWS[row],), ("nothing",), ("nothing",)))
        rows += [((ROWS[row] if not n else "",), (_TO_FILL_IN,), (_TO_FILL_IN,)) for n in range(len(links))]
    yield Table(caption="The chain", head=("stage", "from", "to"), rows=tuple(rows))
