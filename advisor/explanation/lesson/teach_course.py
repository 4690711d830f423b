"""The course of one topic: formula, questions, one firing at a time, the chain link by link, rivals, what to change."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.diagnosis.ranking import CauseRank
from advisor.explanation.causes import named_causes
from advisor.explanation.chains import chain_of, names_of
from advisor.explanation.facts import because_of, evidence_line, firing_facts
from advisor.explanation.lesson.teach_answers import Changes, answered
from advisor.explanation.lesson.teach_steps import (
    LETTERS,
    ChainLink,
    ClassQuestion,
    Course,
    Side,
    Step,
    Topic,
)
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import change_text, percent, with_article
from advisor.inference.proof import Proof, why
from advisor.remedy.constraints import Constraints
from advisor.remedy.proposing import propose


def course_of(topic: Topic, examiner: Examiner) -> Course:
    """Build all steps of a topic.

    Raises:
        ChangeFault, LessonFault: a lesson that does not fit its formula or its engine.
    """
    found = None
    if topic.formula is not None:
        found = examiner.examine(topic.formula, saw=topic.saw, after_bake=bool(topic.saw))
    chain = chain_of(topic, found, examiner)
    builder = _Builder(topic, found, chain, examiner)
    return Course(
        topic=topic,
        found=found,
        chain=chain,
        steps=tuple(builder.steps()),
        names=names_of(examiner.knowledge),
    )


class _Builder:
    def __init__(
        self, topic: Topic, found: Examination | None, chain: tuple[ChainLink, ...], examiner: Examiner
    ) -> None:
        self.topic, self.found, self.chain, self.examiner = topic, found, chain, examiner
        self.knowledge = examiner.knowledge
        self.limits = Thresholds.read(examiner.knowledge)
        self.names = names_of(examiner.knowledge)

    def steps(self) -> Iterator[Step]:
        yield self._opening()
        first, last = self._questions()
        yield from first
        if self.found is not None:
            yield from self._firings(self.found)
            yield from self._odds(self.found)
        yield from (self._link(link) for link in self.chain)
        yield from self._fault()
        if self.found is not None:
            yield from self._rivals(self.found)
            yield self._verdict(self.found)
            yield from self._change(self.found)
        yield from last
        if self.topic.lesson is not None:
            yield Step(kind="end", row="slice", title="To remember", body=(self.topic.lesson.remember,))

    def _opening(self) -> Step:
        lesson, formula = self.topic.lesson, self.topic.formula
        body = [lesson.says] if lesson else []
        if self.topic.saw:
            seen = ", ".join(self.names[s].lower() for s in self.topic.saw)
            body.append(f"The loaf showed: {seen}.")
        if formula is None:
            body.append(
                "No demo formula shows this; what follows are the links alone, as strong as they can be."
            )
            return Step(kind="formula", row="plan", title=self.topic.title, body=tuple(body))
        changed = lesson.changed if lesson else ()
        if changed:
            body.append(f"The demo formula {lesson.formula if lesson else ''} with: {'; '.join(changed)}.")
        lines = [f"{line.grams:.4g} g {line.ingredient.name}" for line in formula.lines]
        if self.found is not None:
            lines += _process_lines(self.found)
        return Step(kind="formula", row="plan", title=formula.name, body=tuple(body), facts=tuple(lines))

    def _questions(self) -> tuple[list[Step], list[Step]]:
        """Questions about the formula as it is, and those about a change of it."""
        if self.topic.lesson is None or self.found is None:
            own = self._own_question()
            return ([own] if own else []), []
        changes = Changes(self.topic, self.examiner)
        steps: tuple[list[Step], list[Step]] = ([], [])
        for question in self.topic.lesson.questions:
            asked = answered(question, self.topic, self.found, self.examiner, changed_at=changes)
            title = (
                "What happens if: " + "; ".join(question.after) if question.after else "What do you think?"
            )
            steps[1 if question.after else 0].append(
                Step(kind="question", row="plan", title=title, asked=asked)
            )
        return steps

    def _own_question(self) -> Step | None:
        """For a formula without a lesson: which of the likeliest causes it is, in no order that tells."""
        if self.found is None or self.topic.cause is None:
            return None
        ranks = [r for r in self.found.diagnosis.causes if r.refines is None or r.id == self.topic.cause]
        ids = sorted({r.id for r in ranks[: len(LETTERS)]} | {self.topic.cause})[: len(LETTERS)]
        if self.topic.cause not in ids or len(ids) < 2:
            return None
        best = max(ids, key=lambda c: self._chance(c))
        asked = ClassQuestion(
            ask="Which of these is the likeliest cause of trouble in this formula?",
            after=(),
            choices=tuple(self.names[c] for c in ids),
            right=ids.index(best),
            found=", ".join(f"{self.names[c]} {percent(self._chance(c))}" for c in ids),
            because=self.knowledge.causes[best].says,
        )
        return Step(kind="question", row="plan", title="What do you think?", asked=asked)

    def _chance(self, cause: str) -> float:
        rank = self.found.diagnosis.cause(cause) if self.found else None
        return rank.probability if rank else 0.0

    def _firings(self, found: Examination) -> Iterator[Step]:
        if self.topic.cause is None:
            return
        proof = why(found.inference, self.knowledge.rules.values(), "suspect", self.topic.cause)
        wanted = set(_rules_in(proof)) if proof else set()
        row = next((link.row for link in self.chain if link.start == self.topic.cause), "plan")
        for firing in found.inference.firings:
            if firing.rule not in wanted:
                continue
            said = [
                s for s in found.inference.suspicions if s.rule == firing.rule and s.cause == self.topic.cause
            ]
            concluded = [evidence_line(s, self.knowledge) for s in said]
            if not concluded:
                concluded = [f"So: {self._concluded(*fact)}" for fact in firing.conclusions]
            yield Step(
                kind="rule",
                row=row if said else "plan",
                title=f"Rule {firing.rule}",
                body=(because_of(firing.rule, found, self.knowledge), *concluded),
                facts=firing_facts(firing, found, self.knowledge),
                rule=firing.rule,
            )

    def _concluded(self, kind: str, name: str) -> str:
        if kind == "structure":
            return f"this is {with_article(self.knowledge.structures[name].name)}"
        return name.replace("_", " ") if kind == "state" else f"{kind} {name.replace('_', ' ')}"

    def _odds(self, found: Examination) -> Iterator[Step]:
        cause = self.topic.cause
        rank = found.diagnosis.cause(cause) if cause else None
        if cause is None or rank is None:
            return
        entry = self.knowledge.causes[cause]
        facts = [
            f"in any loaf: {percent(entry.base_rate)}",
            f"with what the rules found: {percent(rank.prior)}",
        ]
        if found.situation.symptoms:
            facts.append(f"with what was seen as well: {percent(rank.own)}")
        yield Step(
            kind="odds", row="plan", title=f"{entry.name}: {self.limits.likelihood(rank.probability)}",
            body=(entry.says,),
            facts=tuple(facts),
        )  # fmt: skip

    def _link(self, link: ChainLink) -> Step:
        mechanism = self.knowledge.mechanisms.get(link.to)
        symptom = self.knowledge.symptoms.get(link.to)
        says = mechanism.says if mechanism else (symptom.says if symptom else "")
        facts = [f"happens in {percent(link.strength)} of such cases ({link.grade})"]
        if self.found is not None:
            facts.append(
                f"so {percent(link.carried)} of the chance arrives here" + ("" if link.lit else ": out")
            )
        return Step(
            kind="link", row=link.row, title=f"{self.names[link.start]} -> {self.names[link.to].lower()}",
            body=(says,), facts=tuple(facts), link=link.key,
        )  # fmt: skip

    def _fault(self) -> Iterator[Step]:
        if (symptom := self.topic.symptom) is None:
            return
        entry = self.knowledge.symptoms[symptom]
        facts = [f"how to look: {entry.look}"]
        if self.found is not None:
            risk = self.found.diagnosis.risks[symptom]
            facts.insert(0, f"risk: {percent(risk.risk)}")
            facts[1:1] = [
                f"of it from {self.names[c.cause].lower()}: {percent(c.share)}"
                for c in risk.contributions[: self.limits.causes_usual]
            ]
        yield Step(kind="fault", row="slice", title=entry.name, body=(entry.says,), facts=tuple(facts))

    def _rivals(self, found: Examination) -> Iterator[Step]:
        rival = self._rival(found)
        own = found.diagnosis.cause(self.topic.cause) if self.topic.cause else None
        if rival is None or own is None:
            return
        yield Step(
            kind="rivals", row="slice", title="Two causes that compete",
            body=("The same loaf, and what speaks for and against each of the two.",),
            sides=(self._side(own, found), self._side(rival, found)),
        )  # fmt: skip

    def _rival(self, found: Examination) -> CauseRank | None:
        """The likeliest other cause, one that leads to the same symptom first; a kind is no rival of its parent."""
        own = self.topic.cause
        family = {own, self.knowledge.causes[own].refines} if own else set()
        others = [
            r for r in found.diagnosis.causes
            if r.id not in family and r.refines not in {own} and r.probability >= self.limits.rival_shown
        ]  # fmt: skip
        graph = self.examiner.graph_of(found.formula)
        same = [r for r in others if self.topic.symptom in graph.influence.get(r.id, {})]
        return next(iter(same or others), None)

    def _side(self, rank: CauseRank, found: Examination) -> Side:
        fired = {firing.rule for firing in found.inference.firings}
        speaks = [because_of(r, found, self.knowledge) for r in rank.rules_for if r in fired]
        speaks += [f"It explains: {self.names[s].lower()}." for s in rank.seen_for]
        against = [because_of(r, found, self.knowledge) for r in rank.rules_against if r in fired]
        against += [f"It would have brought: {self.names[s].lower()}." for s in rank.absent_against]
        return Side(
            title=f"{self.names[rank.id]}: {percent(rank.probability)}",
            speaks_for=tuple(dict.fromkeys(speaks)) or ("Nothing but how often it happens.",),
            against=tuple(dict.fromkeys(against)) or ("Nothing.",),
        )

    def _verdict(self, found: Examination) -> Step:
        lines = [
            f"{percent(r.probability)} {self.names[r.id]}"
            for r in named_causes(found, self.limits)[: self.limits.lesson_named]
        ]
        risks = sorted(found.diagnosis.risks.values(), key=lambda r: (-r.risk, r.symptom))[
            : self.limits.lesson_named
        ]
        lines += [f"risk {percent(r.risk)}: {self.names[r.symptom].lower()}" for r in risks]
        return Step(kind="verdict", row="slice", title="What the assistant says", facts=tuple(lines))

    def _change(self, found: Examination) -> Iterator[Step]:
        plans = propose(self.examiner, found, Constraints()).proposals[: self.limits.lesson_changes]
        if not plans:
            return
        lines = [
            f"{n}. {p.says}: {'; '.join(change_text(c) for c in p.changes)}" for n, p in enumerate(plans, 1)
        ]
        for plan in plans[:1]:
            falls = sorted(plan.risk.items(), key=lambda i: (i[1][1] - i[1][0], i[0]))[
                : self.limits.risks_named
            ]
            lines += [f"risk of {self.names[s].lower()}: {percent(a)} to {percent(b)}" for s, (a, b) in falls]
        yield Step(
            kind="change", row="plan", title="What to change", body=(plans[0].because,), facts=tuple(lines)
        )


def _process_lines(found: Examination) -> Iterator[str]:
    with_defaults, bake = found.workings.dough_state.with_defaults, found.workings.bake
    proof = f"proof {{{with_defaults.proof_min:.0f} min}} at {{{with_defaults.proof_c:.0f} C}}"
    yield f"mixed {{{with_defaults.mix_min:.0f} min}}, {proof if with_defaults.proof_min else 'no proof'}"
    if bake is not None:
        yield f"oven {{{with_defaults.oven_c:.0f} C}} for {{{bake.pulled_at_min:.0f} min}}"


def _rules_in(proof: Proof) -> Iterator[str]:
    if proof.rule is not None:
        yield proof.rule
    for child in proof.children:
        yield from _rules_in(child)
