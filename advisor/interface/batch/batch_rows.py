"""`advisor check --format csv` and `--format junit`: a row or a test case a formula."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator, Sequence
from functools import partial

from advisor import load_knowledge
from advisor.api.many import Cell, check_source, csv_lines, row_of
from advisor.api.pool import in_order
from advisor.api.sources import Source, sources_of
from advisor.interface.batch.batch_run import asked_of, killed_source
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import fitted
from advisor.knowledge_base.faults import InputFault
from advisor.rendering.checked import FIGURES, AskedOfMany, Checked, checked
from advisor.rendering.junit import junit_of

_OTHER_FORMS = ("json", "jsonl", "resume", "plot", "apply", "sensitivity", "all", "brief", "summary")


def run_rows(words: Sequence[str], options: argparse.Namespace) -> int:
    """Check every formula named and write its row or case; exit with the worst of their exits.

    Raises:
        InputFault: an option that asks for another form, or a folder that cannot be used.
    """
    if named := [f"--{name}" for name in _OTHER_FORMS if getattr(options, name, None)]:
        raise InputFault(f"advisor: --format {options.format} and {named[0]} are two forms: choose one")
    asked = asked_of(options)
    found = _found(words, options, asked)
    if options.format == "junit":
        every = tuple(found)
        sys.stdout.write(fitted(junit_of(every, load_knowledge(), asked), sys.stdout))
        return max(one.exit for one in every)
    worst = [0]
    for line in csv_lines(_rows(found, worst)):
        sys.stdout.write(fitted(line, sys.stdout).replace("\r\n", "\n"))
    return worst[0]


def _rows(found: Iterable[Checked], worst: list[int]) -> Iterator[dict[str, Cell]]:
    knowledge = load_knowledge()
    for one in found:
        worst[0] = max(worst[0], one.exit)
        yield row_of(one, knowledge, FIGURES)


def _found(words: Sequence[str], options: argparse.Namespace, asked: AskedOfMany) -> Iterator[Checked]:
    knowledge = load_knowledge()
    if list(words) == ["-"]:
        # Standard input is there once, and is read with the size limit of every single formula.
        read = partial(choose_formula, "-", knowledge, options.region)
        from advisor.interface.desk.advisor_choice import advisor_for

        return iter((checked("standard input", read, advisor_for, asked),))
    things: Sequence[Source] = sources_of(words, knowledge)
    return in_order(partial(check_source, asked=asked), things, options.jobs, killed_source)
