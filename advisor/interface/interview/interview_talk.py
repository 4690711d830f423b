"""How the interview speaks: wrapped to the terminal, in the baker's measures; and what it can always be asked."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.blocks import Item, Table
from advisor.explanation.proofs import symptom_blocks, why_blocks, why_not_blocks
from advisor.explanation.quantities import runs_of
from advisor.interface.desk.asked_about import asked_about
from advisor.interface.desk.baker_measures import BakersMeasures, keep_measures, read_measures
from advisor.interface.desk.interview_sketches import sketch_of
from advisor.interface.desk.prompting import Prompter
from advisor.interface.desk.showing import plain_lines, wrapped
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.plain_words import words_in
from advisor.knowledge_base.terms import look_up, nearest_terms, terms_of
from advisor.rendering.baker_units import use_units

CHOICES = "C or F; grams or cups; cups of us, metric, uk or au; eggs small, medium, large or extra large"
_TERMS_EXPLAINED = 3


class Talk:
    """One interview's voice; the measures may change while it lasts."""

    def __init__(
        self, prompter: Prompter, knowledge: Knowledge, measures: BakersMeasures, kept_in: Path | None
    ) -> None:
        self.prompter = prompter
        self.knowledge = knowledge
        self.measures = measures
        self.begun = ""
        self._kept_in = kept_in

    def say(self, text: str = "") -> None:
        """Say a paragraph."""
        self.prompter.say(wrapped(text))

    def item(self, label: str, text: str) -> None:
        """Say a labelled paragraph; blanks before the label set it to the right."""
        bare = label.strip()
        self.lines(plain_lines((Item(label=bare, runs=runs_of(text)),), label.index(bare)))

    def lines(self, lines: Sequence[str]) -> None:
        """Say lines that are laid out already."""
        self.prompter.say("\n".join(lines))

    def table(self, rows: Sequence[tuple[str, str]]) -> None:
        """Say pairs: a word, and what it does."""
        cells = tuple(((word,), runs_of(does)) for word, does in rows)
        self.lines(plain_lines((Table(caption="What can be typed", head=("", ""), rows=cells),)))

    def use(self, measures: BakersMeasures) -> None:
        """Speak in these measures from now on."""
        self.measures = measures
        use_units(measures.units)

    def ask_measures(self, *, then_formula: bool) -> None:
        """Ask once which measures the baker uses, and keep them; `then_formula`: what is asked for next."""
        self.say(
            f"Your measures: {self.measures.in_words()}. Enter if that is right, or type what differs ({CHOICES}):"
        )
        while True:
            typed = self.prompter.line("measures> ")
            if then_formula and self._begins_a_formula(typed):
                self.begun = typed
                self.say(
                    f"That is the formula's beginning. Measures: {self.measures.in_words()}; 'units' changes them."
                )
                return
            if not self.change_measures(typed):
                return

    def _begins_a_formula(self, typed: str) -> bool:
        """Tell whether somebody pastes at once what is asked for next: nothing that is typed gets lost."""
        counts = "\n" in typed.strip() or (any(c.isnumeric() for c in typed) and len(typed.split()) > 1)
        return counts and bool(read_measures(typed, self.measures)[1])

    def change_measures(self, typed: str) -> bool:
        """Take new measures over and keep them; say what they are now. True where some word was not understood."""
        measures, doubts = read_measures(typed, self.measures)
        self.use(measures)
        if doubts:
            self.say(f"Not understood: {', '.join(doubts)}. There are: {CHOICES}.")
            return True
        trouble = keep_measures(self.measures, self._kept_in) if self._kept_in else ""
        self.say(f"Measures: {self.measures.in_words()}. 'units' changes them. {trouble}".rstrip())
        return False

    def show_measures(self) -> None:
        """Say which measures hold, and how they are changed."""
        self.say(f"Measures: {self.measures.in_words()}. To change: units, then {CHOICES}.")

    def why(self, found: Examination, about: str) -> None:
        """Show the proof of a cause, or of the likeliest where none is named; of a symptom, whence its risk."""
        if not found.diagnosis.causes:
            self.say("Nothing is known of any cause yet.")
            return
        kind, name = ("cause", found.diagnosis.causes[0].id)
        if about and (named := self._named(about)) is not None:
            kind, name = named
        elif about:
            return
        blocks = symptom_blocks if kind == "symptom" else why_blocks
        self.lines(["", *plain_lines(blocks(found, self.knowledge, name))])

    def why_not(self, found: Examination, about: str) -> None:
        """Show what would have spoken for a cause, and how far it was from it."""
        if not about:
            self.say("Of which cause? For example: why not underbaked.")
            return
        named = self._named(about)
        if named is None:
            return
        if named[0] == "symptom":
            self.lines(["", *plain_lines(symptom_blocks(found, self.knowledge, named[1]))])
            return
        missed = why_not_blocks(found, self.knowledge, named[1])
        self.lines(["", *plain_lines((*why_blocks(found, self.knowledge, named[1])[:2], *missed))])
        if not missed:
            self.say("No rule that speaks for it was left out: what there is to say for it was said ('why').")

    def explain(self, about: str) -> None:
        """Say what a word of the trade means, or how to look for a symptom."""
        try:
            kind, name = asked_about(about, self.knowledge)
        except InputFault:
            kind, name = None, ""
        if kind == "symptom":
            self.explain_symptom(name)
            return
        terms = terms_of(self.knowledge)
        found = look_up(about, terms)
        if kind == "cause" and not found:
            self.say(f"{self.knowledge.causes[name].name}: {self.knowledge.causes[name].says}")
        for term in found[:_TERMS_EXPLAINED]:
            self.say(f"{term.word}: {term.says}")
        if not found and kind != "cause":
            near = nearest_terms(about, terms)
            self.say(f"No such word is explained{'; near: ' + ', '.join(near) if near else ''}.")

    def explain_symptom(self, name: str) -> None:
        """Say what a symptom is and how to look, with its drawing."""
        symptom = self.knowledge.symptoms[name]
        self.say(f"{symptom.name}: {symptom.says} {symptom.look}")
        if sketch := sketch_of(name):
            self.lines([f"    {line}" for line in sketch])

    def explain_words_of(self, text: str) -> None:
        """Say what the words of the trade in a sentence mean."""
        wanted = {word.casefold() for word in words_in(text)}
        for term in [t for t in terms_of(self.knowledge) if wanted & set(t.names)][:_TERMS_EXPLAINED]:
            self.say(f"{term.word}: {term.says}")

    def _named(self, about: str) -> tuple[str, str] | None:
        try:
            return asked_about(about, self.knowledge)
        except InputFault as fault:
            self.say(str(fault).removeprefix("advisor: ").capitalize())
            return None


def rows_of_terminal() -> int:
    """Rows of the terminal, 24 where there is none."""
    return max(shutil.get_terminal_size((80, 24)).lines, 12)
