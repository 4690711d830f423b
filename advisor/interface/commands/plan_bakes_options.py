"""The options of `advisor plan-bakes`."""

from __future__ import annotations

import argparse
from pathlib import Path

MOST_BAKES = 4


def add_plan_options(parser: argparse.ArgumentParser, regions: tuple[str, ...], whose_cups: str) -> None:
    """The options of the command."""
    parser.add_argument("formula", metavar="FORMULA")
    parser.add_argument(
        "--bakes", type=int, choices=range(1, MOST_BAKES + 1), default=MOST_BAKES, metavar="1..4", help="at most (4)"
    )  # fmt: skip
    parser.add_argument(
        "--doubt", nargs="+", default=[], metavar="NAME", help="causes, or constants of the kitchen, to part"
    )
    parser.add_argument(
        "--target", nargs="+", default=[], choices=("core", "loss", "volume"),
        help="what is to be foretold best: when the core is done, the weight lost, the volume (all three)",
    )  # fmt: skip
    parser.add_argument("--out", metavar="FILE", help="write the table to bake from, to be filled in (.csv)")
    parser.add_argument("--results", metavar="FILE", help="the filled table: say what it teaches")
    parser.add_argument(
        "--from-record", action="store_true", help="say what the bakes kept with 'record add' teach"
    )
    parser.add_argument("--record", type=Path, metavar="FILE", help="the record to read (your own)")
    parser.add_argument("--region", choices=regions, help=whose_cups)
    parser.add_argument("--json", action="store_true")
