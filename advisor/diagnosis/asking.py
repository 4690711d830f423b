"""What to ask the baker next, of symptoms not yet looked for and of facts that only the baker knows.

A question is worth what its answers are expected to tell, for each second that they take, about the causes of what
was seen; and only if one of its answers would lead to another first change.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from advisor.diagnosis.answers import AnswerRatios
from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.diagnosis import signs_of
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.hand_slips import backed, hand_slips
from advisor.diagnosis.next_question import (
    ABSENT,
    SEEN,
    Outcome,
    QuestionWorth,
    next_question,
    rank_questions,
)
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.diagnosis.slip_hypotheses import HypothesisBook
from advisor.diagnosis.slip_questions import AMOUNT, HOW_MUCH, rank_slip_questions
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.texts import Question

_SETTLED = 0.5
"""Probability from which a slip that the baker told, or what the formula explains, needs no question of the making."""
SEEN_OR_NOT = {SEEN: "Yes.", ABSENT: "No."}


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionInWords:
    """The question to ask next, in a baker's words; `answers` holds answer id to text."""

    kind: Literal["symptom", "question"]
    id: str
    question: str
    because: str
    answers: Mapping[str, str]
    gain: float
    """Bits that the answer is expected to tell about the causes of what was seen."""


class QuestionChooser:
    """Chooses questions with one examiner; holds nothing of a formula, so it is safe to share."""

    def __init__(self, examiner: Examiner) -> None:
        self._examiner = examiner
        self._answers = AnswerRatios(examiner)
        self._scale = EvidenceScale.read(examiner.knowledge.coefficients)
        self._book = HypothesisBook(examiner)

    def choose(
        self, found: Examination, *, skipped: Collection[str] = (), asked: int = 0
    ) -> QuestionInWords | None:
        """Choose the question that tells most a second; `None` when none is worth asking.

        Where the formula does not explain what was seen it is asked first how the loaf was made.
        `skipped` holds ids of symptoms and questions that were asked in vain; `asked` counts all asked so far.
        """
        if (of_making := self.choose_of_making(found, skipped=skipped, asked=asked)) is not None:
            return of_making
        return next(iter(self._worth_asking(self.ranked(found, skipped=skipped), found, asked)), None)

    def choose_of_making(
        self, found: Examination, *, skipped: Collection[str] = (), asked: int = 0
    ) -> QuestionInWords | None:
        """Choose the question that parts the slips of the hand best.

        `None` where the formula speaks for a cause that is more likely than not, or a slip was told.
        """
        knowledge = self._examiner.knowledge
        likely = knowledge.thresholds.get("slips_asked_below")
        if (
            likely is None
            or not self._examiner.knows_formula
            or not found.seen
            or asked >= self._scale.questions_at_most
        ):
            return None
        if backed(knowledge, found) >= likely.value:
            return None
        hand = hand_slips(self._examiner, found, self._book)
        if hand.explained and hand.suspects[0].probability >= _SETTLED:
            return None
        answers = found.situation.answers
        amount_found = AMOUNT in answers and answers[AMOUNT] not in knowledge.questions[AMOUNT].fine
        settled = any(slip.told and slip.in_all >= _SETTLED for slip in hand.found)
        if settled and not (amount_found and HOW_MUCH not in {*answers, *skipped}):
            return None
        ranked = rank_slip_questions(hand, knowledge, {*answers, *skipped}, amount_found=amount_found)
        for worth in ranked:
            if worth.gain >= self._scale.gain_worth_asking:
                question = knowledge.questions[worth.id]
                return _question_in_words(question, worth.gain)
        return None

    def ranked(self, found: Examination, *, skipped: Collection[str] = ()) -> tuple[QuestionWorth, ...]:
        """Rank what could be asked by what it tells a second about the causes of what was seen, best first."""
        symptoms = self._examiner.knowledge.symptoms
        graph = self._examiner.graph_of(found.formula)
        causes = causes_in_question(found, graph)
        cannot_be = {name for name, risk in found.diagnosis.risks.items() if risk.risk == 0}
        known = {*found.situation.symptoms, *found.situation.answers, *skipped, *cannot_be}
        return rank_questions(
            found.diagnosis,
            signs_of(graph, symptoms),
            symptoms,
            known,
            self._answers.facts(found, causes, known=known),
            scale=self._scale,
            of=causes,
        )

    def _worth_asking(
        self, ranked: Iterable[QuestionWorth], found: Examination, asked: int
    ) -> Iterator[QuestionInWords]:
        knowledge = self._examiner.knowledge
        changes = _changes_first(found, knowledge)
        for worth in ranked:
            if next_question([worth], asked=asked, scale=self._scale, changes_plan=changes):
                yield _in_words(worth, knowledge)


def causes_in_question(found: Examination, graph: CauseGraph) -> frozenset[str]:
    """Give the causes in play that can lead to something that was seen; all in play where nothing was."""
    in_play = found.diagnosis.own
    seen = set(found.seen)
    if not seen:
        return frozenset(in_play)
    return frozenset(cause for cause in in_play if seen & graph.influence.get(cause, {}).keys())


def _changes_first(found: Examination, knowledge: Knowledge) -> Callable[[Outcome], bool]:
    """Say of an outcome whether another cause than now would be treated first, or the first for certain.

    The first change is for the most probable cause that a lever is known for: a look at that stands in for solving
    every lever anew for every answer. A first change that was a guess and becomes more likely than not to be right,
    or the other way round, counts as another one. Which further causes would be treated as well is left out on
    purpose: to simulated bakers it brought three times the questions and no more causes found.
    """
    with_levers = {lever.for_ for lever in knowledge.levers.values()}

    def first(probability: Mapping[str, float]) -> tuple[str, bool] | None:
        treated = [cause for cause in probability if cause in with_levers]
        best = max(treated, key=lambda cause: (probability[cause], cause), default=None)
        return None if best is None else (best, probability[best] >= 0.5)

    now = first(found.diagnosis.own)
    return lambda outcome: first(outcome.probability) != now


def _in_words(worth: QuestionWorth, knowledge: Knowledge) -> QuestionInWords:
    if worth.kind == "symptom":
        symptom = knowledge.symptoms[worth.id]
        return QuestionInWords(
            kind="symptom",
            id=symptom.id,
            question=symptom.question,
            because=symptom.look,
            answers=SEEN_OR_NOT,
            gain=worth.gain,
        )
    return _question_in_words(knowledge.questions[worth.id], worth.gain)


def _question_in_words(question: Question, gain: float) -> QuestionInWords:
    return QuestionInWords(
        kind="question",
        id=question.id,
        question=question.question,
        because=question.because,
        answers=dict(question.answers),
        gain=gain,
    )
