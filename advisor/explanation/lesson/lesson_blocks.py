"""A lesson as blocks: its steps in order, with the answers or as a handout without them, and the chain at the end."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Page, Paragraph, Quantity, Runs, Table
from advisor.explanation.lesson.teach_steps import LETTERS, ROWS, ClassQuestion, Course, Side, Step
from advisor.explanation.wording import sentence


def lesson_of(course: Course, *, hide_answers: bool = False) -> Page:
    """All blocks; with hidden answers what a class may see before it has voted."""
    out: list[Block] = [Heading(text=course.topic.title, level=1)]
    steps = [step for step in course.steps if not (hide_answers and step.tells)]
    for number, step in enumerate(steps, 1):
        out.append(Heading(text=f"{number}. {step.title}", ident=f"step-{number}"))
        out.append(Paragraph(runs=(ROWS[step.row],)))
        out += _step(step, tell=not hide_answers)
    if course.chain and not hide_answers:
        out += _chain(course)
    return tuple(out)


def _step(step: Step, *, tell: bool) -> Iterator[Block]:
    yield from (Paragraph(runs=sentence(text)) for text in step.body)
    yield from (Item(label="-", runs=sentence(fact)) for fact in step.facts)
    if step.asked is not None:
        yield from _question(step.asked, tell=tell)
    for side in step.sides:
        yield from _side(side)


def _question(asked: ClassQuestion, *, tell: bool) -> Iterator[Block]:
    yield Paragraph(runs=sentence(asked.ask))
    for place, choice in enumerate(asked.choices):
        said: Runs = (f"{LETTERS[place]}) ", *sentence(choice))
        right = tell and place == asked.right
        yield Item(label="-", runs=(Emphasis(meaning="verdict", runs=said),) if right else said)
    if tell:
        yield Paragraph(runs=("The assistant: ", *sentence(asked.found), ". ", *sentence(asked.because)))


def _side(side: Side) -> Iterator[Block]:
    yield Heading(text=side.title, level=3)
    for label, texts in (("For it: ", side.speaks_for), ("Against it: ", side.against)):
        yield from (Item(label="-", runs=(label, *sentence(text))) for text in texts)


def _chain(course: Course) -> Iterator[Block]:
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
