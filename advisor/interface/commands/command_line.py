"""The command `advisor`: arguments in, pages or JSON out, exits 0, 1 and 2."""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
from collections.abc import Sequence

from advisor.interface.commands.check_options import add_asked, add_check_options, add_diagnose_options
from advisor.interface.commands.command_help import put_manuals
from advisor.interface.commands.common_options import (
    NO_PAGER,
    REGIONS,
    WHOSE_CUPS,
    add_engine,
    add_knowledge,
    add_seen,
    add_told,
    add_units,
)
from advisor.interface.commands.design_options import (
    add_improve_options,
    add_plan_options,
    add_start_options,
    add_tolerance_options,
    add_write_options,
)
from advisor.interface.commands.open_page import add_open
from advisor.interface.record.record_options import add_learning_options, add_record_parser
from advisor.version import __version__

INPUT_FAULT = 2
PROGRAM_FAULT = 3
LONGEST_MESSAGE = 2000


class _Parser(argparse.ArgumentParser):
    """Says a wrong command line in one line and exits with 2."""

    def error(self, message: str) -> None:  # type: ignore[override]
        self.exit(INPUT_FAULT, f"{self.prog}: {message}; see '{self.prog} --help'\n")


def build_parser() -> argparse.ArgumentParser:
    """All commands with their arguments."""
    parser = _Parser(
        prog="advisor",
        description="Says why a low-carbohydrate or high-protein dough fails, and what to change.",
        epilog="'advisor help COMMAND' tells of one command, with examples and exit codes.",
    )
    parser.add_argument("--version", action="version", version=f"dough-advisor {__version__}")
    parser.add_argument(
        "--completion", choices=("bash", "zsh", "fish"), help="print a script by which a shell completes"
    )
    parser.add_argument("--schema", metavar="KIND", help="print the JSON Schema of a kind and stop")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)

    add_check_options(commands.add_parser("check", help="look at formulas before the bake"))
    add_diagnose_options(commands.add_parser("diagnose", help="find why a loaf failed"))

    why = commands.add_parser("why", help="the proof of a cause, or where a symptom's risk comes from")
    why.add_argument("formula", metavar="FORMULA")
    why.add_argument("topic", nargs="+", metavar="CAUSE_OR_SYMPTOM")
    add_told(why)
    add_engine(why)
    why.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)

    trial = commands.add_parser("try", help="a formula with changes: before and after")
    trial.add_argument("formula", metavar="FORMULA")
    trial.add_argument(
        "changes", nargs="+", metavar="CHANGE",
        help="'water -30 g', 'oven 165 C', 'omit butter', 'whole egg -> egg white', 'A instead of B', '? instead of B'",
    )  # fmt: skip
    trial.add_argument("--apply", action="store_true", help="print the changed formula and nothing else")
    add_seen(trial, says="what the loaf showed, for a change by its number")
    add_asked(trial)
    add_learning_options(trial)

    start = commands.add_parser("start", help="first formulas from what is at hand")
    add_start_options(start)

    improve = commands.add_parser("improve", help="a better formula towards an aim, and its price")
    add_improve_options(improve)
    tolerance = commands.add_parser("tolerance", help="how far each line may go, and which error matters")
    add_tolerance_options(tolerance)

    differ = commands.add_parser("differ", help="two formulas line by line, and what the differences do")
    differ.add_argument("first", metavar="FORMULA")
    differ.add_argument("second", metavar="FORMULA")
    add_engine(differ)
    differ.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)
    differ.add_argument(
        "--worse-fails", action="store_true", help="exit 1 where the second has more risk in all"
    )
    differ.add_argument("--no-pager", action="store_true", help=NO_PAGER)

    ingredients = commands.add_parser("ingredients", help="what is known of ingredients; add your own")
    ingredients.add_argument("word", nargs="*", metavar="WORD", help="a name, a family, or part of a name")
    what = ingredients.add_mutually_exclusive_group()
    what.add_argument("--new", metavar="FILE", help="add one from a packet's panel; - asks, or reads YAML")
    what.add_argument("--export", action="store_true", help="print your own as YAML")
    what.add_argument(
        "--import",
        dest="import_file",
        metavar="FILE",
        help="add what --export printed, or a sheet (.csv, .tsv, .xlsx)",
    )
    ingredients.add_argument("--replace", action="store_true", help="put a new one in place of your old one")
    ingredients.add_argument("--json", action="store_true")

    write = commands.add_parser(
        "write", help="a formula out again in another form, a label, or the plan of a day's bake"
    )
    add_write_options(write)
    plan = commands.add_parser("plan-bakes", help="which few bakes teach most of this kitchen")
    add_plan_options(plan)

    add_open(commands)
    add_record_parser(commands, REGIONS, _Parser)

    lint = commands.add_parser("lint", help="look for faults in rules/ and knowledge/")
    lint.add_argument("--json", action="store_true")
    lint.add_argument(
        "--graph", metavar="FILE", help="draw the cause graph as DOT, or Mermaid into a .mmd; - prints it"
    )
    lint.add_argument(
        "--sweeps",
        action="store_true",
        help="look for risks that jump where an amount moves a little (minutes)",
    )
    sources = commands.add_parser("sources", help="what rests on which source")
    sources.add_argument("word", nargs="?", metavar="WORD")
    sources.add_argument("--json", action="store_true")
    glossary = commands.add_parser("glossary", help="what a word of the trade means")
    glossary.add_argument("word", nargs="*", metavar="WORD", help="a term; every term without one")
    glossary.add_argument("--json", action="store_true")
    symptoms = commands.add_parser("symptoms", help="what a loaf may show, and how to tell")
    symptoms.add_argument(
        "word", nargs="*", metavar="WORD", help="a name or a phrase; every symptom without one"
    )
    symptoms.add_argument("--json", action="store_true")
    _teaching(commands)
    for name, command in commands.choices.items():
        if name != "lint":
            add_units(command)
        add_knowledge(command)
    put_manuals(commands.choices)
    return parser


