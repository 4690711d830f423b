"""The questions after a bake: what the loaf shows, then one by one what tells most, until no answer could matter."""

from __future__ import annotations

from collections.abc import Callable

from advisor.diagnosis.asking import SEEN_OR_NOT, QuestionChooser, QuestionInWords
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.wording import percent
from advisor.formula.formula import Formula
from advisor.interface.desk.prompting import Left
from advisor.interface.interview.interview_commands import AT_A_QUESTION, Command, answer_meant, command_in
from advisor.interface.interview.interview_heard import Given, Heard, Kind
from advisor.interface.interview.interview_talk import Talk
from advisor.interface.interview.interview_ticks import Quit, tick_symptoms
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge


class QuestionRound:
    """One round; what is heard goes into `heard`, and `keep` is called after every step."""

    def __init__(
        self,
        talk: Talk,
        formula: Formula,
        examiner: Examiner,
        heard: Heard,
        keep: Callable[[], None] = lambda: None,
        chooser: QuestionChooser | None = None,
    ) -> None:
        self._talk = talk
        self._formula = formula
        self._examiner = examiner
        self._chooser = chooser or QuestionChooser(examiner)
        self.heard = heard
        self._keep = keep
        self._at_most = EvidenceScale.read(examiner.knowledge.coefficients).questions_at_most
        self._told_how = False
        # The dough stays what it is while the answers change: it is measured once.
        self._measured = examiner.measured(examiner.shifts.formula_here(formula, examiner.knowledge))

    @property
    def _knowledge(self) -> Knowledge:
        return self._examiner.knowledge

    def ask(self) -> bool:
        """Go through the round; `True` where it came to its end, `False` where the baker left it early.

        Raises:
            InputFault: the baker left before anything was ticked.
            Quit: the baker leaves to go on another time.
        """
        try:
            if not self.heard.ticked:
                self._tick()
            self._ask_on()
        except Left:
            if not self.heard.ticked:
                raise InputFault(
                    "advisor: stopped; nothing was ticked, so there is nothing to go by"
                ) from None
            self._talk.say("Going on with what was answered.")
            return False
        return True

    def examined(self) -> Examination:
        """Look at the formula with what was told."""
        told = self.heard.told
        return self._examiner.examine(
            self._formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers, after_bake=True,
            measured=self._measured,
        )  # fmt: skip

    def _tick(self) -> None:
        # The order of the file goes from the shape of the loaf to its crumb, crust and taste.
        def changed(symptoms: tuple[str, ...] | list[str]) -> None:
            self.heard.tick(symptoms)
            self._keep()

        tick_symptoms(
            self._talk, list(self._knowledge.symptoms.values()), self.heard.ticked, lambda s: changed(list(s))
        )

    def _ask_on(self) -> None:
        while True:
            found = self.examined()
            asked = self._chooser.choose(found, skipped=self.heard.ids, asked=self.heard.asked)
            if asked is None:
                enough = self.heard.asked >= self._at_most
                self._talk.prompter.say()
                self._talk.say("That is enough." if enough else "No other question would change the advice.")
                return
            if not self._put(asked, len(self.heard.given) + 1, found):
                return

    def _put(self, asked: QuestionInWords, place: int, found: Examination) -> bool:
        """Put one question until it is settled; `False` where the baker has had enough."""
        self._show(asked, f"{place}.")
        if not self._told_how:
            self._told_how = True
            self._talk.say(
                f"At most {self._at_most} questions. b: back, s: skip, why, explain, enough, quit; help: all."
            )
        while True:
            typed = self._talk.prompter.line("> ")
            command = command_in(typed)
            if not typed or (command is not None and command.word == "unknown"):
                self._hear(asked, None)
                return True
            if command is None:
                answer = answer_meant(typed, list(asked.answers), list(asked.answers.values()))
                if answer is not None:
                    self._hear(asked, answer)
                    return True
                self._talk.say(
                    f"A number from 1 to {len(asked.answers)}, or Enter alone if you do not know; help: all else."
                )
                continue
            if command.word == "enough":
                return False
            if command.word == "skip":
                self._hear(asked, None, skipped=True)
                return True
            if command.word == "back":
                if self.heard.take_back():
                    self._keep()
                    return True
                self._talk.say("This is the first question; redo 0 goes to the ticks.")
            elif command.word in ("change", "redo"):
                if self.change(command.about):
                    return True
            else:
                self.aside(command, found, asked)

    def _show(self, asked: QuestionInWords, label: str) -> None:
        talk = self._talk
        talk.prompter.say()
        talk.item(label, asked.question)
        talk.item("   How to look:" if asked.kind == "symptom" else "   Why:", asked.because)
        for number, text in enumerate(asked.answers.values(), 1):
            talk.item(f"{number:>5}", text)
        talk.item(f"{'Enter':>5}", "I do not know.")

    def _hear(self, asked: QuestionInWords, answer: str | None, *, skipped: bool = False) -> None:
        self.heard.hear(asked, answer, skipped=skipped)
        self._keep()

    def aside(self, command: Command, found: Examination, asked: QuestionInWords | None = None) -> None:
        """Answer what the baker asks beside the question: why, explain, answers, units, help.

        Raises:
            Quit: on `quit`.
        """
        talk = self._talk
        match command.word:
            case "why":
                talk.why(found, command.about)
            case "why_not":
                talk.why_not(found, command.about)
            case "explain" if command.about:
                talk.explain(command.about)
            case "explain" if asked is not None:
                if asked.kind == "symptom":
                    talk.explain_symptom(asked.id)
                self._explain_what_it_tells(asked, found)
                talk.explain_words_of(asked.question + " " + " ".join(asked.answers.values()))
            case "answers":
                self.show_answers()
            case "units" if command.about:
                talk.change_measures(command.about)
            case "units":
                talk.show_measures()
            case "quit":
                raise Quit
            case _:
                talk.table(AT_A_QUESTION)

    def _explain_what_it_tells(self, asked: QuestionInWords, found: Examination) -> None:
        """Say of every answer which cause it would move most, and how far."""
        ranked = self._chooser.ranked(found, skipped=[one for one in self.heard.ids if one != asked.id])
        now = found.diagnosis.own
        for outcome in next((worth.outcomes for worth in ranked if worth.id == asked.id), ()):
            after = outcome.probability
            cause = max(after, key=lambda c: (abs(after[c] - now.get(c, 0.0)), c))
            text, name = asked.answers[outcome.answer], self._knowledge.causes[cause].name.lower()
            moves = f"{name} from {percent(now.get(cause, 0.0))} to {percent(after[cause])}"
            self._talk.item("  -", f"{text.rstrip('.')}: would move {moves}.")

    def show_answers(self) -> None:
        """List what was told, with the numbers by which it is told otherwise."""
        names = [self._knowledge.symptoms[s].name for s in self.heard.ticked]
        self._talk.item("  0.", f"Ticked: {'; '.join(names) or 'nothing'}.")
        for number, one in enumerate(self.heard.given, 1):
            asked = question_of(one.kind, one.id, self._knowledge)
            self._talk.item(f"{number:>3}.", f"{asked.question} {_said(one, asked)}")
        self._talk.say("redo 2 asks number 2 again; redo 0: the ticks.")

    def change(self, about: str) -> bool:
        """Ask the answer with a number once more (0: the ticks); `False` where there is no such number."""
        if about == "0":
            self._tick()
            return True
        number = int(about) if about.isdecimal() and about.isascii() and len(about) < 4 else 0
        if not 1 <= number <= len(self.heard.given):
            self._talk.say("There is no such number; 'answers' lists them.")
            return False
        one = self.heard.given[number - 1]
        asked = question_of(one.kind, one.id, self._knowledge)
        self._show(asked, f"{number}.")
        self._talk.say(f"So far: {_said(one, asked)} 'keep' leaves it so.")
        while True:
            typed = self._talk.prompter.line("> ")
            if typed.lower() in ("keep", "k", "b", "back"):
                return True
            answer = answer_meant(typed, list(asked.answers), list(asked.answers.values()))
            if not typed or typed == "?" or answer is not None:
                self._hear(asked, answer)
                return True
            self._talk.say(f"A number from 1 to {len(asked.answers)}, Enter if you do not know, or keep.")


def question_of(kind: Kind, name: str, knowledge: Knowledge) -> QuestionInWords:
    """Give a symptom or a question as it is asked, whatever it would tell now."""
    if kind == "symptom":
        symptom = knowledge.symptoms[name]
        return QuestionInWords(
            kind=kind, id=name, question=symptom.question, because=symptom.look, answers=SEEN_OR_NOT, gain=0.0
        )
    entry = knowledge.questions[name]
    return QuestionInWords(
        kind=kind,
        id=name,
        question=entry.question,
        because=entry.because,
        answers=dict(entry.answers),
        gain=0.0,
    )


def _said(one: Given, asked: QuestionInWords) -> str:
    if one.skipped:
        return "(put aside)"
    return "I do not know." if one.answer is None else asked.answers[one.answer]
