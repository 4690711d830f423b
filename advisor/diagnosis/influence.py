"""How much of each symptom follows from one cause alone: exact reachability in an acyclic graph.

Every link is open independently with its strength; the influence of a cause on a symptom is the probability
that an open route leads from one to the other. That is noisy-OR over the routes with a shared link counted
once. It is worked out without listing routes, by carrying the joint distribution of the nodes that still
have something to pass on (variable elimination in topological order; noisy-OR as in Pearl 1988, section
4.3.2).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

Parents = Mapping[str, Sequence[tuple[str, float]]]
"""Node to the nodes that feed it, each with the strength of the link between."""


def reach(start: str, order: Sequence[str], parents: Parents, sinks: frozenset[str]) -> dict[str, float]:
    """Give the probability that each sink is reached from `start`; sinks out of reach are left out.

    `order` holds all nodes but the causes, parents before children; `sinks` pass nothing on. The work grows
    with two to the number of nodes that wait for a child at one time, which is a handful in a fault graph.
    """
    met = {start}
    path: list[str] = []
    for node in order:
        for parent, _ in parents.get(node, ()):
            if parent in met:
                met.add(node)
                path.append(node)
                break
    last_use = {parent: node for node in path for parent, _ in parents[node] if parent in met}
    bit = {node: 1 << n for n, node in enumerate((start, *path))}
    states = {bit[start]: 1.0}
    found: dict[str, float] = {}
    for node in path:
        feeding = [(bit[parent], 1.0 - strength) for parent, strength in parents[node] if parent in met]
        # A node is forgotten once its last child has been worked out, so that the states stay few.
        keep = ~sum(bit[parent] for parent, _ in parents[node] if last_use.get(parent) == node)
        after: dict[int, float] = {}
        reached = 0.0
        for mask, weight in states.items():
            shut = 1.0
            for parent_bit, closed in feeding:
                if mask & parent_bit:
                    shut *= closed
            reached += weight * (1.0 - shut)
            if node in sinks or node not in last_use:
                after[mask & keep] = after.get(mask & keep, 0.0) + weight
                continue
            for grown, share in ((mask | bit[node], 1.0 - shut), (mask, shut)):
                if share > 0.0:
                    after[grown & keep] = after.get(grown & keep, 0.0) + weight * share
        if node in sinks:
            found[node] = reached
        states = after
    return found
