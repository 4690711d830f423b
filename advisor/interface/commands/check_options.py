"""The options of the commands that answer: `check`, `diagnose`, and what `try` shares with them."""

from __future__ import annotations

import argparse

from advisor.interface.commands.common_options import (
    NO_PAGER,
    REGIONS,
    WHOSE_CUPS,
    add_engine,
    add_limits,
    add_told,
)
from advisor.interface.desk.argument_types import count, share
from advisor.interface.record.record_options import add_learning_options

FORMATS = ("text", "markdown")


def add_check_options(check: argparse.ArgumentParser) -> None:
    """The options of `check`."""
    check.add_argument(
        "formulas",
        nargs="*",
        metavar="FORMULA",
        help="a file, a folder of them, - for standard input, or a demo formula's name",
    )
    check.add_argument(
        "--risk", type=share, metavar="0..1", help="risk of a symptom from which the answer is no (0.35)"
    )
    check.add_argument(
        "--strict",
        action="store_true",
        help="say no as well where a line was not read, or what decides is not stated",
    )
    add_asked(check)
    check.add_argument(
        "--format",
        choices=(*FORMATS, "csv", "junit"),
        default="text",
        help="the form of the page (text); csv: a row a formula; junit: XML for test runners",
    )
    add_learning_options(check)
    check.add_argument(
        "--jobs", type=count, default=1, metavar="N", help="formulas looked at beside each other"
    )
    check.add_argument("--plot", metavar="FILE", help="the timeline as a picture, .svg or .png")
    check.add_argument("--sensitivity", action="store_true", help="what each line weighed off would do")
    check.add_argument("--demos", action="store_true", help="list the formulas that come with it")
    check.add_argument("--apply", metavar="N", help="print change N applied (or: together), nothing else")
    check.add_argument(
        "--save", action="store_true", help="write it into the formula's file; keep that beside it"
    )
    check.add_argument("--jsonl", action="store_true", help="one JSON object a line, a line a formula")
    check.add_argument("--summary", action="store_true", help="a table, a line a formula, as for a folder")
    check.add_argument(
        "--resume", metavar="FILE", help="add JSON lines to FILE; leave out what it holds already"
    )


def add_diagnose_options(diagnose: argparse.ArgumentParser) -> None:
    """The options of `diagnose`."""
    diagnose.add_argument("formula", nargs="?", metavar="FORMULA")
    add_told(diagnose)
    diagnose.add_argument("--apply", metavar="N", help="print change N applied (or: together), nothing else")
    diagnose.add_argument(
        "--save", action="store_true", help="write it into the formula's file; keep that beside it"
    )
    add_asked(diagnose)
    diagnose.add_argument("--format", choices=FORMATS, default="text", help="the form of the page (text)")
    add_learning_options(diagnose)
    diagnose.add_argument("--transcript", metavar="FILE", help="keep all that was said in a file")


def add_asked(parser: argparse.ArgumentParser) -> None:
    """What is asked of an answer: its limits, engine, region, form and length."""
    add_limits(parser)
    parser.add_argument("--on-hand", nargs="+", metavar="NAME", help="the only ingredients that may be added")
    add_engine(parser)
    parser.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)
    length = parser.add_mutually_exclusive_group()
    length.add_argument("--brief", action="store_true", help="only the verdict, the first cause and change")
    length.add_argument("--all", action="store_true", help="every number, cause and change")
    parser.add_argument("--no-pager", action="store_true", help=NO_PAGER)
