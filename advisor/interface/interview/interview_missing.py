"""Asking first for what the formula does not say and the verdict hangs on: oven, minutes, pan, when it was cut."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula, Missing
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.interface.interview.interview_commands import command_in
from advisor.interface.interview.interview_talk import Talk
from advisor.interface.interview.interview_ticks import Quit

_CUT = "sliced_after_min"
_LINES = {
    "oven_c": ("oven: {}", "Bake at {}."),
    "bake_min": ("bake: {}", "bake: {} min", "Bake for {}.", "Bake {}."),
    "pan_kind": ("pan: {}", "Baked in a {}.", "Baked {}."),
    _CUT: ("sliced after: {}", "sliced after: {} min", "Sliced {}.", "Sliced after {}."),
}
"""By field, the lines of a formula that an answer may be a part of; what is typed is tried as it stands too."""


def ask_for_missing(talk: Talk, formula: Formula, region: str) -> Formula:
    """Ask for each thing that is missing; Enter leaves it open. Give the formula with what was said as its own lines.

    Raises:
        Left: on Ctrl-C and Ctrl-D.
        Quit: on `quit`.
    """
    # Of a loaf that is told in full the later questions ask when it was cut, if what it shows makes that matter.
    left = () if all(one.field == _CUT for one in formula.asked) else formula.asked
    before: list[tuple[Formula, tuple[Missing, ...]]] = []
    if left:
        talk.prompter.say()
        talk.say("First what the formula does not say. Enter: I do not know; b: back.")
    while left:
        found = _ask(talk, left[0], formula, region)
        if found is not None:
            before.append((formula, left))
            # One answer may hold what the next question would ask.
            open_still = {one.field for one in found.asked}
            formula, left = found, tuple(one for one in left[1:] if one.field in open_still)
        elif before:
            formula, left = before.pop()
        else:
            talk.say("This is the first question.")
    return formula


def _ask(talk: Talk, missing: Missing, formula: Formula, region: str) -> Formula | None:
    """Ask for one; the formula as it was where it is not known, `None` for back."""
    entry = talk.knowledge.unstated.get(missing.field)
    talk.prompter.say()
    talk.say(entry.asks if entry else f"{missing.what[:1].upper()}{missing.what[1:]}?")
    while True:
        typed = talk.prompter.line("> ")
        command = command_in(typed)
        word = command.word if command else None
        if not typed or word in ("unknown", "skip"):
            return formula
        if word == "back":
            return None
        if word == "quit":
            raise Quit
        if word in ("why", "explain", "help"):
            talk.say(f"{missing.why} For example: {missing.write}.")
            continue
        if (found := _with_answer(formula, missing, typed, talk, region)) is not None:
            return found
        talk.say(f"That cannot be read here. Write it such as: {missing.write}. Enter if you do not know.")


def _with_answer(formula: Formula, missing: Missing, typed: str, talk: Talk, region: str) -> Formula | None:
    """Read the formula again with the answer in it; `None` where no way of writing it says what is missing."""
    for text in _texts(formula, missing, typed):
        try:
            found = read_formula_text(text, talk.knowledge, name=formula.name, region=region)
        except FormulaFault:
            continue
        # A weight brings a line: a bare number is passed over by the reading, and so is the question with it.
        least = len(formula.lines) + (missing.field not in _LINES)
        if all(one.field != missing.field for one in found.asked) and len(found.lines) >= least:
            return found
    return None


def _texts(formula: Formula, missing: Missing, typed: str) -> Iterator[str]:
    """Give the texts that the formula may become with the answer, the likeliest first."""
    sources = [formula.source_text] if formula.source_text else []
    for source in (*sources, write_formula_text(formula, exact=True)):
        if missing.field in _LINES:
            lines = (*(line.format(typed.rstrip(".")) for line in _LINES[missing.field]), typed)
            yield from (f"{source.rstrip()}\n{line}\n" for line in lines)
            continue
        name = next((u.ingredient.name for u in formula.unweighed if u.ingredient.id == missing.field), "")
        for written in (typed, f"{typed} {name}", f"{typed} g {name}"):
            yield _in_place_of(source, missing, formula, written)


def _in_place_of(source: str, missing: Missing, formula: Formula, written: str) -> str:
    """Put a weighed line where the ingredient stands without a weight."""
    bare = {u.text.strip() for u in formula.unweighed if u.ingredient.id == missing.field}
    return "\n".join(written if line.strip() in bare else line for line in source.splitlines()) + "\n"
