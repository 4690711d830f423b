"""The cause graph as text for programs that draw: DOT and Mermaid, in three layers from cause to symptom.

Nothing rests on colour: layers differ by shape, links by width and by a label with strength and time of action, and
every grey is light under black letters.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.knowledge_base.graph_entries import Cause, Mechanism, Symptom
from advisor.knowledge_base.knowledge import Knowledge

_LAYERS = (
    # layer, what DOT calls its rank, DOT shape and grey, Mermaid brackets
    ("cause", "source", "box", "gray92", ("[", "]")),
    ("mechanism", "", "ellipse", "white", ("(", ")")),
    ("symptom", "sink", "octagon", "gray85", ("{{", "}}")),
)
_FILLS = {"cause": "#ebebeb", "mechanism": "#ffffff", "symptom": "#d9d9d9"}
_THINNEST, _THICKEST = 0.5, 4.0
"""Width of a link of strength 0 and 1, points or pixels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Node:
    layer: str
    id: str
    name: str

    @property
    def key(self) -> str:
        """An id that no layer shares and that no language keeps for itself (`end`, `node`)."""
        return f"{self.layer}_{re.sub('[^a-z0-9]', '_', self.id)}"


def _nodes(knowledge: Knowledge) -> tuple[_Node, ...]:
    shelves: dict[str, Mapping[str, Cause | Mechanism | Symptom]] = {
        "cause": knowledge.causes,
        "mechanism": knowledge.mechanisms,
        "symptom": knowledge.symptoms,
    }
    return tuple(
        _Node(layer=layer, id=name, name=entry.name)
        for layer, entries in shelves.items()
        for name, entry in entries.items()
    )


def _links(knowledge: Knowledge) -> Iterator[tuple[str, str, str, float | None]]:
    """Keys of both ends, label and width; a cause that is a finer form of another has no width."""
    keys = {node.id: node.key for node in _nodes(knowledge)}
    for link in knowledge.links:
        if link.start in keys and link.to in keys:
            width = _THINNEST + (_THICKEST - _THINNEST) * link.strength
            label = f"{link.strength:.2f} {link.acts.replace('_', ' ')}"
            yield keys[link.start], keys[link.to], label, width
    for name, cause in knowledge.causes.items():
        if cause.refines in knowledge.causes:
            yield keys[name], keys[str(cause.refines)], "a finer form of", None


def dot_text(knowledge: Knowledge) -> str:
    """The graph in the DOT language, left to right; a link with an unknown end is left out."""
    lines = [
        "digraph cause_graph {",
        '  graph [rankdir=LR, ranksep=2, nodesep=0.15, bgcolor=white, label="From causes by mechanisms to symptoms. '
        'Width of a line: strength; number: strength from 0 to 1; word: when it acts."];',
        '  node [style=filled, color=black, fontcolor=black, fontname="sans-serif", fontsize=11];',
        '  edge [color=gray25, fontcolor=black, fontname="sans-serif", fontsize=8];',
    ]
    nodes = _nodes(knowledge)
    for layer, rank, shape, grey, _ in _LAYERS:
        lines.append(f"  subgraph {layer}s {{")
        lines += [f"    rank={rank};"] if rank else []
        lines.append(f"    node [shape={shape}, fillcolor={grey}];")
        lines += [
            f"    {node.key} [label={_dot_quoted(node.name)}];" for node in nodes if node.layer == layer
        ]
        lines.append("  }")
    for start, to, label, width in _links(knowledge):
        # A finer form stands in the layer of its cause: it must not push that cause into the next one.
        look = "style=dashed, constraint=false" if width is None else f"penwidth={width:.2f}"
        lines.append(f"  {start} -> {to} [label={_dot_quoted(label)}, {look}];")
    return "\n".join([*lines, "}"]) + "\n"


def _dot_quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{" ".join(escaped.split())}"'


def mermaid_text(knowledge: Knowledge) -> str:
    """The graph as a Mermaid flow chart, left to right; a link with an unknown end is left out."""
    lines = ["flowchart LR"]
    nodes = _nodes(knowledge)
    for layer, _, _, _, (opens, closes) in _LAYERS:
        lines.append(f"  subgraph {layer}s")
        lines += [
            f"    {n.key}{opens}{_mermaid_quoted(n.name)}{closes}:::{layer}"
            for n in nodes
            if n.layer == layer
        ]
        lines.append("  end")
    widths = []
    for start, to, label, width in _links(knowledge):
        arrow = "-.->" if width is None else "-->"
        lines.append(f"  {start} {arrow}|{_mermaid_quoted(label)}| {to}")
        widths.append(width)
    for place, width in enumerate(widths):
        if width is not None:
            lines.append(f"  linkStyle {place} stroke:#404040,stroke-width:{width:.2f}px")
    lines += [
        f"  classDef {layer} fill:{fill},stroke:#000000,color:#000000" for layer, fill in _FILLS.items()
    ]
    return "\n".join(lines) + "\n"


def _mermaid_quoted(text: str) -> str:
    escaped = text.replace("#", "#35;").replace('"', "#quot;")
    return f'"{" ".join(escaped.split())}"'
