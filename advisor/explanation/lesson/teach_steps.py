"""What a class is shown, step by step: the steps themselves, plain and frozen, before any screen or page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from advisor.diagnosis.pipeline import Examination
from advisor.formula.formula import Formula
from advisor.knowledge_base.lesson_entries import Lesson

StepKind = Literal[
    "formula", "question", "rule", "odds", "link", "fault", "rivals", "verdict", "change", "end"
]
ROWS: Mapping[str, str] = {
    "plan": "Formula", "mixing": "Mixing", "proof": "Proof", "early_oven": "Early oven", "late_oven": "Late oven",
    "cooling": "Cooling", "storage": "Keeping", "slice": "Slice",
}  # fmt: skip
"""Stages from the formula to the slice, in order of time, as a class reads them."""
LETTERS = "abcd"
"""How the choices of a question are called, in order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Topic:
    """What is taught: a formula (or none, where only the graph speaks), and the chain from cause to symptom."""

    title: str
    formula: Formula | None
    cause: str | None
    symptom: str | None
    saw: tuple[str, ...] = ()
    lesson: Lesson | None = None
    through: str | None = None
    """A mechanism that the chain is to pass."""
    word: str = ""
    """What the class asked for, as it can be asked for again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainLink:
    """One link of the chain with what of the cause arrives at its end (0..1)."""

    start: str
    to: str
    row: str
    strength: float
    grade: str
    carried: float
    lit: bool
    """Whether enough arrives for the link to count."""

    @property
    def key(self) -> tuple[str, str]:
        """Both ends."""
        return self.start, self.to


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One of two causes that compete: what speaks for it, and what against."""

    title: str
    speaks_for: tuple[str, ...]
    against: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassQuestion:
    """A question to the class, its choices, and which of them the engine finds to be right."""

    ask: str
    after: tuple[str, ...]
    choices: tuple[str, ...]
    right: int
    found: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One key press: a row of the chain, a headline, paragraphs; `link` is the link that it lights."""

    kind: StepKind
    row: str
    title: str
    body: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    """Facts with their numbers, a line each."""
    link: tuple[str, str] | None = None
    rule: str | None = None
    sides: tuple[Side, ...] = ()
    asked: ClassQuestion | None = None

    @property
    def tells(self) -> bool:
        """Say whether the engine speaks here, which a class that is to vote must not see first."""
        return self.kind not in ("formula", "question")


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """All steps on one topic, with the chain that they light."""

    topic: Topic
    found: Examination | None
    chain: tuple[ChainLink, ...]
    steps: tuple[Step, ...]
    names: Mapping[str, str] = field(repr=False)
    """Cause, mechanism or symptom to its name."""

    def rows(self) -> dict[str, tuple[ChainLink, ...]]:
        """The chain by stages, in order of time; stages in which nothing happens are there and empty."""
        used = {link.row for link in self.chain}
        shown = [row for row in ROWS if row not in ("plan", "slice", "storage") or row in used]
        return {row: tuple(link for link in self.chain if link.row == row) for row in shown}
