"""Laying measures against the bands of the structure in play; two neighbouring structures are blended."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from advisor.inference.situation import BandState, Judged
from advisor.knowledge_base.measured import Band

_ANY = "any"
_DUST = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """A band after blending, in the measure's own unit.

    `low_step` and `high_step` are the distances past each edge that count as an excess of one: a full step, which
    a baker would notice. `half` is half the width, or the step where one end is open; `inside` the depth of one.
    """

    low: float | None
    high: float | None
    low_step: float
    high_step: float
    half: float
    inside: float
    aim: float | None = None
    """Where a baker would put the measure, where the band says so."""
    near_edge: bool = False


def _blend(parts: list[tuple[float, float | None]]) -> float | None:
    """Weighted mean of what is known; of what the heavier part leaves open nothing is."""
    total = sum(w for w, _ in parts)
    known = [(w, e) for w, e in parts if e is not None]
    weight = sum(w for w, _ in known)
    if not known or weight <= total / 2:
        return None
    return sum(w * e for w, e in known) / weight


def _gives_way(step: float | None, share: float) -> float:
    """How far an edge moves out that only a share (above a half) of the loaf has, in the measure's unit.

    step (1 - share) / (2 share - 1): by nothing where all of it has it, without end at a half, so that no edge comes or
    goes at a stroke.
    """
    return (step or 0.0) * (1 - share) / (2 * share - 1)


def _loosened(band: Band, steps: float) -> Band:
    below, above = (band.step_below or 0.0) * steps, (band.step_above or 0.0) * steps
    return band.model_copy(
        update={
            "low": None if band.low is None else band.low - below,
            "high": None if band.high is None else band.high + above,
        }
    )


@dataclass(frozen=True, slots=True)
class BandTable:
    """All bands, by measure and structure."""

    by_measure: Mapping[str, Mapping[str, Band]]

    @classmethod
    def build(cls, bands: tuple[Band, ...]) -> BandTable:
        """Index the bands; the structure `any` serves where no band of its own is given."""
        table: dict[str, dict[str, Band]] = {}
        for band in bands:
            for structure in band.structures:
                table.setdefault(band.measure, {})[structure] = band
        return cls(table)

    def with_others(self, bands: Iterable[Band], without: Collection[str] = ()) -> BandTable:
        """Give the table with some bands in place of its own, and without the bands of some measures.

        A band that serves `any` structure takes the place of all bands of its measure.
        """
        table = {name: dict(found) for name, found in self.by_measure.items() if name not in without}
        for band in bands:
            if _ANY in band.structures:
                table[band.measure] = {_ANY: band}
            else:
                table.setdefault(band.measure, {}).update(dict.fromkeys(band.structures, band))
        return BandTable(table)

    def loosened(self, steps: float) -> BandTable:
        """Give the table with the bands of single structures wider by so many of their own steps at each end."""
        return BandTable(
            {
                measure: {s: band if s == _ANY else _loosened(band, steps) for s, band in found.items()}
                for measure, found in self.by_measure.items()
            }
        )

    def edges(self, measure: str, weights: Mapping[str, float]) -> Edges | None:
        """Give the blended band of a measure, or `None` where the structures in play have none."""
        by_structure = self.by_measure.get(measure)
        if by_structure is None:
            return None
        parts = [
            (w, band) for s, w in weights.items() if (band := by_structure.get(s, by_structure.get(_ANY)))
        ]
        total = sum(weights.values())
        if not parts or sum(w for w, _ in parts) <= 0.5 * total:
            return None
        if len(parts) == 1:  # most loaves have one structure, and every measure of every candidate comes here
            band = parts[0][1]
            low, high, low_step, high_step, aim = (
                band.low, band.high, band.step_below, band.step_above, band.aim,
            )  # fmt: skip
        else:
            low, high, low_step, high_step, aim = (
                _blend([(w, edge) for (w, _), edge in zip(parts, column, strict=True)])
                for column in zip(
                    *((b.low, b.high, b.step_below, b.step_above, b.aim) for _, b in parts), strict=True
                )
            )
        if low is not None:
            low -= _gives_way(low_step, sum(w for w, b in parts if b.low is not None) / total)
        if high is not None:
            high += _gives_way(high_step, sum(w for w, b in parts if b.high is not None) / total)
        below, above = low_step or 1.0, high_step or 1.0
        half, inside = below if high is None else above, below if high is None else above
        if low is not None and high is not None:
            half, inside = (high - low) / 2, (high - low) / 4
        return Edges(
            low=low,
            high=high,
            low_step=below,
            high_step=above,
            half=half,
            inside=inside,
            aim=aim,
            near_edge=any(band.near_edge for _, band in parts),
        )

    def judge(self, weights: Mapping[str, float], values: Mapping[str, float]) -> dict[str, Judged]:
        """Judge every measure that has a value and a band.

        excess = distance past an edge over that edge's own step; depth = distance inside over a quarter of the
        width, or over the step where one end is open; each clamped to 0..1.
        """
        out: dict[str, Judged] = {}
        for name, value in values.items():
            if (edges := self.edges(name, weights)) is not None:
                out[name] = judge(value, edges)
        return out


def judge(value: float, edges: Edges) -> Judged:
    """Lay one value against one band."""
    below = edges.low - value if edges.low is not None else -float("inf")
    above = value - edges.high if edges.high is not None else -float("inf")
    past = max(below, above)
    # A value on the edge is in: the last digit of a sum must not decide between two states.
    past = 0.0 if abs(past) <= _DUST else past
    state: BandState = "in" if past <= 0 else ("low" if below > 0 else "high")
    return Judged(
        value=value,
        low=edges.low,
        high=edges.high,
        state=state,
        excess=min(max(past / (edges.low_step if below > above else edges.high_step), 0.0), 1.0),
        depth=min(max(-past / edges.inside, 0.0), 1.0),
    )
