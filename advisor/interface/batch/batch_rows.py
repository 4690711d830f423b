"""`advisor check --format csv`: a row a formula, written as the answers come."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from functools import partial

from advisor import load_knowledge
from advisor.api.many import Cell, check_source, csv_lines, row_of
from advisor.api.pool import in_order
from advisor.api.sources import Source, sources_of
from advisor.interface.batch.batch_run import asked_of, killed_source
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import fitted
from advisor.knowledge_base.faults import InputFault
from advisor.rendering.checked import FIGURES, Checked, checked

_OTHER_FORMS = ("json", "jsonl", "resume", "plot", "apply", "sensitivity", "all", "brief", "summary")


def run_rows(words: Sequence[str], options: argparse.Namespace) -> int:
    """Check every formula named and write its row; exit with the worst of their exits.

    Raises:
        InputFault: an option that asks for another form, or a folder that cannot be used.
    """
    if named := [f"--{name}" for name in _OTHER_FORMS if getattr(options, name, None)]:
        raise InputFault(f"advisor: --format csv and {named[0]} are two forms: choose one")
    worst = [0]
    for line in csv_lines(_rows(words, options, worst)):
        sys.stdout.write(fitted(line, sys.stdout).replace("\r\n", "\n"))
    return worst[0]


def _rows(words: Sequence[str], options: argparse.Namespace, worst: list[int]) -> Iterator[dict[str, Cell]]:
    knowledge, asked = load_knowledge(), asked_of(options)
    found: Iterator[Checked]
    if list(words) == ["-"]:
        # Standard input is there once, and is read with the size limit of every single formula.
        read = partial(choose_formula, "-", knowledge, options.region)
        from advisor.interface.desk.advisor_choice import advisor_for

        found = iter((checked("standard input", read, advisor_for, asked),))
    else:
        things: Sequence[Source] = sources_of(words, knowledge)
        found = in_order(partial(check_source, asked=asked), things, options.jobs, killed_source)
    for one in found:
        worst[0] = max(worst[0], one.exit)
        yield row_of(one, knowledge, FIGURES)
