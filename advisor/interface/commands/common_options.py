"""Options that every command has: the units that it writes in, and knowledge of one's own."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

UNITS = ("metric", "us", "uk")
IN_UNITS = "write in C and grams, F with cups and ounces, or C with UK spoons (yours if kept, or metric)"


def add_units(parser: argparse.ArgumentParser) -> None:
    """Let a command, or each of its verbs, be told in which units it writes."""
    for one in _leaves(parser):
        one.add_argument("--units", choices=UNITS, help=IN_UNITS)


def add_knowledge(parser: argparse.ArgumentParser) -> None:
    """Let a command, or each of its verbs, be given a folder of one's own rules and knowledge."""
    for one in _leaves(parser):
        one.add_argument("--knowledge", metavar="FOLDER", help="rules and knowledge of your own, laid over")


def _leaves(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    verbs = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
    for action in verbs:
        for verb in action.choices.values():
            yield from _leaves(verb)
    if not verbs:
        yield parser
