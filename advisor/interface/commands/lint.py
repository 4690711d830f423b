"""`advisor lint`: every fault in rules/ and knowledge/ in one run, as `file:line check message`."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

from advisor.api.linted import look_over
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.progress import progress
from advisor.knowledge_base.faults import Finding, InputFault, KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.places import find_places
from advisor.knowledge_base.whole_file import write_whole


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


def run_lint(options: argparse.Namespace) -> int:
    """Print all findings, or what was read where there are none; exit 0 when clean, 1 on any finding.

    `--graph` names the file to draw the cause graph into: Mermaid where its name ends in .mmd, else DOT. With `-` the
    graph has standard output to itself, and the findings go to standard error.

    Raises:
        InputFault: the graph cannot be written, or it and JSON both want standard output.
    """
    graph: str | None = options.graph
    if options.json and graph == "-":
        raise InputFault("advisor: --json and --graph - both write to standard output: give the graph a file")
    closing = ""
    try:
        with progress("advisor: reading rules/ and knowledge/"):
            knowledge, findings = look_over(find_places())
        if options.sweeps and not findings:
            with progress("advisor: sweeping the demo formulas"):
                findings = tuple(sorted(_sweep_findings(knowledge)))
        closing = f"clean: {_read(knowledge)} read"
        if graph is not None:
            _draw(knowledge, graph)
    except KnowledgeFault as fault:
        findings = tuple(sorted(set(fault.findings)))
        if graph is not None:
            sys.stderr.write("advisor: no graph is drawn of knowledge that cannot be read\n")
    if options.json:
        from advisor.rendering.documents.known import findings_document

        write_document(findings_document(findings), as_written=True)
    else:
        count = f"{len(findings)} finding{'' if len(findings) == 1 else 's'}"
        stream = sys.stderr if graph == "-" else sys.stdout
        stream.write("".join(f"{line}\n" for line in (*findings, count if findings else closing)))
    return 1 if findings else 0


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
