"""What can stand where on a command line: read from the parser, with names from the knowledge."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.documents.kinds import KINDS

BEFORE = "_"
"""Stands for a command's name where none is typed yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """What may stand at one place: words, and whether files or folders may as well."""

    words: tuple[str, ...] = ()
    files: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """An option: its name, what it is for, and what follows it (`None` where nothing does)."""

    name: str
    says: str
    value: Place | None
    many: bool = False
    """Whether several values may follow."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """A command, with its options and what may stand beside them; verbs are words of that place."""

    name: str
    says: str
    options: tuple[Option, ...]
    place: Place


def commands_of(parser: argparse.ArgumentParser, knowledge: Knowledge) -> tuple[Command, ...]:
    """Give every command of a parser; the first, `BEFORE`, holds what stands before any command."""
    places = _places(knowledge)
    subs = next(a for a in parser._actions if isinstance(a, argparse._SubParsersAction))
    says = {choice.dest: choice.help or "" for choice in subs._choices_actions}
    first = Command(
        name=BEFORE, says="", options=_options((parser,), places), place=Place(words=(*subs.choices, "help"))
    )
    found = [first]
    for name, sub in subs.choices.items():
        all_of_it = (sub, *_verbs(sub))
        options, place = _options(all_of_it, places), _beside(all_of_it, places)
        found.append(Command(name=name, says=says.get(name, ""), options=options, place=place))
    return tuple(found)


def _places(knowledge: Knowledge) -> Callable[[argparse.Action], Place]:
    allergens = sorted({a for i in knowledge.ingredients.values() for a in i.allergens})
    symptoms, causes = tuple(knowledge.symptoms), tuple(knowledge.causes)
    by_metavar: Mapping[str, Place] = {
        "FORMULA": Place(words=tuple(knowledge.formulas), files=True),
        "SYMPTOM": Place(words=symptoms),
        "CAUSE_OR_SYMPTOM": Place(words=(*causes, *symptoms)),
        "TOPIC": Place(words=(*knowledge.formulas, *symptoms, *causes)),
        "NAME": Place(words=(*allergens, *knowledge.ingredients)),
        "LEVER": Place(words=tuple(knowledge.levers)),
        "KIND": Place(words=tuple(KINDS)),
        "FILE": Place(files=True),
        "FOLDER": Place(files=True),
        "PATH": Place(files=True),
    }

    def place(action: argparse.Action) -> Place:
        if action.choices is not None:
            return Place(words=tuple(map(str, action.choices)))
        return by_metavar.get(str(action.metavar), Place())

    return place


def _options(
    parsers: Iterable[argparse.ArgumentParser], place: Callable[[argparse.Action], Place]
) -> tuple[Option, ...]:
    found: dict[str, Option] = {}
    for one in parsers:
        for action in one._actions:
            for name in action.option_strings:
                value = None if action.nargs == 0 else place(action)
                many = action.nargs in ("+", "*")
                found.setdefault(name, Option(name=name, says=action.help or "", value=value, many=many))
    return tuple(found.values())


def _beside(parsers: Iterable[argparse.ArgumentParser], place: Callable[[argparse.Action], Place]) -> Place:
    words: list[str] = []
    files = False
    for one in parsers:
        for action in one._actions:
            if not action.option_strings:
                there = place(action)
                words += there.words
                files = files or there.files
    return Place(words=tuple(dict.fromkeys(words)), files=files)


def _verbs(parser: argparse.ArgumentParser) -> tuple[argparse.ArgumentParser, ...]:
    subs = [a for a in parser._actions if isinstance(a, argparse._SubParsersAction)]
    return tuple(verb for action in subs for verb in action.choices.values())
