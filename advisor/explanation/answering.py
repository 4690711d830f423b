"""From an assessment to the one answer: order, numbers and depth of everything that is told are decided here."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Literal

from advisor.diagnosis.asking import QuestionInWords
from advisor.diagnosis.pipeline import Examination
from advisor.explanation.answer import (
    Answer,
    BakeFirst,
    Depth,
    Outcome,
    Question,
    SaidCause,
    SaidCaution,
    SaidChange,
    SaidRescue,
    SaidRisk,
    SaidSlip,
    SaidSure,
    Slips,
    Together,
)
from advisor.explanation.bake_kind import said_bake
from advisor.explanation.blocks import Runs
from advisor.explanation.by_hand import said_by_hand
from advisor.explanation.causes import said_causes
from advisor.explanation.changes import ChangeWords
from advisor.explanation.further import Further
from advisor.explanation.numbers import measures_behind, said_dough, said_numbers, said_oven, said_timeline
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.verdict import verdict_of
from advisor.explanation.wording import number, sentence
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import allergens
from advisor.remedy.assessing import Assessment, filled
from advisor.remedy.plan.first_trial import FirstTrial
from advisor.remedy.plan.joint_plan import JointPlan
from advisor.remedy.proposal import Proposal
from advisor.remedy.sensitivity import Slip

_PAIR = tuple[float, float]


def answer_of(
    assessment: Assessment,
    knowledge: Knowledge,
    further: Further | None = None,
    *,
    question: QuestionInWords | None = None,
    risk_limit: float | None = None,
) -> Answer:
    """Make the answer; `risk_limit` (0..1) is the knowledge's own where none is given."""
    return _Answering(assessment, knowledge, further or Further(), question, risk_limit).answer()


