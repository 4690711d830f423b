"""Everything that can be found wrong in rules/ and knowledge/, by what the program itself reads and allows."""

from __future__ import annotations

import re
import types
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Literal, get_args, get_origin, get_type_hints

from advisor.explanation.thresholds import Thresholds
from advisor.formula.formula import Process
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.knowledge_base.faults import Finding
from advisor.knowledge_base.knowledge import Knowledge, read_knowledge
from advisor.knowledge_base.own_folder import OwnFolderFault, laid_over
from advisor.knowledge_base.places import Places
from advisor.linting.checking import lint_knowledge
from advisor.linting.report import ProcessFields


def process_fields() -> ProcessFields:
    """Fields of the process with the words that each may hold, read from the dataclass itself."""
    hints = get_type_hints(Process)
    return {field.name: _words(hints[field.name]) for field in fields(Process)}


def _words(hint: object) -> frozenset[str] | None:
    if get_origin(hint) is Literal:
        return frozenset(get_args(hint))
    if isinstance(hint, types.UnionType) or get_args(hint):
        kinds = [part for part in get_args(hint) if part is not type(None)]
        return _words(kinds[0])
    if hint is bool:
        return frozenset({"true", "false"})
    return None if hint in (int, float) else frozenset()


def words_of_code() -> frozenset[str]:
    """Names in quotes in the program, outside the reading of knowledge and of text: what models look up."""
    package = Path(__file__).resolve().parents[1]
    readers = ("knowledge_base", "formula")
    paths = [path for path in package.rglob("*.py") if path.relative_to(package).parts[0] not in readers]
    # The formatter writes every string in double quotes, so that none has to be parsed for; `{` ends what stands before
    # a place to be filled.
    quoted = re.compile(r'"([a-z][a-z0-9_]+)(?=["{])')
    names = {name for path in paths for name in quoted.findall(path.read_text("utf-8"))}
    looked_up = re.compile(r'coefficients\.get\("([a-z][a-z0-9_]+)"\)')  # by the reading of text too
    names.update(
        n for path in (package / "formula").rglob("*.py") for n in looked_up.findall(path.read_text("utf-8"))
    )
    return frozenset(names | {field.name for field in fields(Thresholds)})


def traits_of_words() -> frozenset[str]:
    """Traits that a word in a formula's line ("melted", "from a bag") sets on its ingredient."""
    return frozenset(WORD_FOR_TRAIT)


def _engine_findings(knowledge: Knowledge) -> Iterator[Finding]:
    """What the compiler of the rules refuses, and where all rules together are more than the engines take."""
    from advisor.inference.phases import RuleFault
    from advisor.inference.rule_book import RuleBook, check_engine_limits

    sound = []
    for name, rule in knowledge.rules.items():
        try:
            RuleBook.compile((rule,))
            sound.append(rule)
        except RuleFault as fault:
            file, line = knowledge.origin[("rule", name)]
            yield Finding(file=file, line=line, check="engine", message=f"{name}: {fault.reason}")
    for message in check_engine_limits(sound):
        yield Finding(file="rules", line=0, check="engine", message=message)


def look_over(places: Places) -> tuple[Knowledge, tuple[Finding, ...]]:
    """Read the knowledge of some folders and give it with everything that is found wrong in it.

    Raises:
        advisor.knowledge_base.faults.KnowledgeFault: a file does not hold what it should.
    """
    knowledge = read_knowledge(replace(places, over=None))
    if places.over is not None:
        knowledge = laid_over(knowledge, places.over)
    return knowledge, findings_in(knowledge, places)


def findings_in(knowledge: Knowledge, places: Places) -> tuple[Finding, ...]:
    """Give everything that is found wrong in knowledge that was read."""
    found = lint_knowledge(
        knowledge,
        places,
        process=process_fields(),
        read_by_code=words_of_code(),
        traits_of_words=traits_of_words(),
    )
    return tuple(sorted({*found, *_engine_findings(knowledge)}))


def laid_over_and_linted(shipped: Knowledge, places: Places) -> Knowledge:
    """Lay the user's folder over the shipped knowledge; nothing that the linter complains of is used.

    Raises:
        OwnFolderFault: the folder cannot be used, or something in it is wrong; names files and lines.
    """
    assert places.over is not None
    knowledge = laid_over(shipped, places.over)
    if findings := findings_in(knowledge, places):
        raise OwnFolderFault(findings)
    return knowledge
