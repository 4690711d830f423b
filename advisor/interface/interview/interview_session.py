"""A whole interview: measures, formula, what the loaf shows, questions, result, and what is asked after it."""

from __future__ import annotations

import argparse
import os
import shlex
import sys
from datetime import datetime
from functools import partial
from pathlib import Path

from advisor.diagnosis.described_loaf import LoafExaminer
from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.answer import Answer
from advisor.explanation.answering import answer_of
from advisor.explanation.blocks import Heading
from advisor.explanation.further import Further
from advisor.explanation.page import change_item, page_of
from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import write_formula_text
from advisor.interface.desk.applying import applied, applied_page
from advisor.interface.desk.baker_measures import BakersMeasures, kept_measures
from advisor.interface.desk.bakers_answers import Told
from advisor.interface.desk.keeping import keep
from advisor.interface.desk.kept_once import KeptOnce
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.own_places import drafts_folder, measures_path
from advisor.interface.desk.prompting import HungUp, Left, Prompter, outliving_the_terminal
from advisor.interface.desk.showing import plain_lines
from advisor.interface.interview.interview_after import Shown, talk_it_over, write_transcript
from advisor.interface.interview.interview_draft import Draft, drafts_in
from advisor.interface.interview.interview_formula import NONE, Chosen, ask_for_loaf, formula_of, latest_bakes
from advisor.interface.interview.interview_loaf import ask_loaf, loaf_document, loaf_lines
from advisor.interface.interview.interview_missing import ask_for_missing
from advisor.interface.interview.interview_talk import Talk
from advisor.interface.interview.interview_ticks import Quit
from advisor.interface.interview.question_round import QuestionRound
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.assessing import Advisor, Assessment
from advisor.remedy.constraints import Constraints
from advisor.rendering.documents.assessment import assessment_document

HUNG_UP = 129


def run_interview(options: argparse.Namespace, advisor: Advisor, limits: Constraints) -> int:
    """Interview the baker at the terminal; exit 0 with a result, or where it is left to be gone on with.

    Raises:
        InputFault: the baker left before there was anything to go by.
    """
    talk = Talk(Prompter(), advisor.knowledge, BakersMeasures(), measures_path())
    try:
        with outliving_the_terminal():
            return _Interview(options, advisor, limits, talk).run()
    except HungUp:
        # Nobody reads any more; what is still buffered must not raise on the way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return HUNG_UP
    finally:
        if options.transcript:
            write_transcript(talk, Path(options.transcript))


def result_lines(answer: Answer) -> list[str]:
    """The usual page, which names the words of the talk where a command has options."""
    return plain_lines(page_of(answer, more="'more' has all numbers and the time axis.", ask="with 'more'"))


