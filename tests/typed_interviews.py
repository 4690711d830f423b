"""A whole interview typed at from a test, line by line, and what it should know and say, kept apart from it."""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable, Iterable, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from queue import SimpleQueue
from threading import Thread

import pytest

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.asking import QuestionChooser, QuestionInWords
from advisor.diagnosis.described_loaf import LoafExaminer, LoafKind
from advisor.diagnosis.next_question import ABSENT, SEEN
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.answering import answer_of
from advisor.explanation.further import Further
from advisor.formula.formula import Formula
from advisor.interface.desk.bakers_answers import Told
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.interview_list import TickList
from advisor.interface.desk.prompting import Left, Prompter
from advisor.interface.interview import interview_session
from advisor.interface.interview.interview_draft import Draft
from advisor.interface.interview.interview_loaf import loaf_lines
from advisor.interface.interview.interview_session import result_lines
from advisor.interface.interview.question_round import question_of
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.constraints import Constraints

KNOWLEDGE = load_knowledge()
SYMPTOMS = list(KNOWLEDGE.symptoms)
NONE, KIND_TYPED = "none", ("1", "3", "1")
"""No formula, and then three answers about the loaf."""
KIND = LoafKind(carried_by=next(iter(KNOWLEDGE.structures)), raised_by="both", shape="tin")
SKIPPED, CTRL_C = "(put aside)", None


@dataclass(frozen=True)
class Known:
    """What an interview should know: ticks, and question or symptom with its answer, in the order of the telling."""

    word: str
    ticked: frozenset[str] = frozenset()
    given: tuple[tuple[str, str | None], ...] = ()

    def ticking(self, symptoms: Iterable[str]) -> Known:
        """Tick what is not ticked, and untick what is; an answer about what is ticked is forgotten."""
        ticked = self.ticked ^ set(symptoms)
        return Known(self.word, ticked, tuple(one for one in self.given if one[0] not in ticked))

    def answering(self, name: str, answer: str | None) -> Known:
        """Answer, in the place of an earlier answer to the same."""
        return replace(self, given=tuple({**dict(self.given), name: answer}.items()))

    def without_the_last(self) -> Known:
        """Take back the last answer."""
        return replace(self, given=self.given[:-1])

    @property
    def told(self) -> Told:
        """What there is to go by: neither what is not known nor what was put aside."""
        signs = {name: answer for name, answer in self.given if name in KNOWLEDGE.symptoms}
        facts = {name: answer for name, answer in self.given if name in KNOWLEDGE.questions}
        return Told(
            saw=(*(s for s in SYMPTOMS if s in self.ticked), *(s for s in signs if signs[s] == SEEN)),
            not_seen=tuple(s for s in signs if signs[s] == ABSENT),
            answers={name: answer for name, answer in facts.items() if answer and answer != SKIPPED},
            loaf=KIND if self.word == NONE else None,
        )


def known_of(draft: Draft) -> Known:
    """What a draft holds."""
    assert draft.kind == (None if draft.word else KIND)
    given = tuple((one.id, SKIPPED if one.skipped else one.answer) for one in draft.heard.given)
    return Known(draft.word or NONE, frozenset(draft.heard.ticked), given)


def as_asked(name: str) -> QuestionInWords:
    """A symptom or a question as it is asked."""
    return question_of("symptom" if name in KNOWLEDGE.symptoms else "question", name, KNOWLEDGE)


@cache
def _loaf_of(word: str) -> tuple[Formula, Examiner, QuestionChooser]:
    examiner = default_advisor().examiner
    if word != NONE:
        return choose_formula(word, KNOWLEDGE, "us"), examiner, QuestionChooser(examiner)
    loaf = LoafExaminer(examiner, KIND)
    return loaf.loaf, loaf, QuestionChooser(loaf)


@cache
def diagnosed(known: Known) -> tuple[Examination, str]:
    """Diagnose directly, without any interview: what was found, and how a result says it."""
    formula, examiner, _ = _loaf_of(known.word)
    told = known.told
    saw, not_seen, answers = told.saw, told.not_seen, told.answers
    if isinstance(examiner, LoafExaminer):
        found = examiner.examine(formula, saw=saw, not_seen=not_seen, answers=answers)
        return found, "\n".join(loaf_lines(found, examiner))
    answer = default_advisor().diagnose(formula, saw=saw, not_seen=not_seen, answers=answers)
    further = Further.of(default_advisor(), answer, Constraints(), joint=False)
    return answer.examination, "\n".join(result_lines(answer_of(answer, KNOWLEDGE, further)))