def _teaching(commands: argparse._SubParsersAction[_Parser]) -> None:
    teach = commands.add_parser("teach", help="show a chain from cause to fault step by step, to a class")
    teach.add_argument(
        "topic", nargs="?", metavar="TOPIC", help="a lesson, formula, symptom, cause or mechanism; lists them"
    )
    teach.add_argument("--out", metavar="FILE", help="write the steps, as Markdown (.md) or a page (.html)")
    teach.add_argument(
        "--hide-answers", action="store_true", help="the class votes first; on paper: a handout"
    )
    teach.add_argument("--key", metavar="FILE", help="write the key to the handout as Markdown")
    teach.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)
    teach.add_argument("--json", action="store_true")
    report = commands.add_parser("report", help="one page to read and print, for a browser")
    report.add_argument("formula", metavar="FORMULA")
    add_told(report)
    report.add_argument("--out", required=True, metavar="FILE", help="the page, .html")
    report.add_argument(
        "--with", dest="parts", nargs="+", default=[], metavar="PARTS",
        help="parts that take seconds: tolerance, improve, plan",
    )  # fmt: skip
    report.add_argument("--pictures", metavar="FOLDER", help="its pictures too: .svg, .png, .dot and .mmd")
    report.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; give its exit code. No traceback reaches a user."""
    _harden_streams()
    _seldom_look_for_garbage()
    parser = build_parser()
    words = list(sys.argv[1:] if arguments is None else arguments)
    if words[:1] == ["help"]:
        words = [*words[1:2], "--help"]
    from advisor.interface.commands import running, start

    if (meant := start.what_was_meant(words, _commands_of(parser))) is not None:
        sys.stderr.write(f"{meant}\n")
        return INPUT_FAULT
    options = parser.parse_args(words)

    try:
        if options.schema is not None:
            return running.run_schema(options.schema)
        if options.completion is not None:
            from advisor.interface.commands.completion_scripts import completion_script

            sys.stdout.write(completion_script(options.completion, parser))
            return 0
        if options.command is None:
            return start.run_start(main)
        return running.run(options)
    except running.InputFault as fault:
        sys.stderr.write("".join(f"{_harmless(line)}\n" for line in str(fault).splitlines()))
        return INPUT_FAULT
    except KeyboardInterrupt:
        sys.stderr.write("stopped\n")
        return 130
    except BrokenPipeError:
        # The reader (head, a pager) has gone: nothing is wrong, and nothing more can be said.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        if os.environ.get("ADVISOR_TRACEBACK"):
            raise
        sys.stderr.write(
            f"advisor: this is a fault in the program, not in your formula ({type(error).__name__}: {error}); "
            "set ADVISOR_TRACEBACK=1 to see where\n"
        )
        return PROGRAM_FAULT


def _commands_of(parser: argparse.ArgumentParser) -> tuple[str, ...]:
    found = (action for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    return (*next(found).choices, "help")


def _harmless(line: str) -> str:
    """A message may quote a key or a word of a file that holds terminal codes, or a megabyte of digits."""
    from advisor.knowledge_base.escaping import shown

    return line if line.isprintable() and len(line) <= LONGEST_MESSAGE else shown(line, LONGEST_MESSAGE)


def _seldom_look_for_garbage() -> None:
    """What a command loads stays to its end: looking through it again and again took a fifth of a check."""
    gc.set_threshold(200_000, 20, 20)
    atexit.register(gc.freeze)  # and not once more on the way out


def _harden_streams() -> None:
    """A terminal that cannot show a letter gets a substitute instead of an error."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


if __name__ == "__main__":
    sys.exit(main())
