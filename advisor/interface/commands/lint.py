"""`advisor lint`: every fault in rules/ and knowledge/ in one run, as `file:line check message`."""

from __future__ import annotations

import re
import sys
import types
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Literal, get_args, get_origin, get_type_hints

from advisor.formula.formula import Process
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.progress import progress
from advisor.knowledge_base.faults import Finding, InputFault, KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge, read_knowledge
from advisor.knowledge_base.places import find_places
from advisor.knowledge_base.whole_file import write_whole
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
    package = Path(__file__).resolve().parents[2]
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
    return frozenset(names)


def traits_of_words() -> frozenset[str]:
    """Traits that a word in a formula's line ("melted", "from a bag") sets on its ingredient."""
    return frozenset(WORD_FOR_TRAIT)


def _engine_findings(knowledge: Knowledge) -> Iterator[Finding]:
    """What the compiler of the rules refuses, and where all rules together are more than the engines take."""
    from advisor.inference.phases import RuleFault
    from advisor.inference.rule_book import RuleBook
    from advisor.inference.rule_set_check import check_engine_limits

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


def _sweep_findings(knowledge: Knowledge) -> Iterator[Finding]:
    """Where a risk jumps while one amount, time, oven or height of a balanced demo formula moves a little."""
    from advisor.diagnosis.pipeline import Examiner
    from advisor.diagnosis.sweeps import jumps
    from advisor.formula.reading import read_formula_text

    texts = {name: path.read_text("utf-8") for name, path in knowledge.formulas.items()}
    balanced = {n: read_formula_text(t, knowledge, name=n) for n, t in texts.items() if "# fault:" not in t}
    for jump in jumps(Examiner(knowledge), balanced):
        path = knowledge.formulas[jump.formula].name
        yield Finding(file=f"knowledge/formulas/{path}", line=0, check="jump", message=jump.says)


def run_lint(as_json: bool, graph: str | None = None, *, sweeps: bool = False) -> int:
    """Print all findings, or what was read where there are none; exit 0 when clean, 1 on any finding.

    `graph` is the file to draw the cause graph into: Mermaid where its name ends in .mmd, else DOT. With `-` the graph
    has standard output to itself, and the findings go to standard error.

    Raises:
        InputFault: the graph cannot be written, or it and JSON both want standard output.
    """
    if as_json and graph == "-":
        raise InputFault("advisor: --json and --graph - both write to standard output: give the graph a file")
    closing = ""
    try:
        with progress("advisor: reading rules/ and knowledge/"):
            knowledge, findings = _looked_over()
        if sweeps and not findings:
            with progress("advisor: sweeping the demo formulas"):
                findings = tuple(sorted(_sweep_findings(knowledge)))
        closing = f"clean: {_read(knowledge)} read"
        if graph is not None:
            _draw(knowledge, graph)
    except KnowledgeFault as fault:
        findings = tuple(sorted(set(fault.findings)))
        if graph is not None:
            sys.stderr.write("advisor: no graph is drawn of knowledge that cannot be read\n")
    if as_json:
        from advisor.rendering.documents.known import findings_document

        write_document(findings_document(findings), as_written=True)
    else:
        count = f"{len(findings)} finding{'' if len(findings) == 1 else 's'}"
        stream = sys.stderr if graph == "-" else sys.stdout
        stream.write("".join(f"{line}\n" for line in (*findings, count if findings else closing)))
    return 1 if findings else 0


def _looked_over() -> tuple[Knowledge, tuple[Finding, ...]]:
    places = find_places()
    knowledge = read_knowledge(places)
    found = lint_knowledge(
        knowledge,
        places,
        process=process_fields(),
        read_by_code=words_of_code(),
        traits_of_words=traits_of_words(),
    )
    return knowledge, tuple(sorted({*found, *_engine_findings(knowledge)}))


def _draw(knowledge: Knowledge, graph: str) -> None:
    from advisor.diagnosis.graph_drawing import dot_text, mermaid_text

    if graph == "-":
        write_page(dot_text(knowledge))
    else:
        write_whole(Path(graph), (mermaid_text if graph.endswith(".mmd") else dot_text)(knowledge))


def _read(knowledge: Knowledge) -> str:
    counts = {
        "rules": knowledge.rules, "causes": knowledge.causes, "symptoms": knowledge.symptoms,
        "links": knowledge.links, "levers": knowledge.levers, "ingredients": knowledge.ingredients,
        "bands": knowledge.bands, "sources": knowledge.sources,
    }  # fmt: skip
    return ", ".join(f"{len(entries)} {what}" for what, entries in counts.items())