@cache
def next_asked(known: Known) -> str | None:
    """What a direct diagnosis of the same answers would ask next; what was put aside does not count as asked."""
    asked = _loaf_of(known.word)[2].choose(
        diagnosed(known)[0],
        skipped=[name for name, _ in known.given],
        asked=sum(answer != SKIPPED for _, answer in known.given),
    )
    return None if asked is None else asked.id


class TypedInterview(Prompter):
    """A terminal with an interview in a thread of its own, which stands still at every prompt until a line is typed.

    `shown` is what came since the last line; `stopped_at` is a prompt, or at the end an exit code or what was raised.
    """

    def __init__(self, as_list: bool) -> None:
        super().__init__()
        self.as_list = as_list
        self.shown: list[str] = []
        self.stopped_at: str | int | BaseException = ""
        self._stops: SimpleQueue[str | int | BaseException] = SimpleQueue()
        self._typed: SimpleQueue[str | None] = SimpleQueue()

    def begin(self, formula: str | None) -> None:
        """Begin the interview, and wait for its first prompt."""
        Thread(target=self._hold, args=(formula,), daemon=True).start()
        self.stopped_at = self._stops.get(timeout=60)

    def type(self, line: str | None) -> None:
        """Type a line, or the name of a key where a list is shown, and wait for the next prompt."""
        self._typed.put(line)
        self.stopped_at = self._stops.get(timeout=60)

    @property
    def screen(self) -> str:
        """What is shown, with single blanks between its words."""
        return " ".join(" ".join(self.shown).split())

    def place(self) -> str:
        """Read where it stands: out, ticks, question, change or result; nothing where a prompt only came again."""
        if not isinstance(self.stopped_at, str):
            if not isinstance(self.stopped_at, int | InputFault):
                raise self.stopped_at
            return "out"
        if self.stopped_at == "result> ":
            return "result"
        if self.stopped_at == "list" or "WHAT DOES THE LOAF SHOW?" in self.screen:
            return "ticks"
        if "'keep' leaves it so." in self.screen:
            return "change"
        return "question" if "Enter I do not know." in self.screen else ""

    def _hold(self, formula: str | None) -> None:
        options = argparse.Namespace(
            formula=formula, region=None, json=False, all=False, apply=None, transcript=None, record=None
        )
        try:
            self._stops.put(interview_session.run_interview(options, default_advisor(), Constraints()))
        except BaseException as fault:
            self._stops.put(fault)

    @property
    def can_show_a_list(self) -> bool:
        return self.as_list

    def say(self, text: str = "") -> None:
        self.shown.append(text)

    def line(self, prompt: str, *, words: Sequence[str] = ()) -> str:
        self._stops.put(prompt)
        typed = self._typed.get()
        self.shown.clear()
        if typed is CTRL_C:
            raise Left("")
        return typed

    def several_lines(
        self, prompt: str, *, words: Sequence[str] = (), text: str = "", one_is_enough: Callable[[str], bool]
    ) -> str:
        return self.line(prompt)

    def tick(self, choice: TickList, changed: Callable[[], None] = lambda: None) -> None:
        while not choice.done:
            choice.press(key := self.line("list"))
            if key == "tick":
                changed()


def held_in(folder: Path, terminal: Callable[[], Prompter]) -> pytest.MonkeyPatch:
    """Hold interviews at another terminal, with all that they keep in a folder, until it is undone."""
    patch = pytest.MonkeyPatch()
    measures = folder / "measures.json"
    measures.write_text("{}")
    places = {"ADVISOR_DRAFTS": folder / "drafts", "ADVISOR_MEASURES": measures, "ADVISOR_TYPED": folder}
    for name, value in {**places, "COLUMNS": 80, "LINES": 24}.items():
        patch.setenv(name, str(value))
    patch.setattr(tempfile, "tempdir", str(folder))
    patch.setattr(interview_session, "Prompter", terminal)
    # Only the main thread may say what a signal does.
    patch.setattr(interview_session, "outliving_the_terminal", nullcontext)
    return patch
