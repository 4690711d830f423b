"""The steps of a course as Markdown: with the answers, as a handout without them, and as the key to it.

Letters that mean something in Markdown or HTML are escaped in every text, whoever wrote it.
"""

from __future__ import annotations

import re

from advisor.explanation.lesson.teach_steps import LETTERS, ROWS, ClassQuestion, Course, Step
from advisor.explanation.wording import percent
from advisor.knowledge_base.escaping import shown
from advisor.rendering.baker_units import for_reader

_MEANS_SOMETHING = re.compile(r"([\\`*_\[\]|~#]|^[-+](?=\s))")
_LOOKS_NUMBERED = re.compile(r"^(\d+)([.)])(?=\s)")
_BLANK = "_" * 40


def md(text: str, at_most: int = 600) -> str:
    """A text that Markdown shows as it is, on one line."""
    plain = " ".join(shown(for_reader(text), at_most).split())
    plain = _LOOKS_NUMBERED.sub(r"\1\\\2", _MEANS_SOMETHING.sub(r"\\\1", plain))
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def lesson_markdown(course: Course) -> str:
    """All steps with what the engine says."""
    out = [f"# {md(course.topic.title)}", ""]
    for number, step in enumerate(course.steps, 1):
        out += [f"## {number}. {md(step.title)}", "", f"*{ROWS[step.row]}*", ""]
        out += _step(step, tell=True)
    return "\n".join([*out, *_chain(course)]) + "\n"


def handout_markdown(course: Course) -> str:
    """What the class gets: formula, questions with boxes to tick, and stages to fill in; nothing that tells."""
    out = [f"# {md(course.topic.title)}", ""]
    number = 0
    for step in course.steps:
        if step.kind == "formula":
            out += _step(step, tell=False)
        elif step.asked is not None:
            number += 1
            out += [f"## Question {number}", "", *_question(step.asked, tell=False)]
    out += [
        "## The chain",
        "",
        "Fill in what happens at each stage.",
        "",
        "| stage | from | to |",
        "|---|---|---|",
    ]
    out += [
        f"| {ROWS[row]} | {_blanks(len(links))} | {_blanks(len(links))} |"
        for row, links in course.rows().items()
    ]
    return "\n".join(out) + "\n"


def key_markdown(course: Course) -> str:
    """The answers to the handout, in its order."""
    out = [f"# Key: {md(course.topic.title)}", ""]
    asked = [step.asked for step in course.steps if step.asked is not None]
    for number, question in enumerate(asked, 1):
        out += [
            f"{number}. **{LETTERS[question.right]}**: {md(question.choices[question.right])}. "
            f"The assistant: {md(question.found)}. {md(question.because)}"
        ]
    end = [step for step in course.steps if step.kind == "end"]
    return "\n".join([*out, "", *_chain(course), *(f"\n{md(t)}" for s in end for t in s.body)]) + "\n"


def _blanks(links: int) -> str:
    return "<br>".join([_BLANK] * links) if links else "nothing"


def _step(step: Step, *, tell: bool) -> list[str]:
    out: list[str] = []
    for paragraph in step.body:
        out += [md(paragraph), ""]
    out += [f"- {md(fact)}" for fact in step.facts]
    if step.facts:
        out.append("")
    if step.asked is not None:
        out += _question(step.asked, tell=tell)
    if step.sides:
        out += ["| | " + " | ".join(md(side.title) for side in step.sides) + " |", "|---|---|---|"]
        for label, texts in (
            ("for", [side.speaks_for for side in step.sides]),
            ("against", [side.against for side in step.sides]),
        ):
            out.append(
                f"| {label} | " + " | ".join("<br>".join(md(t) for t in some) for some in texts) + " |"
            )
        out.append("")
    return out


def _question(asked: ClassQuestion, *, tell: bool) -> list[str]:
    out = [md(asked.ask), ""]
    for place, choice in enumerate(asked.choices):
        box = "[x]" if tell and place == asked.right else "[ ]"
        out.append(f"- {box} {LETTERS[place]}) {md(choice)}")
    out.append("")
    if tell:
        out += [f"The assistant: {md(asked.found)}. {md(asked.because)}", ""]
    return out


def _chain(course: Course) -> list[str]:
    if not course.chain:
        return []
    out = ["## The chain", "", "| stage | link | arrives |", "|---|---|---|"]
    out += [
        f"| {ROWS[link.row]} | {md(course.names[link.start])} {'→' if link.lit else '↛'} "
        f"{md(course.names[link.to].lower())} | {percent(link.carried)}{'' if link.lit else ', out'} |"
        for link in course.chain
    ]
    return [*out, ""]
