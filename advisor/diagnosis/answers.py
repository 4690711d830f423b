"""What an answer that was not given yet would do to the odds of each cause.

That is written down nowhere: the rules that read the answer are read again as if it had been given, and the odds
after are laid against the odds before. Only rules that suspect are read here; where an answer leads to a state or
takes one away, from which further rules may follow, the engine runs once more.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from advisor.diagnosis.assumed_evidence import Reach, with_assumed_evidence
from advisor.diagnosis.cause_odds import prior_of
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.next_question import AskedFact
from advisor.diagnosis.pipeline import FALLBACK_STRUCTURE, Examination, Examiner
from advisor.diagnosis.told_evidence import told_over_figures
from advisor.inference.condition_reading import Known, read_condition
from advisor.inference.inferring import infer
from advisor.inference.phases import condition_of
from advisor.inference.rule_outline import Outline, outline
from advisor.inference.situation import Suspicion
from advisor.knowledge_base.rule_entries import Denial, Rule

_LEAST_RATIO = 1.05
"""Odds that move by less are not moved."""


class AnswerRatios:
    """Knows which rules read which question; built once per examiner, and safe to share."""

    def __init__(self, examiner: Examiner) -> None:
        self._examiner = examiner
        self._scale = EvidenceScale.read(examiner.knowledge.coefficients)
        self._readers: dict[str, list[tuple[Rule, Outline]]] = {}
        self._read: dict[str, set[str]] = {}
        for rule in examiner.knowledge.rules.values():
            for condition in map(condition_of, rule.when):
                if condition.answer is not None:
                    self._readers.setdefault(condition.answer, []).append((rule, outline(rule)))
                    self._read.setdefault(condition.answer, set()).add(str(condition.is_))

    def facts(
        self, found: Examination, causes: Collection[str], *, known: Collection[str] = ()
    ) -> tuple[AskedFact, ...]:
        """Give every question not in `known` of which an answer would speak for one of `causes`."""
        facts = []
        for question in self._examiner.knowledge.questions.values():
            if question.id in known or question.id not in self._read:
                continue
            ratios = {a: self.ratios(found, question.id, a, causes) for a in question.answers}
            if any(ratio > 1.0 for by_cause in ratios.values() for ratio in by_cause.values()):
                facts.append(AskedFact(question=question.id, seconds=question.seconds, ratios=ratios))
        return tuple(facts)

    def ratios(
        self, found: Examination, question: str, answer: str, causes: Collection[str]
    ) -> Mapping[str, float]:
        """Give cause to odds after the answer over odds before; causes that it does not move are left out."""
        if answer not in self._read.get(question, ()):
            return {}
        answered = self._examiner.answered
        before = told_over_figures(found.inference.suspicions, answered)
        after = told_over_figures(self._suspicions(found, question, answer), answered)
        touched = {s.cause for s in set(before) ^ set(after)}
        moved = {}
        for cause in sorted(touched & set(causes) & found.diagnosis.priors.keys()):
            ratio = self._odds(cause, after) / self._odds(cause, before)
            if not 1.0 / _LEAST_RATIO <= ratio <= _LEAST_RATIO:
                moved[cause] = ratio
        return moved

    def _odds(self, cause: str, suspicions: Iterable[Suspicion]) -> float:
        entry = self._examiner.knowledge.causes[cause]
        p = prior_of(entry, suspicions, self._scale, after_bake=True).probability
        return p / (1.0 - p)

    def _suspicions(self, found: Examination, question: str, answer: str) -> list[Suspicion]:
        situation = replace(found.situation, answers={**found.situation.answers, question: answer})
        known = Known(
            situation=situation,
            structures=found.inference.structures,
            judged=found.inference.judged,
            states=frozenset(found.inference.states),
        )
        readers = self._readers[question]
        fired = {firing.rule for firing in found.inference.firings}
        if any(
            says.phase != "suspect" and _fires(rule, says, known) is not (rule.id in fired)
            for rule, says in readers
        ):
            e = self._examiner
            then = infer(
                situation,
                e.rules,
                e.kinds.of(found.workings.dough_state).bands.judge,
                engine=e.engine,
                fallback_structure=FALLBACK_STRUCTURE,
            )
            return list(with_assumed_evidence(then, found.assumed, e.knowledge.unstated).suspicions)
        names = {rule.id for rule, _ in readers}
        out = [s for s in found.inference.suspicions if s.rule not in names]
        reach = Reach.of(found.inference.firings, found.assumed, self._examiner.knowledge.unstated)
        for rule, says in readers:
            if _fires(rule, says, known):
                share = reach.share(says.premises)
                out += (replace(s, share=share) for s in _said(rule, says, known))
        return out


def _fires(rule: Rule, says: Outline, known: Known) -> bool:
    return all(
        read_condition(condition_of(clause), says.phase, known).holds is not isinstance(clause, Denial)
        for clause in rule.when
    )


def _said(rule: Rule, says: Outline, known: Known) -> tuple[Suspicion, ...]:
    """Give what a rule that fires says: as strongly as the weakest of its graded conditions."""
    graded = [read_condition(condition, says.phase, known) for condition in says.graded]
    excess = min((r.excess for r in graded if r.excess is not None), default=1.0)
    depth = min((r.depth for r in graded if r.depth is not None), default=1.0)
    return says.suspicions(excess, depth)
