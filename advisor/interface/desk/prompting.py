"""The one door to the terminal's line editor: a line, several lines, a list, and leaving with Ctrl-C or Ctrl-D."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, TextIO

from advisor.interface.desk.interview_list import TickList
from advisor.interface.desk.output import fitted
from advisor.knowledge_base.escaping import shown

if TYPE_CHECKING:
    from prompt_toolkit import PromptSession
    from prompt_toolkit.application import Application
    from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
    from prompt_toolkit.output import Output


class Left(Exception):
    """Raised when the baker leaves a prompt; `typed` is what stood there."""

    def __init__(self, typed: str) -> None:
        self.typed = typed
        super().__init__("left")


class HungUp(Exception):
    """Raised when the terminal was closed: there is nobody to say anything to."""


_LONGEST_NOTED = 200
_PASTED_TO_A_LIST = 400


@contextmanager
def outliving_the_terminal() -> Iterator[None]:
    """Let a closed terminal end the asking, as Ctrl-D does, instead of the program, so that what was told is kept."""
    before = signal.getsignal(signal.SIGHUP)
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGHUP, before)


def can_ask() -> bool:
    """Say whether there is a terminal to ask at: one to type on, and one to show the questions."""
    return sys.stdin.isatty() and (sys.stdout.isatty() or sys.stderr.isatty())


class Prompter:
    """Asks at the terminal; where the answer goes to a file, questions are shown beside it, on standard error."""

    def __init__(self) -> None:
        self.stream: TextIO = sys.stderr if sys.stderr.isatty() and not sys.stdout.isatty() else sys.stdout
        self.noted: list[str] = []
        """All that was shown and typed so far, for a transcript."""

    @property
    def can_show_a_list(self) -> bool:
        """Say whether a list can be moved about in: not on a dumb terminal, without UTF-8, or with ADVISOR_PLAIN.

        Who listens to a screen reader sets ADVISOR_PLAIN=1 and gets lines, one after the other.
        """
        asked_for = os.environ.get("ADVISOR_PLAIN", "0") not in ("", "0")
        return not asked_for and self.can_show_text_to_mend and fitted("…", self.stream) == "…"

    @property
    def can_show_text_to_mend(self) -> bool:
        """Say whether a text that stands at a prompt can be seen and moved about in."""
        from prompt_toolkit.utils import is_dumb_terminal

        return not is_dumb_terminal()

    def say(self, text: str = "") -> None:
        """Show a line or several."""
        self.noted.append(text)
        try:
            self.stream.write(fitted(text, self.stream) + "\n")
            self.stream.flush()
        except BrokenPipeError:
            raise
        except OSError:
            raise HungUp from None

    def line(self, prompt: str, *, words: Sequence[str] = ()) -> str:
        """Ask for one line; the tabulator completes `words`.

        Raises:
            Left: on Ctrl-C, or on Ctrl-D where nothing is typed.
        """
        typed = self._ask(self._session(words), prompt).strip()
        self.noted.append(prompt + shown(typed, _LONGEST_NOTED))
        return typed

    def tick(self, choice: TickList, changed: Callable[[], None] = lambda: None) -> None:
        """Show a list on the whole screen until it is done; `changed` is called after every tick.

        Raises:
            Left: on Ctrl-C, or on Ctrl-D where nothing is ticked; what was ticked stays in `choice`.
        """
        from prompt_toolkit.output import create_output

        output = create_output(stdout=self.stream) if self.stream is not sys.stdout else None
        try:
            _list_on_screen(choice, changed, output).run()
        except (KeyboardInterrupt, EOFError, OSError):  # OSError: there is no terminal any more to draw on
            raise Left("") from None

    def several_lines(
        self, prompt: str, *, words: Sequence[str] = (), text: str = "", one_is_enough: Callable[[str], bool]
    ) -> str:
        """Ask for lines, typed or pasted, that end with an empty one; `text` stands there to be changed.

        `one_is_enough` says of a first line whether it ends the asking.

        Raises:
            Left: on Ctrl-C, or on Ctrl-D where nothing is typed.
        """
        session = self._session(words)
        session.multiline = True
        session.key_bindings = _ends_with_an_empty_line(one_is_enough)
        typed = self._ask(session, prompt, text)
        self.noted += [prompt + shown(line, _LONGEST_NOTED) for line in typed.splitlines()]
        return typed

    def _session(self, words: Sequence[str]) -> PromptSession[str]:
        from prompt_toolkit import PromptSession
        from prompt_toolkit.completion import WordCompleter
        from prompt_toolkit.output import create_output
        from prompt_toolkit.shortcuts import CompleteStyle

        completer = WordCompleter(list(words), ignore_case=True, sentence=True) if words else None
        return PromptSession(
            completer=completer,
            complete_while_typing=False,
            complete_style=CompleteStyle.READLINE_LIKE,
            output=create_output(stdout=self.stream) if self.stream is not sys.stdout else None,
        )

    def _ask(self, session: PromptSession[str], prompt: str, text: str = "") -> str:
        try:
            return session.prompt(fitted(prompt, self.stream), default=text)
        except (KeyboardInterrupt, EOFError, OSError):
            raise Left(session.default_buffer.text) from None


def _ends_with_an_empty_line(one_is_enough: Callable[[str], bool]) -> KeyBindings:
    from prompt_toolkit.filters import Condition
    from prompt_toolkit.key_binding import KeyBindings

    keys = KeyBindings()

    @keys.add("enter")
    def _(event: KeyPressEvent) -> None:
        buffer = event.current_buffer
        document = buffer.document
        several = "\n" in document.text
        # Keys that wait behind this one are a paste that the terminal did not mark as one: it goes on.
        waiting = bool(event.app.key_processor.input_queue)
        ended = document.is_cursor_at_the_end and not document.current_line.strip() and not waiting
        if (several and ended) or (not several and one_is_enough(document.text)):
            buffer.validate_and_handle()
        else:
            buffer.newline(copy_margin=False)

    @keys.add("c-d", filter=Condition(lambda: _something_is_typed()))
    def _(event: KeyPressEvent) -> None:
        """Who ends a text with Ctrl-D, as at other prompts, has ended it."""
        event.current_buffer.validate_and_handle()

    return keys


def _something_is_typed() -> bool:
    from prompt_toolkit.application import get_app

    return bool(get_app().current_buffer.text.strip())


def _list_on_screen(
    choice: TickList, changed: Callable[[], None], output: Output | None
) -> Application[None]:
    from prompt_toolkit.application import Application, get_app
    from prompt_toolkit.data_structures import Point
    from prompt_toolkit.formatted_text import StyleAndTextTuples
    from prompt_toolkit.key_binding import KeyBindings
    from prompt_toolkit.keys import Keys
    from prompt_toolkit.layout import FormattedTextControl, Layout, Window

    cursor = [0]

    def size() -> tuple[int, int]:
        found = get_app().output.get_size()
        return found.columns, found.rows

    def text() -> StyleAndTextTuples:
        view = choice.view(*size())
        cursor[0] = view.cursor
        at = view.cursor
        above, below = "\n".join(view.lines[:at]) + "\n", "\n" + "\n".join(view.lines[at + 1 :])
        return [("", above), ("reverse", view.lines[at]), ("", below)]

    keys = KeyBindings()

    def bind(name: str, *pressed: str) -> None:
        def press(event: KeyPressEvent) -> None:
            choice.press(name, choice.rows_of(*size()))
            if name == "tick":
                changed()
            if choice.done:
                event.app.exit()

        for key in pressed:
            keys.add(key)(press)

    bind("up", "up", "c-p")
    bind("down", "down", "c-n")
    bind("page_up", "pageup")
    bind("page_down", "pagedown")
    bind("home", "home")
    bind("end", "end")
    bind("tick", " ", "enter", "c-j")
    bind("done", "tab")
    bind("back", "backspace")
    bind("clear", "escape")

    @keys.add("c-c")
    @keys.add("<sigint>")
    def _(event: KeyPressEvent) -> None:
        event.app.exit(exception=KeyboardInterrupt)

    @keys.add("c-d")
    def _(event: KeyPressEvent) -> None:
        choice.press("done")
        if choice.done:
            event.app.exit()
        else:
            event.app.exit(exception=EOFError)

    @keys.add(Keys.Any)
    def _(event: KeyPressEvent) -> None:
        choice.type(event.data)

    @keys.add(Keys.BracketedPaste)
    def _(event: KeyPressEvent) -> None:
        choice.type(event.data[:_PASTED_TO_A_LIST])

    control = FormattedTextControl(text, focusable=True, get_cursor_position=lambda: Point(x=0, y=cursor[0]))
    application: Application[None] = Application(
        layout=Layout(Window(control, wrap_lines=False)), key_bindings=keys, full_screen=True, output=output
    )
    application.ttimeoutlen = 0.05
    return application
