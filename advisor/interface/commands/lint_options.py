"""The options of `advisor lint`, apart from its work, so that the parser is built without it."""

from __future__ import annotations

import argparse


def add_lint_options(lint: argparse.ArgumentParser) -> None:
    """Add what `lint` can be told."""
    lint.add_argument("--json", action="store_true")
    lint.add_argument(
        "--graph", metavar="FILE", help="draw the cause graph as DOT, or Mermaid into a .mmd; - prints it"
    )
    lint.add_argument(
        "--sweeps",
        action="store_true",
        help="look for risks that jump where an amount moves a little (minutes)",
    )
