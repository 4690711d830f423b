"""The steps and the chain of a course as lines of a screen on which they are played.

The chain has a stage a row; its arrows differ by their form: ==> is lit, -x-> is out, and a link that is still to
come is a dot.
"""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Sequence

from advisor.explanation.lesson.teach_steps import LETTERS, ROWS, ChainLink, ClassQuestion, Course, Side, Step
from advisor.explanation.wording import percent
from advisor.knowledge_base.escaping import shown
from advisor.rendering.baker_units import for_reader

LIT, OUT, TO_COME = "==>", "-x->", "."
_LABEL = 12
_BECAME = {
    (True, False): "goes out", (False, True): "is lit", (True, True): "stays lit", (False, False): "stays out",
}  # fmt: skip


def step_lines(step: Step, width: int, *, hide_answers: bool = False) -> list[str]:
    """The inside of one step, wrapped."""
    out: list[str] = []
    for paragraph in step.body:
        out += _wrapped(paragraph, width)
    if step.facts:
        out += _two_columns([f"- {shown(fact, 400)}" for fact in step.facts], width) if _short(step, width) else [
            line for fact in step.facts for line in _wrapped(fact, width, "- ")
        ]  # fmt: skip
    if step.sides:
        out += sides_lines(step.sides, width)
    if step.asked is not None:
        out += question_lines(step.asked, width, tell=not hide_answers)
    return out


def _short(step: Step, width: int) -> bool:
    return all(len(fact) + 2 <= (width - 2) // 2 for fact in step.facts)


def question_lines(asked: ClassQuestion, width: int, *, tell: bool, votes: tuple[int, ...] = ()) -> list[str]:
    """A question with its choices, with the votes for each where there are any, and the answer if it may be told."""
    out = _wrapped(asked.ask, width)
    for place, choice in enumerate(asked.choices):
        mark = "=> " if tell and place == asked.right else "   "
        count = f"  [{votes[place]}]" if any(votes) else ""
        out += _wrapped(choice + count, width, f"{mark}{LETTERS[place]}) ")
    return (
        [*out, *_wrapped(f"The assistant: {asked.found}.", width), *_wrapped(asked.because, width)]
        if tell
        else out
    )


def sides_lines(sides: tuple[Side, ...], width: int) -> list[str]:
    """Two causes side by side; one under the other where it is narrow."""
    if width < 60:
        return [line for side in sides for line in [*side_lines(side, width), ""]][:-1]
    half = (width - 3) // 2
    left, right = (side_lines(side, half) for side in sides)
    rows = max(len(left), len(right))
    left += [""] * (rows - len(left))
    right += [""] * (rows - len(right))
    return [f"{a:<{half}} | {b}".rstrip() for a, b in zip(left, right, strict=True)]


def side_lines(side: Side, width: int) -> list[str]:
    """One of two causes: its chance, what speaks for it, what against."""
    out = _wrapped(side.title.upper(), width)
    for label, texts in (("for", side.speaks_for), ("against", side.against)):
        out.append(f"{label}:")
        for text in texts:
            out += _wrapped(text, width, "+ " if label == "for" else "- ")
    return out


def _wrapped(text: str, width: int, first: str = "") -> list[str]:
    return textwrap.wrap(
        shown(for_reader(text), 2000), max(width, 20), initial_indent=first, subsequent_indent=" " * len(first),
        break_on_hyphens=False,
    ) or [""]  # fmt: skip


def change_lines(course: Course, before: Course, changes: tuple[str, ...], width: int) -> list[str]:
    """Which links a change puts out or lights, and what it does to cause and symptom."""
    out = _wrapped(f"Changed: {'; '.join(changes)}.", width)
    for was, now in zip(before.chain, course.chain, strict=False):
        what = _BECAME[was.lit, now.lit]
        ends = f"{course.names[now.start]} {_arrow(now)} {course.names[now.to].lower()}"
        out += _wrapped(f"{what}: {ends} ({percent(was.carried)} to {percent(now.carried)})", width, "- ")
    symptom = course.topic.symptom
    if symptom is not None and before.found is not None and course.found is not None:
        a, b = (c.found.diagnosis.risks[symptom].risk for c in (before, course) if c.found is not None)
        out += _wrapped(f"risk of {course.names[symptom].lower()}: {percent(a)} to {percent(b)}", width, "- ")
    if course.found is not None:
        first = course.found.diagnosis.causes[0]
        out += _wrapped(
            f"likeliest cause now: {course.names[first.id].lower()}, {percent(first.probability)}",
            width,
            "- ",
        )
    return out


def _arrow(link: ChainLink) -> str:
    """The arrow of a link, whose form tells whether it is lit."""
    return LIT if link.lit else OUT


def chain_rows(
    course: Course,
    chain: Sequence[ChainLink],
    told: Collection[tuple[str, str]],
    width: int,
    now: tuple[str, str] | None = None,
) -> list[tuple[str, bool]]:
    """Lines of the chain, each with whether it is the link that is spoken of; a stage without a link is a bare row."""
    out: list[tuple[str, bool]] = []
    rows = {row: [x for x in chain if x.row == row] for row in course.rows()}
    for row, links in rows.items():
        label = f"{ROWS[row]:<{_LABEL}}"
        open_links = [link for link in links if link.key in told]
        waiting = len(links) - len(open_links)
        if not links:
            out.append((f"{label}-", False))
            continue
        for link in open_links:
            here = link.key == now
            text = f"{course.names[link.start]} {_arrow(link)} {course.names[link.to].lower()}, {percent(link.carried)}"
            out.append((label + shown(("> " if here else "") + text, width - _LABEL), here))
            label = " " * _LABEL
        if waiting:
            out.append((label + " ".join(TO_COME * waiting), False))
    return out


def large(text: str) -> str:
    """Letters twice as wide, for who sits at the back; what has no wide form stays as it is."""
    return "".join(chr(ord(c) + 0xFEE0) if "!" <= c <= "~" else ("\u3000" if c == " " else c) for c in text)


def _two_columns(lines: Sequence[str], width: int) -> list[str]:
    """Short lines side by side where all of them fit in half the width."""
    lines = [for_reader(line) for line in lines]
    half = (width - 2) // 2
    if len(lines) < 4 or any(len(line) > half for line in lines):
        return list(lines)
    rows = (len(lines) + 1) // 2
    left, right = lines[:rows], [*lines[rows:], ""]
    return [f"{a:<{half}}  {b}".rstrip() for a, b in zip(left, right, strict=False)]
