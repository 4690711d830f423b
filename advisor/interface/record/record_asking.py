"""Asking for a bake at the terminal: formula, what the loaf shows, marks, measures; only the formula is needed."""

from __future__ import annotations

from argparse import ArgumentTypeError
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from advisor.interface.desk.argument_types import celsius
from advisor.interface.desk.bake_keeping import Noted
from advisor.interface.desk.baker_measures import BakersMeasures, kept_measures
from advisor.interface.desk.formula_prompt import ask_for_formula
from advisor.interface.desk.own_places import measures_path
from advisor.interface.desk.prompting import Left, Prompter
from advisor.interface.interview.interview_talk import Talk
from advisor.interface.interview.interview_ticks import Quit, tick_symptoms
from advisor.interface.record.record_noted import change_named
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.trial_record.bake import MEASURED, SCORES, CameOut, Scores

_ASKS = {
    "height_cm": "Height of the cool loaf, cm",
    "weight_g": "Weight of the cool loaf, g",
    "volume_ml": "Volume of a piece by seed displacement, mL",
    "core_c": "Core as measured at the end of the bake, such as 96C or 205F",
}
_T = TypeVar("_T")


def ask_for_bake(noted: Noted, knowledge: Knowledge, region: str) -> Noted:
    """Ask for what was not given; Enter skips a question.

    Raises:
        InputFault: the baker left; nothing is kept.
    """
    noted = replace(noted, formula=ask_for_formula(region))
    prompter = Prompter()
    try:
        if not noted.saw:
            noted = replace(noted, saw=_ticked(prompter, knowledge))
            prompter.say("Did you look for all the other faults, and were they not there?")
            noted = replace(noted, nothing_else=prompter.line("y or Enter > ").lower() in ("y", "yes"))
        prompter.say("Marks from 1 (poor) to 5 (as wished). Enter skips.")
        marks = {
            name: getattr(noted.scores, name) or _until(prompter, f"{name} > ", _mark, "a mark from 1 to 5")
            for name in SCORES
        }
        measures = {
            name: getattr(noted.came_out, name)
            or _until(
                prompter,
                f"{_ASKS[name]} > ",
                _heat if name == "core_c" else _number,
                "a heat, such as 96C or 205F" if name == "core_c" else "a number, such as 11.5",
            )
            for name in MEASURED
        }
        followed = noted.followed or _until(
            prompter,
            "Change followed, by its number on the page or its name; Enter: none, or known by its amounts > ",
            lambda text: _followed(text, knowledge),
            "the number of a change as it was printed, or its name; the Tab key lists names",
            words=tuple(lever.says for lever in knowledge.levers.values()),
        )
        notes = noted.notes or prompter.line("Notes > ") or None
    except Left:
        raise InputFault("advisor: stopped; the bake was not kept") from None
    return replace(
        noted, scores=Scores(**marks), came_out=CameOut(**measures), followed=followed, notes=notes
    )


def _ticked(prompter: Prompter, knowledge: Knowledge) -> tuple[str, ...]:
    """Let the baker tick on the list of the interview, where anything was wrong."""
    if prompter.line("Was anything wrong with the loaf? y, or Enter for no > ").lower() not in ("y", "yes"):
        return ()
    ticked: list[str] = []

    def changed(now: Sequence[str]) -> None:
        ticked[:] = now

    talk = Talk(prompter, knowledge, kept_measures(measures_path()) or BakersMeasures(), None)
    try:
        tick_symptoms(talk, list(knowledge.symptoms.values()), (), changed)
    except Quit:
        raise Left("") from None
    return tuple(ticked)


def _until(
    prompter: Prompter,
    prompt: str,
    read: Callable[[str], _T | None],
    what: str,
    *,
    words: tuple[str, ...] = (),
) -> _T | None:
    """Ask until the answer can be read; `None` where nothing is typed."""
    while text := prompter.line(prompt, words=words):
        if (value := read(text)) is not None:
            return value
        prompter.say(f"Give {what}, or Enter to skip.")
    return None


def _followed(text: str, knowledge: Knowledge) -> str | None:
    try:
        return change_named(text, knowledge)
    except InputFault:
        return None


def _mark(text: str) -> int | None:
    return int(text) if text in ("1", "2", "3", "4", "5") else None


def _number(text: str) -> float | None:
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        return None
    return value if 0 < value < 1e6 else None


def _heat(text: str) -> float | None:
    try:
        return celsius(text)
    except ArgumentTypeError:
        return None
