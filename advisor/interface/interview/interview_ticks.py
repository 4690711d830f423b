"""Ticking what the loaf shows: on a list to move about in, or by number where a terminal can only show lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.diagnosis.symptom_names import reader_of
from advisor.interface.desk.interview_list import TickList
from advisor.interface.desk.showing import wrapped
from advisor.interface.desk.ticking import pages_of, read_ticks
from advisor.interface.interview.interview_commands import command_in
from advisor.interface.interview.interview_talk import Talk, rows_of_terminal
from advisor.knowledge_base.graph_entries import Symptom

_DONE = ("d", "done", "enough")


class Quit(Exception):
    """Raised when the baker leaves to go on another time."""


def tick_symptoms(
    talk: Talk, symptoms: Sequence[Symptom], ticked: Sequence[str], changed: Callable[[Sequence[str]], None]
) -> None:
    """Let the baker tick; `changed` is told every new state, so that none is lost.

    Raises:
        Left: on Ctrl-C and Ctrl-D.
        Quit: on `quit`.
    """
    if not talk.prompter.can_show_a_list:
        _Numbered(talk, symptoms, tuple(ticked), changed).tick()
        return
    choice = TickList(symptoms, ticked, reader_of(talk.knowledge))
    try:
        talk.prompter.tick(choice, lambda: changed(choice.ticked))
    finally:
        changed(choice.ticked)
        if choice.ticked:
            names = "; ".join(s.name for s in symptoms if s.id in choice.ticked)
            talk.say(f"Ticked: {names}.")


class _Numbered:
    """The list page by page, ticked by number or by word."""

    def __init__(
        self,
        talk: Talk,
        symptoms: Sequence[Symptom],
        ticked: tuple[str, ...],
        changed: Callable[[Sequence[str]], None],
    ) -> None:
        self._talk = talk
        self._symptoms = symptoms
        self._ticked = ticked
        self._changed = changed

    def tick(self) -> None:
        """Show the list page by page until something is ticked and the last page is left with Enter."""
        page, show = 0, True
        while True:
            rows = rows_of_terminal() - len(_head(9, 9)) - len(_foot(False)) - 1
            pages = pages_of(self._symptoms, rows)
            page = min(page, len(pages) - 1)
            last = page == len(pages) - 1
            if show:
                self._talk.lines([*_head(page + 1, len(pages)), *pages[page], *_foot(last)])
            typed = self._talk.prompter.line("> ", words=[s.name for s in self._symptoms])
            command = command_in(typed)
            word = command.word if command else None
            if word == "back" or (not typed and not last):
                page, show = (max(page - 1, 0) if typed else page + 1), True
            elif word == "quit":
                raise Quit
            elif command is not None and word == "explain":
                self._explain(command.about)
                show = False
            elif typed and typed.lower() not in _DONE:
                self._read(typed)
                self._talk.say(f"Enter: {'done' if last else 'next page, d: done'}.")
                show = False
            elif self._ticked:
                return
            else:
                self._talk.say("Nothing is ticked yet. Ctrl-C leaves without an answer.")
                page, show = 0, not typed

    def _explain(self, about: str) -> None:
        number = int(about) if about.isdecimal() and about.isascii() and len(about) < 4 else 0
        if 1 <= number <= len(self._symptoms):
            self._talk.explain_symptom(self._symptoms[number - 1].id)
        else:
            self._talk.explain(about)

    def _read(self, typed: str) -> None:
        ticks = read_ticks(typed, self._symptoms, reader_of(self._talk.knowledge))
        ids = [symptom.id for symptom in self._symptoms]
        chosen = ({*self._ticked} | {ids[n] for n in ticks.on}) - {ids[n] for n in ticks.off}
        self._ticked = tuple(name for name in ids if name in chosen)
        self._changed(self._ticked)
        for doubt in ticks.doubts:
            self._talk.say(doubt)
        names = "; ".join(f"{n} {s.name}" for n, s in enumerate(self._symptoms, 1) if s.id in chosen)
        self._talk.say(f"Ticked: {names or 'nothing'}.")


def _head(page: int, pages: int) -> list[str]:
    return wrapped(f"WHAT DOES THE LOAF SHOW? (page {page} of {pages})").splitlines()


def _foot(last: bool) -> list[str]:
    way = "done" if last else "next page, b: back, d: done"
    return wrapped(f"Numbers or words: 4 9, gummy; untick: -4. Enter: {way}.").splitlines()
