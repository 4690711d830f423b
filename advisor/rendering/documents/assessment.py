"""From an assessment and its answer to the document of the kind `check` or `diagnosis`.

Which causes are named, the numbers of the changes and what is asked are the answer's own, as on every page.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields

from advisor.diagnosis.asking import QuestionInWords
from advisor.diagnosis.pipeline import Examination
from advisor.explanation.answer import Answer
from advisor.explanation.answering import answer_of
from advisor.explanation.causes import ordered_causes
from advisor.explanation.changes import ChangeWords
from advisor.explanation.further import Further
from advisor.explanation.quantities import runs_of
from advisor.explanation.thresholds import Thresholds
from advisor.formula.formula import Process
from advisor.formula.writing.as_text import process_values
from advisor.inference.situation import Situation
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Assessment
from advisor.remedy.plan.first_trial import FirstTrial
from advisor.remedy.plan.joint_plan import JointPlan
from advisor.remedy.proposal import Proposal
from advisor.rendering.documents.assessment_shapes import (
    AssessmentDocument,
    BakeShape,
    CauseShape,
    CheckDocument,
    DiagnosisDocument,
    OpenShape,
    QuestionShape,
    SymptomShape,
    VerdictShape,
)
from advisor.rendering.documents.dough import formula_shape, measure_shapes, nutrition_shape, process_shapes
from advisor.rendering.documents.kitchen import changes_of
from advisor.rendering.documents.remedy_shapes import (
    ByHandShape,
    ExpectedShape,
    FirstTrialShape,
    HandSlipShape,
    JointPlanShape,
    ProposalShape,
    RescueShape,
    SlipShape,
)
from advisor.rendering.documents.shape import CautionShape
from advisor.rendering.quantities import runs_text

_TOGETHER = {"bake_min": ("oven_c",), "proof_c": ("proof_min",)}
"""What stands on one line with it and before it."""


def assessment_document(
    assessment: Assessment,
    knowledge: Knowledge,
    question: QuestionInWords | None = None,
    further: Further | None = None,
) -> AssessmentDocument:
    """Give the whole document, with the question to ask next, if there is one."""
    answer = answer_of(assessment, knowledge, further, question=question)
    return _Making(assessment, answer, knowledge, further or Further(), question).document()


class _Making:
    """One document in the making."""

    def __init__(
        self,
        assessment: Assessment,
        answer: Answer,
        knowledge: Knowledge,
        further: Further,
        question: QuestionInWords | None,
    ) -> None:
        self._of = assessment
        self._answer = answer
        self._found: Examination = assessment.examination
        self._knowledge = knowledge
        self._further = further
        self._question = question
        self._words = ChangeWords(knowledge)

    def document(self) -> AssessmentDocument:
        of, found, further, answer = self._of, self._found, self._further, self._answer
        made = CheckDocument if of.kind == "check" else DiagnosisDocument
        return made(
            verdict=VerdictShape(
                wrong=answer.verdict.wrong,
                says=runs_text(answer.verdict.problem),
                change_first=runs_text(answer.verdict.first),
            ),
            formula=formula_shape(found, self._words),
            process=process_shapes(found),
            structure=found.structure,
            structures=found.inference.structures,
            measures=measure_shapes(found, self._knowledge, further.sure),
            symptoms=self._symptoms(),
            causes=self._causes(),
            proposals=tuple(self._proposal(c.number, c.proposal) for c in answer.changes),
            joint_plan=self._joint(further.joint) if further.joint else None,
            first_trial=self._first(further.first) if further.first else None,
            rescues=tuple(
                RescueShape(id=r.id, says=r.says, because=r.because, caution=r.mind or "")
                for r in further.rescues
            ),
            next_question=self._next(self._question) if self._question else None,
            asked=tuple(
                OpenShape(
                    what=runs_text(q.asks),
                    why=runs_text(q.took),
                    write=q.write or _how_to_answer(q.id, found.situation, self._knowledge),
                )
                for q in answer.asked
            ),
            not_judged=self._not_judged(),
            bake=None
            if answer.bake is None
            else BakeShape(
                id=answer.bake.id, name=answer.bake.name, likelihood=answer.bake.likelihood, by=answer.bake.by
            ),
            slips=self._slips(),
            by_hand=self._by_hand(),
            allergens=tuple(name.replace("_", " ") for name in answer.allergens),
            nutrition=nutrition_shape(found.workings, self._knowledge),
            reminders=of.reminders,
            cautions=tuple(
                CautionShape(id=c.id, short=c.short, text=c.text, sources=c.sources) for c in of.cautions
            ),
            limits_broken=of.broken,
            assumed=of.assumed,
            warnings=of.warnings,
        )

    def _by_hand(self) -> ByHandShape | None:
        if (hand := self._further.hand) is None:
            return None
        return ByHandShape(
            explained=hand.explained,
            as_written=hand.as_written,
            slips=tuple(
                HandSlipShape(
                    id=s.id, line=s.line, probability=s.probability, says=runs_text(runs_of(s.says)),
                    asks=s.asks, brings=s.brings,
                )
                for s in hand.found
                if s.brings
            ),
        )  # fmt: skip

    def _not_judged(self) -> tuple[OpenShape, ...]:
        """What no model and no rule could judge; that a measure does not apply (no yeast) is no gap."""
        return tuple(
            OpenShape(what=gap.what, why=gap.why, write=gap.write or None) for gap in self._found.not_judged
        )

    def _symptoms(self) -> Mapping[str, SymptomShape]:
        risks, observed = self._found.diagnosis.risks, self._found.situation.symptoms
        return {
            name: SymptomShape(
                name=self._knowledge.symptoms[name].name,
                risk=risk.risk,
                agree=self._further.sure.agree.get(name) if self._further.sure else None,
                observed=observed.get(name),
            )
            for name, risk in sorted(risks.items(), key=lambda i: (-i[1].risk, i[0]))
        }

    def _causes(self) -> tuple[CauseShape, ...]:
        named = [cause.id for cause in self._answer.causes]
        ranks = ordered_causes(self._found, Thresholds.read(self._knowledge))
        return tuple(
            CauseShape(
                id=rank.id,
                name=self._knowledge.causes[rank.id].name,
                probability=rank.probability,
                calibrated=False,
                refines=rank.refines,
                named=rank.id in named,
                chains=rank.chains,
                rules=rank.rules,
            )
            for rank in ranks
        )

    def _proposal(self, number: int, p: Proposal) -> ProposalShape:
        return ProposalShape(
            number=number,
            lever=p.lever,
            cause=p.cause,
            kind=p.kind,
            says=p.says,
            because=p.because,
            changes=changes_of(p.changes, self._words),
            measures=p.measures,
            risk=p.risk,
            net_carb_per_slice=p.net_carb_per_slice,
            side_effects=p.side_effects,
            relief=p.relief,
            effort=p.effort,
        )

    def _joint(self, plan: JointPlan) -> JointPlanShape:
        return JointPlanShape(
            changes=changes_of(plan.changes, self._words),
            measures=plan.measures,
            risk=plan.risk,
            net_carb_per_slice=plan.net_carb_per_slice,
            relief=plan.relief,
            unmet=plan.unmet,
            relaxed=plan.relaxed,
        )

    def _first(self, trial: FirstTrial) -> FirstTrialShape:
        number = next(c.number for c in self._answer.changes if c.proposal == trial.proposal)
        return FirstTrialShape(
            number=number,
            lever=trial.proposal.lever,
            symptom=trial.symptom,
            bits=trial.bits,
            expect=tuple(
                ExpectedShape(cause=e.cause, probability=e.probability, gone=e.gone)
                for e in trial.expectations
            ),
        )

    def _next(self, asked: QuestionInWords) -> QuestionShape:
        return QuestionShape(
            id=asked.id, question=asked.question, because=asked.because, answers=asked.answers
        )

    def _slips(self) -> tuple[SlipShape, ...] | None:
        if self._further.slips is None:
            return None
        return tuple(
            SlipShape(what=s.what, off_g=s.off, symptom=s.symptom, risk=s.risk, leaves=s.leaves)
            for s in self._further.slips
        )


def _how_to_answer(asked: str, situation: Situation, knowledge: Knowledge) -> str | None:
    """Give the line with what was assumed in it, to be mended; or the options that answer a question."""
    if asked in knowledge.symptoms:
        return f"--saw {asked}, or --not {asked}"
    if (question := knowledge.questions.get(asked)) is not None:
        return f"answers: {{{asked}: {' or '.join(question.answers)}}}, in the file of --answers"
    known = {**situation.process_words, **situation.process_numbers}
    names = [name for name in (*_TOGETHER.get(asked, ()), asked) if name in known]
    if asked not in known or not {f.name for f in fields(Process)}.issuperset(names):
        return None
    values = {name: known[name] for name in names}
    try:
        said = process_values(Process(**values))  # type: ignore[arg-type]  # as the situation has them
    except ValueError:
        return None
    return "; ".join(f"{key}: {value}" for key, value in said.items()) or None
