"""The full-screen player: keys in, screens out. The one door to the terminal library for a whole screen."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from typing import TYPE_CHECKING

from advisor.interface.desk.output import fitted
from advisor.interface.desk.prompting import Prompter
from advisor.interface.teach.teach_lecture import Lecture

if TYPE_CHECKING:
    from prompt_toolkit import Application
    from prompt_toolkit.buffer import Buffer
    from prompt_toolkit.formatted_text import StyleAndTextTuples
    from prompt_toolkit.input import Input
    from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
    from prompt_toolkit.output import Output

STYLES = {"title": "reverse bold", "head": "bold", "here": "bold underline", "keys": "reverse"}
"""Weight, underline and reverse alone: nothing rests on a colour."""
_CHANGE, _GO = "Change (such as: water -30 g): ", "Go to step: "


def play(lecture: Lecture) -> None:
    """Play a course until the class leaves it."""
    player(lecture).run()


def player(
    lecture: Lecture, keyboard: Input | None = None, screen: Output | None = None
) -> Application[None]:
    """Build the player; `keyboard` and `screen` take the place of the terminal."""
    from prompt_toolkit import Application
    from prompt_toolkit.buffer import Buffer
    from prompt_toolkit.filters import Condition
    from prompt_toolkit.layout import ConditionalContainer, HSplit, Layout, Window
    from prompt_toolkit.layout.controls import BufferControl, FormattedTextControl
    from prompt_toolkit.styles import Style

    asking = _Asking(lecture)
    buffer = Buffer(multiline=False, accept_handler=lambda b: _accepted(asking, b))
    page = FormattedTextControl(lambda: _page(lecture, asking), focusable=True, show_cursor=False)
    asks = Condition(lambda: asking.prompt != "")
    window = Window(page, always_hide_cursor=True)
    line = Window(
        BufferControl(buffer), height=1, get_line_prefix=lambda number, wrapped: [("bold", asking.prompt)]
    )
    app: Application[None] = Application(
        layout=Layout(HSplit([window, ConditionalContainer(line, asks)]), focused_element=window),
        key_bindings=_keys(lecture, asking, buffer, line, window),
        style=Style([]),
        full_screen=True,
        input=keyboard,
        output=screen,
    )
    asking.leave = lambda: app.layout.focus(window)
    return app


class _Asking:
    """Whether a line is being asked for, and for what."""

    def __init__(self, lecture: Lecture) -> None:
        self.lecture = lecture
        self.prompt = ""
        self.leave: Callable[[], None] = lambda: None


def _accepted(asking: _Asking, buffer: Buffer) -> bool:
    text, prompt = buffer.text.strip(), asking.prompt
    asking.prompt = ""
    asking.leave()
    if text:
        (asking.lecture.change if prompt == _CHANGE else asking.lecture.go_to)(text)
    return False


def _page(lecture: Lecture, asking: _Asking) -> StyleAndTextTuples:
    from prompt_toolkit.application import get_app_or_none

    app = get_app_or_none()
    width, height = shutil.get_terminal_size()
    if app is not None:
        size = app.output.get_size()
        width, height = size.columns, size.rows
    stream = Prompter().stream
    out: StyleAndTextTuples = []
    for style, text in lecture.screen(width, height - (1 if asking.prompt else 0)):
        shown = "-" * width if style == "rule" else text
        out.append((STYLES.get(style, ""), fitted(shown, stream)))
        out.append(("", "\n"))
    return out[:-1]


def _keys(lecture: Lecture, asking: _Asking, buffer: Buffer, line: object, window: object) -> KeyBindings:
    from prompt_toolkit.filters import Condition
    from prompt_toolkit.key_binding import KeyBindings

    keys = KeyBindings()
    playing = Condition(lambda: asking.prompt == "")
    moves = {
        "right": lecture.forward, "space": lecture.forward, "enter": lecture.forward, "pagedown": lecture.forward,
        "left": lecture.back, "backspace": lecture.back, "pageup": lecture.back, "w": lecture.why,
        "r": lecture.return_, "u": lecture.undo, "home": lambda: lecture.go_to("1"),
        "end": lambda: lecture.go_to(str(len(lecture.original.steps))), "l": lambda: _turn_large(lecture),
        "down": lambda: _scroll(lecture, 1), "up": lambda: _scroll(lecture, -1),
    }  # fmt: skip
    for key, move in moves.items():
        keys.add(key, filter=playing)(lambda event, move=move: move())

    def ask(prompt: str, event: KeyPressEvent) -> None:
        asking.prompt = prompt
        buffer.reset()
        event.app.layout.focus(line)  # type: ignore[arg-type]

    for letter in "abd":
        keys.add(letter, filter=playing)(lambda event, letter=letter: lecture.vote(letter))

    @keys.add("c", filter=playing)
    def _(event: KeyPressEvent) -> None:
        """A vote where one is wanted, else a change."""
        if not lecture.vote("c") and not lecture.waits:
            ask(_CHANGE, event)

    @keys.add("g", filter=playing)
    def _(event: KeyPressEvent) -> None:
        ask(_GO, event)

    @keys.add("q", filter=playing)
    @keys.add("c-c")
    @keys.add("c-d")
    def _(event: KeyPressEvent) -> None:
        event.app.exit()

    @keys.add("escape", filter=~playing, eager=True)
    def _(event: KeyPressEvent) -> None:
        asking.prompt = ""
        event.app.layout.focus(window)  # type: ignore[arg-type]

    return keys


def _turn_large(lecture: Lecture) -> None:
    lecture.large = not lecture.large
    lecture.scrolled = 0


def _scroll(lecture: Lecture, lines: int) -> None:
    lecture.scrolled = max(lecture.scrolled + lines, 0)