class _Answering:
    """One answer under way."""

    def __init__(
        self,
        assessment: Assessment,
        knowledge: Knowledge,
        further: Further,
        question: QuestionInWords | None,
        risk_limit: float | None,
    ) -> None:
        self._of = assessment
        self._found: Examination = assessment.examination
        self._knowledge = knowledge
        self._further = further
        self._question = question
        self._risk_limit = knowledge.coefficient("risk_limit") if risk_limit is None else risk_limit
        self._limits = Thresholds.read(knowledge)
        self._words = ChangeWords(knowledge)

    def answer(self) -> Answer:
        of, found, knowledge, limits, further = (
            self._of, self._found, self._knowledge, self._limits, self._further
        )  # fmt: skip
        causes = said_causes(found, knowledge, limits)
        changes = tuple(self._change(place, p) for place, p in enumerate(of.plans.proposals, 1))
        numbers = said_numbers(found, knowledge, limits, causes, further.sure)
        risks = self._risks()
        over = tuple(risk for risk in risks if risk.before >= self._risk_limit)
        broken = tuple(sentence(text) for text in of.broken)
        gaps = tuple(sentence(gap.says) for gap in found.not_judged)
        by_hand = said_by_hand(further.hand, knowledge, limits) if further.hand else None
        kind: Literal["check", "diagnosis"] = "check" if of.kind == "check" else "diagnosis"
        return Answer(
            kind=kind,
            name=found.formula.name,
            dough=said_dough(found, knowledge, limits),
            seen=tuple(knowledge.symptoms[s].name.lower() for s in found.seen),
            verdict=verdict_of(
                kind, risks=risks, over=over, causes=causes, changes=changes, numbers=numbers, broken=broken,
                limits=limits, gaps=gaps, decides=any(gap.decides for gap in found.not_judged), by_hand=by_hand,
            ),
            risks=over,
            asked=self._asked(causes),
            causes=causes,
            changes=changes,
            bake_first=self._bake_first(further.first) if further.first else None,
            look_for=self._look_for() if not further.first else (),
            together=self._together(further.joint) if further.joint else None,
            rescues=tuple(
                SaidRescue(
                    id=r.id, says=sentence(r.says), because=sentence(r.because),
                    caution=sentence(r.mind) if r.mind else (),
                )
                for r in further.rescues
            ),
            allergens=allergens(found.formula),
            cautions=tuple(
                SaidCaution(
                    id=c.id, short=sentence(c.short), text=sentence(c.text), decides=c.defers_to or "",
                    sources=c.sources,
                )
                for c in of.cautions
            ),
            reminders=tuple(sentence(text) for text in of.reminders),
            numbers=numbers,
            oven=said_oven(found),
            timeline=said_timeline(found, knowledge),
            slips=self._slips(further.slips) if further.slips is not None else None,
            assumed=tuple(sentence(text) for text in of.assumed),
            not_read=tuple(sentence(text) for text in of.warnings),
            by_hand=by_hand,
            sure=self._sure(risks) if further.sure is not None else (),
            not_judged=gaps,
            bake=said_bake(found, knowledge),
        )  # fmt: skip

    def _sure(self, risks: tuple[SaidRisk, ...]) -> tuple[SaidSure, ...]:
        """Draws that agree on each of the largest risks; the limit is the one that the draws were judged by."""
        agree = self._further.sure.agree if self._further.sure else {}
        return tuple(
            SaidSure(
                name=r.name,
                over=r.before >= self._knowledge.coefficient("risk_limit"),
                agree=agree[r.symptom],
            )
            for r in risks[: self._limits.numbers_usual]
            if r.symptom in agree
        )

    def _risks(self) -> tuple[SaidRisk, ...]:
        risks = sorted(self._found.diagnosis.risks.values(), key=lambda r: (-r.risk, r.symptom))
        return tuple(self._risk(r.symptom, r.risk) for r in risks)

    def _risk(
        self, symptom: str, before: float, after: float | None = None, shown: Depth = "full"
    ) -> SaidRisk:
        entry = self._knowledge.symptoms[symptom]
        word = self._limits.likelihood
        return SaidRisk(
            symptom=symptom, name=entry.name, says=entry.says, before=before, after=after,
            word=word(before), word_after="" if after is None else word(after), shown=shown,
        )  # fmt: skip

    def _moves(
        self, risk: Mapping[str, _PAIR], seen: Collection[str]
    ) -> tuple[tuple[SaidRisk, ...], tuple[SaidRisk, ...]]:
        """Risks that fall, what the baker saw first and then the largest fall; and those that rise, largest first."""
        moves = sorted(risk.items(), key=lambda item: (item[0] not in seen, item[1][1] - item[1][0], item[0]))
        falls = [(s, a, b) for s, (a, b) in moves if b < a and round(100 * a) != round(100 * b)]
        rises = [(s, a, b) for s, (a, b) in reversed(moves) if b - a >= self._limits.risk_rise_said]
        return self._moved(falls), self._moved(rises)

    def _moved(self, moves: Sequence[tuple[str, float, float]]) -> tuple[SaidRisk, ...]:
        """The most important ones: a few on any page, some more where everything is asked for."""
        few = self._limits.moves_usual
        return tuple(
            self._risk(*move, shown="brief" if place < few else "full")
            for place, move in enumerate(moves[: self._limits.moves_full])
        )

    def _change(self, place: int, proposal: Proposal) -> SaidChange:
        falls, rises = self._moves(proposal.risk, self._found.seen)
        usual: Depth = "usual" if place <= self._limits.changes_usual else "full"
        return SaidChange(
            number=place,
            proposal=proposal,
            says=proposal.says,
            what=tuple(self._words.runs(change) for change in proposal.changes),
            in_short=self._words.in_short(proposal.changes),
            because=sentence(proposal.because),
            falls=falls,
            rises=rises,
            reaches=self._reaches(proposal),
            beside=tuple(sentence(text) for text in proposal.side_effects),
            shown="brief" if place == 1 else usual,
        )

    def _reaches(self, proposal: Proposal) -> Runs:
        until = self._knowledge.levers[proposal.lever].until
        before, after = proposal.measures.get(until.measure, (None, None)) if until else (None, None)
        if until is None or before is None or after is None:
            return ()
        entry = self._knowledge.measures[until.measure]
        values = f"{number(before, entry.decimals)} to {number(after, entry.decimals)}"
        return (f"{entry.name[:1].upper()}{entry.name[1:]}: {values}.",)

    def _asked(self, causes: tuple[SaidCause, ...]) -> tuple[Question, ...]:
        """What was not stated and what a named cause rests on; then the question that would tell most."""
        found = self._found
        out = {
            n for n, j in found.inference.judged.items() if j.state != "in" and n in self._knowledge.measures
        }
        behind = out & measures_behind(found, {cause.id for cause in causes})
        groups = {self._knowledge.measures[name].group for name in behind}
        # What was taken is said by the models; how long it bakes is found by the oven.
        taken = {"bake_min", *found.workings.dough_state.with_defaults.assumed}
        asked = list(self._missing())
        asked += [
            Question(id=name, asks=sentence(entry.asks), took=self._took(name, entry.took))
            for name, entry in self._knowledge.unstated.items()
            if name not in found.situation.stated and name in taken and groups & set(entry.groups)
            and name not in {q.id for q in asked}
        ]  # fmt: skip
        if (next_one := self._question) is not None:
            asked.append(
                Question(id=next_one.id, asks=sentence(next_one.question), took=sentence(next_one.because))
            )
        return tuple(asked)

    def _missing(self) -> Iterator[Question]:
        """What the formula leaves out and every verdict hangs on; when a loaf is cut is asked where that may matter."""
        found = self._found
        for missing in found.formula.asked:
            entry = self._knowledge.unstated.get(missing.field)
            if missing.field in found.situation.stated or missing.field == "sliced_after_min":
                continue
            asks = entry.asks if entry else f"{missing.what[:1].upper()}{missing.what[1:]}?"
            took = self._took(missing.field, entry.took) if entry else sentence(missing.why)
            yield Question(id=missing.field, asks=sentence(asks), took=took, write=missing.write, first=True)

    def _took(self, name: str, took: str) -> Runs:
        """What was taken instead; of a bake that no model follows nothing was, and only the first words hold."""
        situation = self._found.situation
        known = name in situation.process_numbers or name in situation.process_words
        return sentence(filled(took, self._found) if known else took.partition(";")[0].rstrip(".") + ".")

    def _look_for(self) -> tuple[Runs, ...]:
        seen = [self._knowledge.symptoms[name] for name in self._found.seen]
        return tuple((f"{symptom.name}: ", *sentence(symptom.look)) for symptom in seen)

    def _bake_first(self, trial: FirstTrial) -> BakeFirst:
        symptom = self._knowledge.symptoms[trial.symptom]
        outcomes = sorted(trial.expectations, key=lambda e: -e.gone)
        return BakeFirst(
            number=self._of.plans.proposals.index(trial.proposal) + 1,
            symptom=symptom.name,
            look=sentence(symptom.look),
            outcomes=tuple(
                Outcome(
                    cause=self._knowledge.causes[e.cause].name, gone=e.gone, goes=e.gone >= self._limits.sign_gone
                )
                for e in outcomes
            ),
        )  # fmt: skip

    def _together(self, plan: JointPlan) -> Together:
        falls, rises = self._moves(plan.risk, self._found.seen)
        return Together(
            what=tuple(self._words.runs(change) for change in plan.changes),
            falls=falls,
            rises=rises,
            net_carb_g=plan.net_carb_per_slice,
            unmet=tuple(self._knowledge.measures[name].name for name in plan.unmet),
            relaxed=plan.relaxed,
        )

    def _slips(self, found: tuple[Slip, ...]) -> Slips:
        worst = [s for s in found if s.rise >= self._limits.slip_said][: self._limits.slips_shown]
        return Slips(
            share=self._knowledge.coefficient("slip_share"),
            worst=tuple(
                SaidSlip(
                    what=slip.what,
                    off_g=slip.off,
                    risk=self._risk(slip.symptom, *slip.risk),
                    leaves=tuple(self._knowledge.measures[name].name for name in slip.leaves),
                )
                for slip in worst
            ),
        )
