"""Rounds of questions with a simulated baker, by three ways of asking, and what they come to.

The exhaustive look-ahead tries every question with every answer, and every question after it. It keeps the likelihood
ratios of answers as they are before the first of the two: rules that read two answers at once are not read again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from simulated_bakers import Baker, place

from advisor.diagnosis.answers import AnswerRatios
from advisor.diagnosis.asking import QuestionChooser, causes_in_question
from advisor.diagnosis.diagnosis import signs_of
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.next_question import Outcome, QuestionWorth, rank_questions
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.diagnosis.posterior import Evidence

AT_MOST = 8

Question = tuple[str, str]
"""Kind ("symptom" or "question") and id."""
Way = Callable[[Examination, Collection[str], int], Question | None]
"""What was found, ids that were asked in vain, number asked so far: what to ask next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """One round: place of the true cause after 0, 1, 2 ... questions, what was asked, and how long it took."""

    loaf: str
    places: tuple[int, ...]
    asked: tuple[str, ...]
    seconds: float

    def place_after(self, questions: int) -> int:
        """Place after so many questions, or at the end where the round ended before."""
        return self.places[min(questions, len(self.places) - 1)]


def hold_round(baker: Baker, way: Way, examiner: Examiner) -> Round:
    """Ask until the way of asking has no more questions."""
    saw, not_seen, answers, skipped = list(baker.ticked), [], {}, []
    places, asked, seconds = [], [], 0.0
    knowledge = examiner.knowledge
    measured = examiner.measured(baker.loaf.formula)
    while True:
        found = examiner.examine(
            baker.loaf.formula,
            saw=saw,
            not_seen=not_seen,
            answers=answers,
            after_bake=True,
            measured=measured,
        )
        places.append(place(found, baker.loaf))
        if (question := way(found, skipped, len(asked))) is None:
            return Round(loaf=baker.loaf.id, places=tuple(places), asked=tuple(asked), seconds=seconds)
        kind, name = question
        asked.append(name)
        if kind == "symptom":
            seconds += knowledge.symptoms[name].seconds
            there = baker.sees(name)
            {True: saw, False: not_seen, None: skipped}[there].append(name)
        else:
            seconds += knowledge.questions[name].seconds
            answer = baker.answers(name)
            if answer is None:
                skipped.append(name)
            else:
                answers[name] = answer


# ---- ways of asking


def as_chosen(chooser: QuestionChooser) -> Way:
    """The question that the program would ask."""

    def way(found: Examination, skipped: Collection[str], asked: int) -> Question | None:
        chosen = chooser.choose(found, skipped=skipped, asked=asked)
        return None if chosen is None else (chosen.kind, chosen.id)

    return way


def in_fixed_order(examiner: Examiner) -> Way:
    """The symptoms from the first of the list to the last, whatever was answered."""

    def way(found: Examination, skipped: Collection[str], asked: int) -> Question | None:
        known = {*found.situation.symptoms, *skipped}
        open_ = (s for s in examiner.knowledge.symptoms if s not in known)
        return None if asked >= AT_MOST else next((("symptom", s) for s in open_), None)

    return way


def looking_ahead(chooser: QuestionChooser, examiner: Examiner) -> Way:
    """The first of the two questions that together tell most a second; it stops where the program would."""
    ratios = AnswerRatios(examiner)

    def way(found: Examination, skipped: Collection[str], asked: int) -> Question | None:
        if chooser.choose(found, skipped=skipped, asked=asked) is None:
            return None
        return _best_of_two(found, skipped, examiner, ratios)

    return way


def _best_of_two(
    found: Examination, skipped: Collection[str], examiner: Examiner, ratios: AnswerRatios
) -> Question:
    symptoms = examiner.knowledge.symptoms
    scale = EvidenceScale.read(examiner.knowledge.coefficients)
    graph = examiner.graph_of(found.formula)
    signs = signs_of(graph, symptoms)
    causes = causes_in_question(found, graph)
    known = {*found.situation.symptoms, *found.situation.answers, *skipped}
    facts = {fact.question: fact for fact in ratios.facts(found, causes, known=known)}

    def rank(evidence: Evidence, known: Collection[str]) -> tuple[QuestionWorth, ...]:
        then = replace(found.diagnosis, evidence=evidence)
        return rank_questions(then, signs, symptoms, known, facts.values(), scale=scale, of=causes)

    def with_answer(worth: QuestionWorth, outcome: Outcome) -> Evidence:
        evidence = found.diagnosis.evidence
        if worth.kind == "question":
            told = facts[worth.id].ratios[outcome.answer]
            return replace(evidence, priors=multiplied(evidence.priors, told))
        sign = signs[worth.id]
        if outcome.answer == "absent":
            return replace(evidence, absent=(*evidence.absent, sign))
        alike = [symptoms[s.symptom].alike for s in evidence.present]
        repeats = alike.count(symptoms[worth.id].alike) if symptoms[worth.id].alike else 0
        return replace(evidence, present=(*evidence.present, sign.damped(scale.alike_exponent**repeats)))

    best, most = None, -1.0
    for worth in rank(found.diagnosis.evidence, known):
        gain, seconds = worth.gain, worth.seconds
        for outcome in worth.outcomes:
            then = rank(with_answer(worth, outcome), {*known, worth.id})
            if then:
                gain += outcome.likelihood * then[0].gain
                seconds += outcome.likelihood * then[0].seconds
        if gain / seconds > most:
            best, most = (worth.kind, worth.id), gain / seconds
    assert best is not None
    return best


def multiplied(priors: Mapping[str, float], ratios: Mapping[str, float]) -> dict[str, float]:
    """Priors with their odds multiplied."""
    return {c: p * ratios.get(c, 1.0) / (1 - p + p * ratios.get(c, 1.0)) for c, p in priors.items()}


# ---- what the rounds come to


def found_after(rounds: Sequence[Round], questions: int, among: int) -> int:
    """How many rounds have the true cause among the first so many causes after so many questions."""
    return sum(r.place_after(questions) <= among for r in rounds)


def mean_questions(rounds: Sequence[Round], at_most: int = AT_MOST) -> float:
    """Questions asked a round, if rounds were cut after so many."""
    return sum(min(len(r.asked), at_most) for r in rounds) / len(rounds)


def needed_for(rounds: Sequence[Round], share: float, among: int) -> float | None:
    """Mean number of questions at which this share is found, between cuts in proportion; `None` if never."""
    before = (0.0, 0.0)
    for cut in range(AT_MOST + 1):
        now = (mean_questions(rounds, cut), found_after(rounds, cut, among) / len(rounds))
        if now[1] >= share:
            rise = now[1] - before[1]
            return (
                now[0]
                if cut == 0 or rise <= 0
                else before[0] + (now[0] - before[0]) * (share - before[1]) / rise
            )
        before = now
    return None


def all_rounds(bakers: Iterable[Baker], way: Way, examiner: Examiner) -> list[Round]:
    """Hold a round with every baker."""
    return [hold_round(baker, way, examiner) for baker in bakers]
