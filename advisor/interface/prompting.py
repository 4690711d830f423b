"""The one door to the terminal's line editor: a line, several lines, and leaving with Ctrl-C or Ctrl-D."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TextIO

from advisor.interface.output import fitted

if TYPE_CHECKING:
    from prompt_toolkit import PromptSession
    from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent


class Left(Exception):
    """Raised when the baker leaves a prompt; `typed` is what stood there."""

    def __init__(self, typed: str) -> None:
        self.typed = typed
        super().__init__("left")


def can_ask() -> bool:
    """Say whether there is a terminal to ask at: one to type on, and one to show the questions."""
    return sys.stdin.isatty() and (sys.stdout.isatty() or sys.stderr.isatty())


class Prompter:
    """Asks at the terminal; where the answer goes to a file, questions are shown beside it, on standard error."""

    def __init__(self) -> None:
        self.stream: TextIO = sys.stderr if sys.stderr.isatty() and not sys.stdout.isatty() else sys.stdout

    @property
    def can_show_text_to_mend(self) -> bool:
        """Say whether a text that stands at a prompt can be seen and moved about in."""
        from prompt_toolkit.utils import is_dumb_terminal

        return not is_dumb_terminal()

    def say(self, text: str = "") -> None:
        """Show a line or several."""
        self.stream.write(fitted(text, self.stream) + "\n")
        self.stream.flush()

    def line(self, prompt: str, *, words: Sequence[str] = ()) -> str:
        """Ask for one line; the tabulator completes `words`.

        Raises:
            Left: on Ctrl-C, or on Ctrl-D where nothing is typed.
        """
        return self._ask(self._session(words), prompt).strip()

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
        return self._ask(session, prompt, text)

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
        except (KeyboardInterrupt, EOFError):
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
