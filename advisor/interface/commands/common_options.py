"""Options that several commands have: units, knowledge of one's own, the limits of a formula."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from advisor.interface.desk.argument_types import positive

REGIONS = ("us", "metric", "uk", "au")
WHOSE_CUPS = "whose cups and spoons the formula means (yours if kept, or us)"
NO_PAGER = "write a long page straight to the terminal"
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


def add_limits(parser: argparse.ArgumentParser) -> None:
    """Let a command be told the limits of a formula; those of a project's file hold where none is told."""
    for name, metavar, says in (
        ("--net-carb-max", "G", "most net carbohydrate in a slice, g"),
        ("--protein-min", "G", "least protein in a slice, g"),
        ("--energy-max", "KCAL", "most energy in a slice, kcal"),
        ("--sodium-max", "MG", "most sodium in a slice, mg"),
        ("--cost-max", "MONEY", "most that a slice may cost, by your own prices"),
    ):
        parser.add_argument(name, type=positive, metavar=metavar, help=says)
    parser.add_argument(
        "--avoid", nargs="+", default=[], metavar="NAME", help="allergens or ingredients not to use or add"
    )
    parser.add_argument(
        "--limits",
        metavar="FILE",
        help="limits from this file, or from none; else from advisor.toml, if there is one",
    )


def add_seen(parser: argparse.ArgumentParser, *, says: str = "what the loaf showed") -> None:
    """Let a command be told what the loaf showed, and what was looked for and not there."""
    parser.add_argument("--saw", nargs="+", default=[], metavar="SYMPTOM", help=says)
    parser.add_argument(
        "--not", dest="not_seen", nargs="+", default=[], metavar="SYMPTOM", help="looked for, not there"
    )


def add_told(parser: argparse.ArgumentParser) -> None:
    """The same, and the answers to questions."""
    add_seen(parser)
    parser.add_argument("--answers", metavar="FILE", help="YAML: saw, not and answers to questions")


def add_engine(parser: argparse.ArgumentParser) -> None:
    """Let a command be told which engine runs the rules, and whether it answers in JSON."""
    parser.add_argument("--engine", choices=("auto", "durable", "clips"), default="auto", help="rule engine")
    parser.add_argument("--json", action="store_true")


def _leaves(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    verbs = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
    for action in verbs:
        for verb in action.choices.values():
            yield from _leaves(verb)
    if not verbs:
        yield parser
