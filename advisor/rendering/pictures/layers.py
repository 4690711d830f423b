"""Where the nodes of a layered graph stand: columns in order of time, and lanes for links that pass a column by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from advisor.explanation.lesson.teach_steps import ChainLink

STAGES = ("mixing", "proof", "early_oven", "late_oven", "cooling", "storage")
ORDER = ("cause", *STAGES, "slice")
LANE = 12.0
"""Height of a lane, pixels."""
Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """Columns in use, the top edge and height of each node, and the lanes that each link runs through."""

    columns: tuple[str, ...]
    column_of: Mapping[str, int]
    top: Mapping[str, float]
    height: Mapping[str, float]
    lanes: Mapping[tuple[str, str], tuple[float, ...]]
    """Middle of the lane in each column between the two ends of a link."""
    bottom: float

    def middle(self, node: str) -> float:
        """Half the way down a node."""
        return self.top[node] + self.height[node] / 2


def lay_out(
    links: Sequence[ChainLink], causes: Mapping[str, float], symptoms: Mapping[str, float],
    height: Mapping[str, float], *, top: float, gap: float,
) -> Layers:  # fmt: skip
    """Place nodes of known heights; `causes` and `symptoms` give their chance, by which the first column is sorted.

    Within a column each node stands near what leads into it, so that few lines cross (barycentre rule); a link
    that passes columns by has a lane of its own in each of them, so that it never runs behind a box.
    """
    stage = _stages(links, causes, symptoms)
    used = tuple(column for column in ORDER if column in stage.values())
    column_of = {node: used.index(where) for node, where in stage.items()}
    into: dict[str, list[str]] = {}
    members: list[list[str]] = [[n for n in stage if column_of[n] == place] for place in range(len(used))]
    high = dict(height)
    for link in links:
        before = link.start
        for place in range(column_of[link.start] + 1, column_of[link.to]):
            lane = f"{link.start}>{link.to}@{place}"
            members[place].append(lane)
            high[lane] = LANE
            into.setdefault(lane, []).append(before)
            before = lane
        into.setdefault(link.to, []).append(before)
    tops: dict[str, float] = {}
    middle: dict[str, float] = {}
    tallest = max(sum(high[n] + gap for n in nodes) for nodes in members)
    for place, nodes in enumerate(members):
        if place == 0:
            nodes = sorted(nodes, key=lambda n: (-causes.get(n, 0.0), n))
        else:
            nodes = sorted(nodes, key=lambda n: (_mean(middle, into.get(n, [])), n))
        y = top + (tallest - sum(high[n] + gap for n in nodes)) / 2
        for node in nodes:
            tops[node], middle[node] = y, y + high[node] / 2
            y += high[node] + gap
    lanes = {
        link.key: tuple(
            middle[f"{link.start}>{link.to}@{place}"]
            for place in range(column_of[link.start] + 1, column_of[link.to])
        )
        for link in links
    }
    return Layers(columns=used, column_of=column_of, top=tops, height=high, lanes=lanes, bottom=top + tallest)


def _stages(
    links: Sequence[ChainLink], causes: Mapping[str, float], symptoms: Mapping[str, float]
) -> dict[str, str]:
    """Every node in the column of the stage at which it happens: the latest at which a link leads into it."""
    stage = {link.start: "cause" if link.start in causes else "mixing" for link in links}
    changed = True
    while changed:
        changed = False
        for link in links:
            reached = "slice" if link.to in symptoms else link.row
            before = stage.get(link.to, "cause")
            after = max(reached, before, stage[link.start], key=ORDER.index)
            if after != before:
                stage[link.to], changed = after, True
    return stage


def _mean(middle: Mapping[str, float], nodes: Sequence[str]) -> float:
    known = [middle[n] for n in nodes if n in middle]
    return sum(known) / len(known) if known else 0.0


def curve(points: Sequence[Point]) -> list[Point]:
    """A smooth way from left to right through points, flat at each of them."""
    out = [points[0]]
    for a, d in pairwise(points):
        reach = (d[0] - a[0]) / 2
        b, c = (a[0] + reach, a[1]), (d[0] - reach, d[1])
        out += [_bezier(a, b, c, d, step / 10) for step in range(1, 11)]
    return out


def _bezier(a: Point, b: Point, c: Point, d: Point, t: float) -> Point:
    u = 1 - t
    weights = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
    corners = (a, b, c, d)
    return (
        sum(w * p[0] for w, p in zip(weights, corners, strict=True)),
        sum(w * p[1] for w, p in zip(weights, corners, strict=True)),
    )
