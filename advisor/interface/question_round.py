"""The questions after a bake: what the loaf shows, what else to look for, and what only the baker knows."""

from __future__ import annotations

import shutil
from collections.abc import Sequence

from advisor.diagnosis.asking import Asked, QuestionChooser
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.examining import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.interface.formula_choice import InputFault
from advisor.interface.page import Page
from advisor.interface.prompting import Left, Prompter
from advisor.interface.ticking import pages_of, read_ticks
from advisor.interface.told import Told

SIGNS_LOOKED_FOR = 4
_ROWS_BESIDE_THE_LIST = 6
_BACK = ("b", "back")
_DONE = ("d", "done")


def ask_about(formula: Formula, examiner: Examiner) -> Told:
    """Let the baker tick symptoms, then ask what tells most about their causes, for as long as it tells enough.

    Leaving early keeps what was answered.

    Raises:
        InputFault: the baker left before anything was ticked.
    """
    return _Round(formula, examiner).ask()


class _Round:
    """One round; what was told so far is kept in order, so that going back takes back the last answer."""

    def __init__(self, formula: Formula, examiner: Examiner) -> None:
        self._formula = formula
        self._examiner = examiner
        self._chooser = QuestionChooser(examiner)
        self._prompter = Prompter()
        # The order of the file goes from the shape of the loaf to its crumb, crust and taste.
        self._symptoms = list(examiner.knowledge.symptoms.values())
        self._saw: tuple[str, ...] = ()
        self._not_seen: tuple[str, ...] = ()
        self._given: dict[str, str | None] = {}
        """Question to answer; no answer where the baker does not know."""

    def ask(self) -> Told:
        try:
            self._tick()
            self._look_again()
            self._ask_the_baker()
        except Left:
            if not self._saw:
                raise InputFault(
                    "advisor: stopped; nothing was ticked, so there is nothing to go by"
                ) from None
            self._prompter.say("Going on with what was answered.")
        return Told(saw=self._saw, not_seen=self._not_seen, answers=self._answers)

    @property
    def _answers(self) -> dict[str, str]:
        return {question: answer for question, answer in self._given.items() if answer is not None}

    def _tick(self) -> None:
        """Show the list page by page until something is ticked and the last page is left with Enter."""
        page, show = 0, True
        while True:
            pages = pages_of(self._symptoms, Page().width, _rows() - len(_head(9, 9)) - len(_foot(False)) - 1)
            page = min(page, len(pages) - 1)
            last = page == len(pages) - 1
            if show:
                self._prompter.say("\n".join([*_head(page + 1, len(pages)), *pages[page], *_foot(last)]))
            typed = self._prompter.line("> ", words=[s.name for s in self._symptoms])
            if typed.lower() in _BACK or (not typed and not last):
                page, show = (max(page - 1, 0) if typed else page + 1), True
            elif typed and typed.lower() not in _DONE:
                self._read_ticks(typed)
                self._say(f"Enter: {'done' if last else 'next page, d: done'}.")
                show = False
            elif self._saw:
                return
            else:
                self._say("Nothing is ticked yet. Ctrl-C leaves without an answer.")
                page, show = 0, not typed

    def _read_ticks(self, typed: str) -> None:
        ticks = read_ticks(typed, self._symptoms)
        ids = [symptom.id for symptom in self._symptoms]
        chosen = ({*self._saw} | {ids[n] for n in ticks.on}) - {ids[n] for n in ticks.off}
        self._saw = tuple(name for name in ids if name in chosen)
        for doubt in ticks.doubts:
            self._say(doubt)
        names = "; ".join(f"{n} {s.name}" for n, s in enumerate(self._symptoms, 1) if s.id in chosen)
        self._say(f"Ticked: {names or 'nothing'}.")

    def _look_again(self) -> None:
        """Ask in one go for the symptoms that would tell most, there or not there."""
        found = self._examined()
        asked = self._chooser.signs_to_look_for(found, SIGNS_LOOKED_FOR)
        symptoms = [self._examiner.knowledge.symptoms[a.id] for a in asked]
        if not symptoms:
            return
        self._prompter.say()
        self._say("LOOK ONCE MORE. Whether these are there or not tells most:")
        lines = [_item_lines(f"{n:>3}", f"{s.question} {s.look}") for n, s in enumerate(symptoms, 1)]
        if sum(map(len, lines)) > _rows() - _ROWS_BESIDE_THE_LIST:
            lines = [_item_lines(f"{n:>3}", s.question) for n, s in enumerate(symptoms, 1)]
        self._prompter.say("\n".join(line for item in lines for line in item))
        self._say("Which are there? Numbers; 0 if you looked and none is; Enter alone if you cannot tell.")
        while True:
            typed = self._prompter.line("> ")
            if not typed:
                return
            ticks = read_ticks("" if typed in ("0", "none") else typed, symptoms)
            if ticks.doubts:
                self._say(ticks.doubts[0])
                continue
            there = {symptoms[place].id for place in ticks.on if place not in ticks.off}
            self._saw += tuple(s.id for s in symptoms if s.id in there)
            self._not_seen = tuple(s.id for s in symptoms if s.id not in there)
            return

    def _ask_the_baker(self) -> None:
        at_most = EvidenceScale.read(self._examiner.knowledge.coefficients).questions_at_most
        while True:
            found = self._examined()
            asked = self._chooser.choose_of_kitchen(found, skipped=self._given, asked=len(self._given))
            if asked is None:
                enough = len(self._given) >= at_most
                self._prompter.say()
                self._say("That is enough." if enough else "No other question would change the advice.")
                return
            self._put(asked, len(self._given) + 1, at_most)

    def _put(self, asked: Asked, place: int, at_most: int) -> None:
        """Put one question; a number or the first words answer it, `back` takes back the one before."""
        self._prompter.say()
        self._item(f"{place}.", asked.question)
        self._item("   Why:", asked.because)
        for number, text in enumerate(asked.answers.values(), 1):
            self._item(f"{number:>5}", text)
        self._item(f"{'Enter':>5}", "I do not know.")
        if place == 1:
            self._say(f"At most {at_most} questions. b goes back; Ctrl-D goes to the result.")
        while True:
            typed = self._prompter.line("> ")
            if typed.lower() in _BACK:
                if self._given:
                    self._given.popitem()
                    return
                self._say("This is the first question.")
                continue
            answer = _answer_meant(typed, list(asked.answers), list(asked.answers.values()))
            if not typed or answer is not None:
                self._given[asked.id] = answer
                return
            self._say(f"A number from 1 to {len(asked.answers)}, or Enter alone if you do not know.")

    def _examined(self) -> Examination:
        return self._examiner.examine(
            self._formula, saw=self._saw, not_seen=self._not_seen, answers=self._answers, after_bake=True
        )

    def _say(self, text: str) -> None:
        self._prompter.say("\n".join(_lines(text)))

    def _item(self, label: str, text: str) -> None:
        self._prompter.say("\n".join(_item_lines(label, text)))


