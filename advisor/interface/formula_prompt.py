"""Pasting a formula at the prompt."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.interface.formula_choice import InputFault

if TYPE_CHECKING:
    from prompt_toolkit.filters import Condition


def ask_for_formula() -> str:
    """Ask for a file name, a demo name, or a pasted formula; give what `choose_formula` understands.

    A pasted formula is written to a temporary file, whose name is said, so that nothing that was typed is lost.

    Raises:
        InputFault: the baker left without giving one.
    """
    from prompt_toolkit import PromptSession
    from prompt_toolkit.completion import WordCompleter

    from advisor import load_knowledge

    names = WordCompleter(sorted(load_knowledge().formulas), sentence=True)
    session: PromptSession[str] = PromptSession()
    try:
        first = session.prompt("Formula (a file, a demo name, or paste it and press Esc, then Enter): ", completer=names,
                               multiline=_several_lines())  # fmt: skip
    except (KeyboardInterrupt, EOFError):
        raise InputFault("advisor: no formula given") from None
    text = first.strip()
    if not text:
        raise InputFault("advisor: no formula given")
    if "\n" not in text:
        return text
    with tempfile.NamedTemporaryFile("w", suffix=".txt", prefix="formula-", delete=False, encoding="utf-8") as file:
        file.write(text + "\n")
    print(f"Kept as {Path(file.name)}")
    return file.name


def _several_lines() -> Condition:
    """One line ends with Enter; once a paste has brought a second line, Esc and Enter end it."""
    from prompt_toolkit.application import get_app
    from prompt_toolkit.filters import Condition

    return Condition(lambda: "\n" in get_app().current_buffer.text)
