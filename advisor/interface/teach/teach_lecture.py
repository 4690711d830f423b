"""A course being played: where the class is, what it voted, what was changed. Knows no keys and no terminal."""

from __future__ import annotations

import textwrap
from dataclasses import replace

from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.lesson.changed_course import changed_course
from advisor.explanation.lesson.teach_steps import ROWS, ChainLink, Course, Step
from advisor.formula.faults import FormulaFault
from advisor.interface.teach.teach_text import chain_rows, change_lines, large, question_lines, step_lines
from advisor.knowledge_base.escaping import shown
from advisor.remedy.change_fault import ChangeFault
from advisor.remedy.written_change import apply_changes

Line = tuple[str, str]
"""A style word (title, rule, chain, here, head, text, keys) and a line of text."""
KEYS = (
    "right next",
    "left back",
    "w why",
    "r return",
    "c change an amount",
    "u undo",
    "g go to",
    "l large",
    "q leave",
)
VOTE_KEYS = ("a b c d vote", "right let the engine speak", "left back", "q leave")


class Lecture:
    """Moves through the steps of a course and lays out what is to be seen."""

    def __init__(self, course: Course, examiner: Examiner, *, hide_answers: bool = False) -> None:
        self.original = self.course = course
        self.examiner = examiner
        self.hide_answers = hide_answers
        self.at = 0
        self.large = False
        self.scrolled = 0
        self.said = ""
        self._back: int | None = None
        self._told: set[int] = set()
        self._votes: dict[int, list[int]] = {}
        self._changes: tuple[str, ...] = ()
        self._showing_change = False

    @property
    def step(self) -> Step:
        """The step that is shown."""
        return self.original.steps[self.at]

    @property
    def waits(self) -> bool:
        """Whether the class is to vote before the engine speaks."""
        return self.hide_answers and self.step.asked is not None and self.at not in self._told

    def forward(self) -> None:
        """Go on: let the engine answer the question that waits, else the next step."""
        self._fresh()
        if self.waits:
            self._told.add(self.at)
        elif self.at + 1 < len(self.original.steps):
            self.at += 1

    def back(self) -> None:
        """Go back one step."""
        self._fresh()
        self.at = max(self.at - 1, 0)

    def go_to(self, number: str) -> None:
        """Jump to a step by its number, from 1."""
        self._fresh()
        last = len(self.original.steps)
        if number.strip().isdigit() and 1 <= int(number) <= last:
            self.at = int(number) - 1
        else:
            self.said = f"there are steps 1 to {last}"

    def why(self) -> None:
        """Jump to the first rule that the chain rests on; `return_` comes back."""
        rules = [n for n, step in enumerate(self.original.steps) if step.kind in ("rule", "odds")]
        if not rules:
            self.said = "no rule fired for this: there is only the graph"
        elif self.hide_answers and any(
            s.asked is not None and n not in self._told for n, s in enumerate(self.original.steps[: rules[0]])
        ):
            self.said = "first let the class vote"
        else:
            self._fresh()
            self._back, self.at = self.at, rules[0]

    def return_(self) -> None:
        """Come back from why."""
        self._fresh()
        if self._back is not None:
            self.at, self._back = self._back, None

    def vote(self, letter: str) -> bool:
        """Count a hand for a choice; `False` where no question waits."""
        place = "abcd".find(letter)
        asked = self.step.asked
        if not self.waits or asked is None or not 0 <= place < len(asked.choices):
            return False
        self._votes.setdefault(self.at, [0] * len(asked.choices))[place] += 1
        return True

    def change(self, text: str) -> None:
        """Apply one more written change to the formula and look which links go out."""
        self._fresh()
        formula = self.course.topic.formula
        if formula is None:
            self.said = "there is no formula here to change"
            return
        try:
            changed = apply_changes(formula, [text], self.examiner.knowledge).formula
        except (ChangeFault, FormulaFault) as fault:
            self.said = shown(str(fault), 300)
            return
        self._changes += (text,)
        self.course = changed_course(self.original, changed, self.examiner)
        self._showing_change = True

    def undo(self) -> None:
        """Take all changes back."""
        self._fresh()
        self.course, self._changes = self.original, ()

    def _fresh(self) -> None:
        self.said, self.scrolled, self._showing_change = "", 0, False

    def told_links(self) -> set[tuple[str, str]]:
        """Links that have been told so far."""
        return {s.link for s in self.original.steps[: self.at + 1] if s.link is not None}

    @property
    def chain(self) -> tuple[ChainLink, ...]:
        """The chain as it stands after the changes."""
        return self.course.chain

    def screen(self, width: int, height: int) -> list[Line]:
        """Lay out one screen of just `height` lines, none wider than `width` columns."""
        top = [*self._title(width), *([] if self.large else self._chain_lines(width))]
        foot: list[Line] = [("keys", line) for line in _keys_lines(VOTE_KEYS if self.waits else KEYS, width)]
        if self.said:
            foot[:0] = [("head", line) for line in textwrap.wrap(self.said, width)[:4]]
        room = max(height - len(top) - len(foot), 3)
        body = self._body(width - 2)
        if len(body) > room and self.step.sides and not self._showing_change:
            # What competes is to be seen at one glance; the chain is seen again at the next step.
            top = self._title(width)
            room = max(height - len(top) - len(foot), 3)
        self.scrolled = max(min(self.scrolled, len(body) - room), 0)
        seen = body[self.scrolled : self.scrolled + room]
        if self.scrolled + room < len(body):
            left = len(body) - self.scrolled - room + 1
            seen[-1] = ("keys", f"({left} more lines: down)")
        seen += [("text", "")] * (room - len(seen))
        return [*top, *seen, *foot][:height]

    def _title(self, width: int) -> list[Line]:
        place = f"{self.at + 1} of {len(self.original.steps)}"
        name = shown(self.original.topic.title, width - len(place) - 2)
        return [("title", f"{name:<{width - len(place)}}{place}"[:width]), ("rule", "")]

    def _chain_lines(self, width: int) -> list[Line]:
        if not self.chain:
            return []
        told = {x.key for x in self.chain} if self._showing_change else self.told_links()
        if self.hide_answers and self.waits:
            told = set()
        rows = chain_rows(self.course, self.chain, told, width, self.step.link)
        return [*(("here" if here else "chain", text) for text, here in rows), ("rule", "")]

    def _body(self, width: int) -> list[Line]:
        if self._showing_change:
            lines = change_lines(self.course, self.original, self._changes, width)
            return [("head", "Change"), *(("text", line) for line in lines)]
        step = self.step
        inner = width // 2 if self.large else width
        if step.asked is not None:
            votes = tuple(self._votes.get(self.at, ()))
            tell = not self.waits
            lines = [*step_lines_without_question(step, inner)]
            lines += question_lines(step.asked, inner, tell=tell, votes=votes)
        else:
            lines = step_lines(step, inner)
        head = [f"{ROWS[step.row]}: {shown(step.title, 300)}"]
        heads = [part for line in head for part in textwrap.wrap(line, inner)]
        if self.large:
            heads, lines = [large(line) for line in heads], [large(line) for line in lines]
        return [*(("head", line) for line in heads), *(("text", line) for line in lines)]


def _keys_lines(keys: tuple[str, ...], width: int) -> list[str]:
    """Keys with what they do, none of them broken over two lines."""
    joined = "  ".join(key.replace(" ", "\u00a0") for key in keys)
    return [line.replace("\u00a0", " ") for line in textwrap.wrap(joined, width)]


def step_lines_without_question(step: Step, width: int) -> list[str]:
    """What stands in a step beside its question."""
    return step_lines(replace(step, asked=None), width)