def _head(page: int, pages: int) -> list[str]:
    return _lines(f"WHAT DOES THE LOAF SHOW? (page {page} of {pages})")


def _foot(last: bool) -> list[str]:
    way = "done" if last else "next page, b: back, d: done"
    return _lines(f"Numbers or words: 4 9, gummy; untick: -4. Enter: {way}.")


def _lines(text: str) -> list[str]:
    page = Page()
    page.paragraph(text)
    return page.lines


def _item_lines(label: str, text: str) -> list[str]:
    """Lay out a labelled text whose label is set to the right by blanks."""
    page = Page()
    page.item(label.lstrip(), text, len(label) - len(label.lstrip()))
    return page.lines


def _rows() -> int:
    return max(shutil.get_terminal_size((80, 24)).lines, 12)


def _answer_meant(typed: str, ids: Sequence[str], texts: Sequence[str]) -> str | None:
    """Give the answer that a number stands for, or that alone begins as typed."""
    if typed.isdecimal() and typed.isascii():
        place = int(typed) if len(typed) < 4 else 0
        return ids[place - 1] if 1 <= place <= len(ids) else None
    wanted = typed.lower()
    begins = [i for i, text in zip(ids, texts, strict=True) if wanted and text.lower().startswith(wanted)]
    return begins[0] if len(begins) == 1 else None
