"""`advisor open`: the page in the browser, served from this machine."""

from __future__ import annotations

import argparse
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

from advisor.interface.desk.argument_types import port

# Every command puts this one into its parser: what it needs is imported where it runs.
if TYPE_CHECKING:
    from advisor.formula.formula import Formula

_NEEDED = ("starlette", "uvicorn", "segno")


def add_open(commands: argparse._SubParsersAction[Any]) -> None:
    """Put the command into the parser."""
    parser = commands.add_parser("open", help="the same in a browser, for the kitchen and the class")
    parser.add_argument("formula", nargs="?", metavar="FORMULA", help="what the page opens with")
    parser.add_argument(
        "--lan", action="store_true", help="let other devices of the house in, each by a link"
    )
    parser.add_argument("--port", type=port, default=0, metavar="N", help="the port (any that is free)")
    parser.add_argument("--no-browser", action="store_true", help="print the link, and open nothing")
    parser.add_argument("--region", choices=("us", "metric", "uk", "au"), help="whose cups and spoons")


def run_open(options: argparse.Namespace) -> int:
    """Serve the page until Ctrl-C; exit 0, or 2 where the formula cannot be read or a library is missing.

    Raises:
        InputFault, FormulaFault: what was given cannot be used.
    """
    from advisor import load_knowledge
    from advisor.interface.desk.formula_choice import choose_formula
    from advisor.knowledge_base.faults import InputFault
    from advisor.rendering.baker_units import units_in_use

    if any(find_spec(name) is None for name in _NEEDED):
        raise InputFault(
            "advisor: the page needs its libraries; install them with: pip install 'dough-advisor[page]'"
        )
    text = ""
    if options.formula is not None:
        text = _text_of(choose_formula(options.formula, load_knowledge(), options.region))
    from advisor.interface.desk.baker_measures import kept_measures
    from advisor.interface.desk.own_places import measures_path
    from advisor.interface.page.device_access import NOTHING, Begin
    from advisor.interface.page.serving import Wish, serve_page

    chosen = options.units or kept_measures(measures_path())
    units = units_in_use() if chosen else NOTHING.units
    begin = Begin(text=text, region=options.region, units=units)
    return serve_page(Wish(begin=begin, lan=options.lan, port=options.port, browser=not options.no_browser))


def _text_of(formula: Formula) -> str:
    """The formula as it was written, with its name where only the file has one, and without remarks after a #."""
    from advisor.formula.writing.as_text import one_line

    lines = [line for line in formula.source_text.splitlines() if not line.startswith("#")]
    named = any(formula.name in line for line in lines)
    return "\n".join([*([] if named else [f"title: {one_line(formula.name)}"]), *lines]).strip() + "\n"
