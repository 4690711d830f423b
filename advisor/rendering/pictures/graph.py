"""The cause graph as a picture: of its many nodes only those that matter here, by stage, with the active chain lit.

What matters: the symptoms most at risk (or seen), the causes from which that comes, and the roads between them.
A lit link is dark, thick and solid; one over which little arrives is grey, thin and dashed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.chains import chance_of, links_of, names_of
from advisor.explanation.lesson.teach_steps import ROWS, ChainLink
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import percent
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.pictures.layers import Layers, curve, lay_out
from advisor.rendering.pictures.scene import DARK, FAINT, INK, LIGHT, PALE, PAPER, Scene, wrapped

WIDTH = 1280.0
_SIZE, _GAP, _TOP = 15.0, 18.0, 84.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Selection:
    """The part of the graph that matters: links with what arrives, and the chance of every end."""

    links: tuple[ChainLink, ...]
    chance: Mapping[str, float]
    """Cause to its chance, symptom to its risk."""
    left_out: int
    """How many nodes of the graph are not shown."""


def selection_of(found: Examination, examiner: Examiner) -> Selection:
    """Choose what matters for one formula."""
    graph, risks = examiner.graph_of(found.formula), found.diagnosis.risks
    limits = Thresholds.read(examiner.knowledge)
    seen = list(found.seen)
    by_risk = sorted(risks, key=lambda s: (-risks[s].risk, s))
    symptoms = (seen + [s for s in by_risk if s not in seen])[: max(len(seen), limits.pictured_symptoms)]
    gives: dict[str, float] = {}
    for symptom in symptoms:
        for one in risks[symptom].contributions:
            gives[one.cause] = max(gives.get(one.cause, 0.0), one.share)
    causes = sorted(gives, key=lambda c: (-gives[c], c))[: limits.pictured_causes]
    best: dict[tuple[str, str], ChainLink] = {}
    for place, cause in enumerate(causes):
        chance = chance_of(cause, found)
        routes = [
            route
            for symptom in symptoms
            for number, route in enumerate(graph.routes(cause, symptom)[: limits.pictured_routes])
            if route.strength * chance >= limits.pictured_from or (place == 0 and number == 0)
        ]
        for link in links_of(routes, chance, examiner.whole_graph, limits.link_lit):
            if link.key not in best or link.carried > best[link.key].carried:
                best[link.key] = link
    nodes = {end for key in best for end in key}
    chances = {c: chance_of(c, found) for c in causes if c in nodes}
    chances |= {s: risks[s].risk for s in symptoms if s in nodes}
    whole = len(graph.causes) + len(graph.mechanisms) + len(graph.symptoms)
    return Selection(links=tuple(best.values()), chance=chances, left_out=whole - len(nodes))


def reduced(knowledge: Knowledge, chosen: Selection) -> Knowledge:
    """Knowledge with only what was chosen, for the languages of drawing programs."""
    nodes = {end for link in chosen.links for end in link.key}
    keys = {link.key for link in chosen.links}
    return replace(
        knowledge,
        causes={n: e for n, e in knowledge.causes.items() if n in nodes},
        mechanisms={n: e for n, e in knowledge.mechanisms.items() if n in nodes},
        symptoms={n: e for n, e in knowledge.symptoms.items() if n in nodes},
        links=tuple(x for x in knowledge.links if (x.start, x.to) in keys),
    )


def graph_picture(chosen: Selection, knowledge: Knowledge) -> Scene:
    """Draw the selection in columns: causes, stages in order of time, and the slice."""
    names = names_of(knowledge)
    nodes = list(dict.fromkeys(end for link in chosen.links for end in link.key))
    columns = len({*_columns_of(chosen, knowledge)})
    width = (WIDTH - 2 * _GAP) / max(columns, 1)
    box = min(width - 46, 250.0)
    # Bold letters are wider by about an eighth.
    text = {node: wrapped(names[node], box - 16, _SIZE * 1.13) for node in nodes}
    height = {n: (len(text[n]) + (n in chosen.chance)) * _SIZE * 1.25 + 14 for n in nodes}
    laid = _laid(chosen, knowledge, height)
    said = "; ".join(
        f"{names[x.start]} leads to {names[x.to].lower()} ({percent(x.carried)} arrives{'' if x.lit else ', out'})"
        for x in sorted(chosen.links, key=lambda x: (-x.carried, x.key))
    )
    lit = sum(link.lit for link in chosen.links)
    scene = Scene(
        id="causes", title="From causes to symptoms, by stage",
        says=f"{lit} of {len(chosen.links)} links are lit. {said}.", width=WIDTH, height=laid.bottom + 44,
    )  # fmt: skip
    scene.words(_GAP, 28, scene.title, size=20, bold=True)
    for place, column in enumerate(laid.columns):
        label = {"cause": "Causes", "slice": "At the slice"}.get(column) or ROWS[column]
        x = _GAP + place * width
        scene.words(x + 4, 62, label, size=16, bold=True)
        scene.stroke((x + 4, 70), (x + width - 22, 70), ink=FAINT, line=1)
    left = {node: _GAP + laid.column_of[node] * width + 4 for node in nodes}
    for link in sorted(chosen.links, key=lambda x: (x.lit, x.carried)):
        _draw_link(scene, link, laid, left, width, box)
    lit_from = percent(Thresholds.read(knowledge).link_lit)
    active = {end for link in chosen.links if link.lit for end in link.key}
    for node in nodes:
        scene_node = _Node(
            x=left[node], y=laid.top[node], width=box, height=height[node], lines=tuple(text[node])
        )
        share = percent(chosen.chance[node]) if node in chosen.chance else ""
        _draw_node(scene, scene_node, share, lit=node in active, cause=node in knowledge.causes)
    scene.words(
        _GAP, laid.bottom + 28,
        f"Thick and solid: lit, {lit_from} or more of the cause's chance arrives. Dashed: little. "
        f"{chosen.left_out} more nodes carry next to nothing here and are left out.", size=14, ink=FAINT,
    )  # fmt: skip
    return scene


@dataclass(frozen=True, slots=True, kw_only=True)
class _Node:
    x: float
    y: float
    width: float
    height: float
    lines: tuple[str, ...]


def _laid(chosen: Selection, knowledge: Knowledge, height: Mapping[str, float]) -> Layers:
    causes = {n: chosen.chance.get(n, 0.0) for n in height if n in knowledge.causes}
    symptoms = {n: chosen.chance.get(n, 0.0) for n in height if n in knowledge.symptoms}
    return lay_out(chosen.links, causes, symptoms, height, top=_TOP, gap=_GAP)


def _columns_of(chosen: Selection, knowledge: Knowledge) -> tuple[str, ...]:
    """Columns that will be in use, whatever the heights."""
    nodes = {end for link in chosen.links for end in link.key}
    return _laid(chosen, knowledge, dict.fromkeys(nodes, 1.0)).columns


def _draw_node(scene: Scene, node: _Node, share: str, *, lit: bool, cause: bool) -> None:
    fill = PAPER if not lit else (LIGHT if cause else PALE)
    scene.box(
        node.x, node.y, node.width, node.height, fill=fill, edge=INK if lit else FAINT,
        line=2.6 if lit else 1, dash="solid" if lit else "dashed",
    )  # fmt: skip
    base = node.y + 7 + _SIZE * 0.95
    for line in node.lines:
        scene.words(node.x + 8, base, line, size=_SIZE, bold=lit, ink=INK if lit else FAINT)
        base += _SIZE * 1.25
    if share:
        scene.words(node.x + 8, base, share, size=_SIZE, ink=INK if lit else FAINT)


def _draw_link(
    scene: Scene, link: ChainLink, laid: Layers, left: Mapping[str, float], width: float, box: float
) -> None:
    start, end = (left[link.start] + box, laid.middle(link.start)), (left[link.to], laid.middle(link.to))
    if laid.column_of[link.start] == laid.column_of[link.to]:
        # Both in one column: a loop on its right side, out of one and into the other.
        out = start[0] + 24
        way = [start, (out, start[1]), (out, end[1]), (end[0] + box, end[1])]
    else:
        points = [start]
        for step, lane in enumerate(laid.lanes[link.key], 1):
            x = left[link.start] + step * width
            points += [(x, lane), (x + box, lane)]
        way = curve([*points, end])
    scene.stroke(
        *way, ink=DARK if link.lit else "#8a8a8a", line=round(1.8 + 6 * link.carried, 1) if link.lit else 1.2,
        dash="solid" if link.lit else "dashed", arrow=True,
    )  # fmt: skip
