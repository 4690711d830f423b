"""Asking for a formula at the terminal: a file, a demo name, or the formula itself, until it can be read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from advisor import load_knowledge
from advisor.formula.faults import FormulaFault
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.keeping import keep
from advisor.interface.desk.prompting import Left, Prompter
from advisor.interface.desk.showing import wrapped
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge

WHICH = (
    "Which formula? Type the name of a file, or of a demo formula (the Tab key lists them).",
    "Or paste or type the formula, one ingredient a line, and end it with an empty line.",
    "Ctrl-C leaves.",
)
MEND = "Mend it here with the arrow keys, then press Enter on the empty last line; or leave with Ctrl-C."
AGAIN = "Paste it again, mended; or leave with Ctrl-C, mend the file, and give its name."
_FAULTS_SHOWN = 6


def ask_for_formula(
    region: str = "us",
    *,
    prompter: Prompter | None = None,
    which: Sequence[str] = WHICH,
    instead: Callable[[str], str | None] = lambda _: None,
    ends: Callable[[str], bool] = lambda _: False,
    begun: str = "",
) -> str:
    """Ask until there is a formula that can be read; give what `choose_formula` understands.

    `which` is what is asked. `instead` may understand a typed line otherwise, and give what stands in its place; where
    it raises InputFault, that is said and asked again. `ends` says of a first line that it is such a line and whole.
    `begun` is what of the formula was typed before it was asked for.

    A formula that was typed or pasted is kept in a file, whose name is said; where it cannot be read, it stands at
    the prompt again to be mended.

    Raises:
        InputFault: the baker left without giving one; the message names the file that holds what was typed.
    """
    knowledge = load_knowledge()
    prompter = prompter or Prompter()
    for sentence in which:
        prompter.say(wrapped(sentence))
    kept: Path | None = None
    shows = prompter.can_show_text_to_mend
    before = f"{begun.rstrip()}\n" if begun else ""
    text = before if shows else ""
    while True:
        try:
            typed = prompter.several_lines(
                "> ",
                words=sorted(knowledge.formulas),
                text=text,
                one_is_enough=lambda line: _is_a_name(line, knowledge) or ends(line),
            )
        except Left as left:
            if len(left.typed.strip().splitlines()) > 1:
                kept = keep(left.typed, name="formula", suffix=".txt", path=kept)
            said = f"; what was typed is kept in {kept}" if kept else ""
            raise InputFault(f"advisor: stopped without a formula{said}") from None
        if before and not shows:
            typed = before + typed
        before = ""
        word = typed.strip()
        if not word:
            prompter.say("Nothing was given yet: a name, a formula, or Ctrl-C to leave.")
            continue
        try:
            other = instead(word)
        except InputFault as fault:
            prompter.say(wrapped(str(fault)))
            continue
        if other is not None:
            return other
        if (demo := _demo_named(word, knowledge)) is not None:
            return demo
        if _holds_lines(word, knowledge):
            kept = keep(typed.rstrip() + "\n", name="formula", suffix=".txt", path=kept)
            prompter.say(f"Kept in {kept}")
            word, text = str(kept), (typed.rstrip() + "\n" if shows else "")
        try:
            choose_formula(word, knowledge, region)
        except (FormulaFault, InputFault) as fault:
            prompter.say(_shortened(str(fault)))
            if kept:
                prompter.say(wrapped(MEND if text else AGAIN))
            continue
        return word


def _demo_named(word: str, knowledge: Knowledge) -> str | None:
    """Give the demo formula that is meant, written with blanks or hyphens."""
    name = "-".join(word.lower().split())
    return name if name in knowledge.formulas and not _exists(word) else None


def _is_a_name(text: str, knowledge: Knowledge) -> bool:
    """A file, a demo formula or a single word ends the asking; anything longer begins a formula."""
    word = text.strip()
    return len(word.split()) < 2 or _exists(word) or _demo_named(word, knowledge) is not None


def _holds_lines(word: str, knowledge: Knowledge) -> bool:
    """Several lines, or one with an amount: a formula. One without was meant as a name."""
    one = "\n" not in word
    return not (one and (_is_a_name(word, knowledge) or not any(letter.isnumeric() for letter in word)))


def _exists(word: str) -> bool:
    try:
        return Path(word).exists()
    except (OSError, ValueError):
        return False


def _shortened(faults: str) -> str:
    lines = faults.splitlines()
    more = len(lines) - _FAULTS_SHOWN
    shown = lines if more <= 0 else [*lines[:_FAULTS_SHOWN], f"and {more} more like these"]
    return "\n".join(wrapped(line) for line in shown)
