"""`advisor check` on folders and long lists: answers in order, a table at the end, and a way to go on later."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TextIO

from advisor import load_knowledge
from advisor.api.many import check_source, killed
from advisor.api.pool import in_order
from advisor.api.sources import Source, content_of, sources_of
from advisor.interface.batch.batch_log import BatchLog, digest_of, line_of, open_log
from advisor.interface.batch.batch_progress import Progress
from advisor.interface.batch.batch_table import counted, table_lines
from advisor.interface.desk.advisor_choice import advisor_for, constraints_from
from advisor.interface.desk.output import fitted
from advisor.interface.desk.record_learnt import in_this_kitchen
from advisor.knowledge_base.faults import InputFault
from advisor.rendering.checked import AskedOfMany, Checked

_FOR_ONE = ("plot", "apply", "save", "sensitivity", "all")


def run_batch(words: Sequence[str], options: argparse.Namespace) -> int:
    """Check all formulas of the folders and files named; exit with the worst of their exits.

    Raises:
        InputFault: an option that is for single formulas, or a folder or file that cannot be used.
    """
    knowledge = load_knowledge()
    if named := [f"--{name}" for name in _FOR_ONE if getattr(options, name, None)]:
        raise InputFault(
            f"advisor: {named[0]} is for formulas named one by one, not for a folder or --resume"
        )
    asked = asked_of(options)
    sources = sources_of(words, knowledge)
    found: list[Checked] = []
    kept = 0
    with ExitStack() as stack:
        log = stack.enter_context(open_log(Path(options.resume), asked)) if options.resume else None
        digest = digest_of(asked) if asked.documents else ""
        progress = stack.enter_context(Progress(len(sources)))
        out = _Lines(options, log, progress)
        for checked, content, known in _answers(sources, asked, log, digest, options.jobs):
            kept += known
            progress.step(quickly=known)
            for problem in checked.problems:
                progress.say(fitted(problem, sys.stderr))
            if asked.documents and not known:
                out.write(line_of(checked, content, digest))
            # For the table alone; of twenty thousand nothing more has room.
            found.append(replace(checked, document="", figures={}, guesses=()))
        out.end()
    _write_table(found, kept, asked.risk_limit, sys.stderr if asked.documents and log is None else sys.stdout)
    return max(one.exit for one in found)


def asked_of(options: argparse.Namespace) -> AskedOfMany:
    """What the options of a command ask of every formula."""
    knowledge = load_knowledge()
    advisor = in_this_kitchen(advisor_for(options.engine), options)
    return AskedOfMany(
        limits=constraints_from(options, knowledge),
        risk_limit=knowledge.coefficient("risk_limit") if options.risk is None else options.risk,
        region=options.region,
        engine=options.engine,
        documents=bool(options.json or options.jsonl or options.resume),
        shifts=advisor.examiner.shifts,
        strict=options.strict,
    )


def _answers(
    sources: Sequence[Source], asked: AskedOfMany, log: BatchLog | None, digest: str, jobs: int
) -> Iterator[tuple[Checked, str, bool]]:
    """Give each answer with the hash of its formula, and whether it was known from before, in order."""
    contents = [content_of(source) if log is not None or asked.documents else "" for source in sources]
    known = [
        log.known(source.name, content, digest) if log is not None else None
        for source, content in zip(sources, contents, strict=True)
    ]
    to_do = [source for source, there in zip(sources, known, strict=True) if there is None]
    found = in_order(partial(check_source, asked=asked), to_do, jobs, killed_source)
    for content, there in zip(contents, known, strict=True):
        yield (next(found), content, False) if there is None else (there, content, True)


def killed_source(source: Source, fault: BaseException) -> Checked:
    """Answer for a formula that kills whatever checks it."""
    return killed(source.name, fault)


class _Lines:
    """Where the answers in full go: to the file that is gone on with, or to standard output."""

    def __init__(self, options: argparse.Namespace, log: BatchLog | None, progress: Progress) -> None:
        self._log = log
        self._progress = progress
        self._as_list = bool(options.json) and log is None
        self._count = 0

    def write(self, line: str) -> None:
        if self._log is not None:
            self._log.add(line)
            return
        self._progress.clear()
        if self._as_list:
            line = (",\n" if self._count else "[\n") + line.rstrip("\n")
        sys.stdout.write(line)
        self._count += 1

    def end(self) -> None:
        if self._as_list:
            sys.stdout.write("\n]\n")


def _write_table(found: Sequence[Checked], kept: int, risk_limit: float, stream: TextIO) -> None:
    exits = Counter[int](one.exit for one in found)
    for line in (*table_lines(found, load_knowledge(), risk_limit), "", counted(exits, kept)):
        stream.write(fitted(line, stream) + "\n")