class _Interview:
    """One interview; its draft is written on every step."""

    def __init__(
        self, options: argparse.Namespace, advisor: Advisor, limits: Constraints, talk: Talk
    ) -> None:
        self._options = options
        self._advisor = advisor
        self._limits = limits
        self._talk = talk
        self._folder = drafts_folder()
        self._warned = False
        now = datetime.now().astimezone()  # the one look at the clock
        self._draft = Draft(began=f"{now:%Y-%m-%d %H:%M}")

    def run(self) -> int:
        """Go through it from the measures to the last prompt."""
        try:
            self._agree_on_measures()
            self._begin()
            formula, examiner = self._loaf()
            self._keep()
            questions = QuestionRound(self._talk, formula, examiner, self._draft.heard, self._keep)
            ended = questions.ask()
        except Quit:
            self._keep()
            self._talk.say("Kept. 'advisor diagnose' offers to go on with it.")
            return 0
        except Left:
            raise InputFault("advisor: stopped; nothing was told yet") from None
        again = True
        while again:
            again = self._result(formula, examiner, questions)
        if ended:
            self._draft.remove()
        elif self._draft.path is not None:
            self._talk.say("The interview is kept unfinished; 'advisor diagnose' offers to go on with it.")
        return 0

    def _agree_on_measures(self) -> None:
        talk, known = self._talk, kept_measures(measures_path())
        if (units := getattr(self._options, "units", None)) is not None:
            known = (known or talk.measures).with_units(units)
        if known is not None:
            talk.use(known)
            talk.say(f"Measures: {known.in_words()}. 'units' changes them.")
        else:
            talk.ask_measures(then_formula=self._options.formula is None)

    def _begin(self) -> None:
        """Find out which loaf it is, or go on with a draft of an earlier day."""
        word: str | None = self._options.formula
        drafts = drafts_in(self._folder, self._talk.knowledge)
        if word is None:
            chosen = ask_for_loaf(self._talk, drafts, latest_bakes(getattr(self._options, "record", None)))
        else:
            chosen = self._offered(word, [d for d in drafts if d.word == word])
        if chosen.draft is not None:
            self._draft = chosen.draft
        else:
            self._draft.word = "" if chosen.word == NONE else chosen.word
            self._draft.region = getattr(self._options, "named_region", None) or self._talk.measures.region

    def _offered(self, word: str, drafts: list[Draft]) -> Chosen:
        if not drafts:
            return Chosen(word=word)
        heard = drafts[0].heard
        self._talk.say(
            f"An interview about {word} of {drafts[0].began} is unfinished ({len(heard.ticked)} ticked, "
            f"{len(heard.given)} answered). Enter goes on with it; n begins anew."
        )
        typed = self._talk.prompter.line("> ").lower()
        return (
            Chosen(word=word) if typed in ("n", "no", "new", "anew") else Chosen(word=word, draft=drafts[0])
        )

    def _loaf(self) -> tuple[Formula, Examiner]:
        draft, talk = self._draft, self._talk
        if not draft.word and draft.kind is None:
            draft.kind = ask_loaf(talk)
        if draft.kind is not None:
            loaf = LoafExaminer(self._advisor.examiner, draft.kind)
            return loaf.loaf, loaf
        formula = formula_of(draft, talk.knowledge)
        if not (draft.heard.ticked or draft.heard.given):
            told = ask_for_missing(talk, formula, draft.region)
            if told.source_text != formula.source_text:
                # What was just said belongs to the formula that the answers can be given with again.
                draft.word = str(keep(told.source_text, name="formula", suffix=".txt"))
            formula = told
        draft.formula_text = formula.source_text
        formula, weighed = talk.measures.with_eggs(formula)
        for said in weighed:
            talk.say(f"Taken: {said}. Write the size in the formula to keep it so.")
        return formula, self._advisor.examiner

    def _keep(self) -> None:
        trouble = self._draft.keep(self._folder)
        if trouble and not self._warned:
            self._warned = True
            self._talk.say(f"(The answers cannot be kept as you go: {trouble}.)")

    def _result(self, formula: Formula, examiner: Examiner, questions: QuestionRound) -> bool:
        """Say the result and talk it over; `True` where it is to be said again."""
        told = questions.heard.told
        if isinstance(examiner, LoafExaminer):
            shown = self._loaf_result(examiner, questions)
        else:
            shown = self._formula_result(formula, told)
        if shown is None:
            return False
        if questions.heard.ticked:
            self._say_how_to_repeat(told)
        return talk_it_over(self._talk, questions, shown)

    def _loaf_result(self, examiner: LoafExaminer, questions: QuestionRound) -> Shown | None:
        found = questions.examined()
        if self._options.json:
            write_document(loaf_document(found, examiner, None))
            return None
        if self._options.apply is not None:
            raise InputFault("advisor: --apply needs the formula")
        self._talk.lines(["", *loaf_lines(found, examiner)])

        def change(_: str) -> list[str]:
            raise InputFault("advisor: without the formula there are directions only, and no change in grams")

        def keep_it() -> str:
            raise InputFault("advisor: without the formula there is no bake to keep")

        return Shown(found=found, more=lambda: loaf_lines(found, examiner), change=change, keep=keep_it)

    def _formula_result(self, formula: Formula, told: Told) -> Shown | None:
        advisor, limits, talk, options = self._advisor, self._limits, self._talk, self._options
        answer = advisor.diagnose(
            formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers, constraints=limits
        )
        if options.apply is not None:
            write_page(applied_page(options, advisor, answer, limits, self._draft.word))
            return None
        further = Further.of(advisor, answer, limits, joint=options.all or options.json)
        if options.json:
            write_document(assessment_document(answer, talk.knowledge, None, further))
            return None
        told_once = answer_of(answer, talk.knowledge, further)
        talk.lines(["", *result_lines(told_once)])

        def more() -> list[str]:
            return ["", *plain_lines(page_of(told_once, "full"))]

        return Shown(
            found=answer.examination,
            more=more,
            change=partial(self._change, answer, told_once),
            keep=KeptOnce(formula, told, advisor, getattr(options, "record", None)),
        )

    def _change(self, answer: Assessment, told_once: Answer, which: str) -> list[str]:
        """One change in full; a change of handling has no formula of its own."""
        changes = told_once.changes
        number = int(which) if which.isdecimal() and which.isascii() and len(which) < 4 else 0
        if not 1 <= number <= len(changes):
            known = f"they go from 1 to {len(changes)}" if changes else "nothing is proposed"
            raise InputFault(f"advisor: there is no change '{which[:20]}': {known}")
        chosen = changes[number - 1]
        lines = [
            "",
            *plain_lines((Heading(text=f"Change {number}"), change_item(chosen, "full"))),
        ]
        if chosen.proposal.formula == answer.examination.formula:
            return lines
        return [
            *lines,
            "",
            *write_formula_text(applied(self._advisor, answer, self._limits, which)).splitlines(),
        ]

    def _say_how_to_repeat(self, told: Told) -> None:
        """Keep the answers, and say by which command they give the same result."""
        draft = self._draft
        whole = Told(saw=told.saw, not_seen=told.not_seen, answers=told.answers, loaf=draft.kind)
        path = keep(whole.as_file(), name="answers", suffix=".yaml")
        words = ["advisor", "diagnose", *([draft.word] if draft.word else []), "--answers", str(path)]
        if draft.region != self._talk.measures.region or draft.region != "us":
            words += ["--region", draft.region]
        self._talk.prompter.say(f"\nYour answers are kept. The same again:\n  {shlex.join(words)}")
