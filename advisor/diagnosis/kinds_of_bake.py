"""What a kind of bake changes in a look at it: bands, measures that mean nothing, causes and faults that cannot be."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from advisor.inference.bands import BandTable
from advisor.knowledge_base.graph_entries import Cause
from advisor.knowledge_base.kind_entries import Kind
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough_state import DoughState


@dataclass(frozen=True, slots=True, kw_only=True)
class KindView:
    """One kind as an examiner reads it."""

    kind: Kind | None
    bands: BandTable
    left_out: frozenset[str] = frozenset()
    """Measures that no rule may read."""
    symptoms_left_out: frozenset[str] = frozenset()
    """Faults that it cannot have."""

    def values(self, values: Mapping[str, float]) -> dict[str, float]:
        """The measures that mean something for this kind."""
        return {name: value for name, value in values.items() if name not in self.left_out}

    def causes(self, causes: Mapping[str, Cause]) -> Mapping[str, Cause]:
        """The causes that can be at work."""
        if self.kind is None or not self.kind.causes_left_out:
            return causes
        gone = set(self.kind.causes_left_out)
        return {name: cause for name, cause in causes.items() if name not in gone}

    def cannot_have(self, observed: Collection[str]) -> frozenset[str]:
        """The faults that such a bake cannot have; what the baker looked at stays."""
        return self.symptoms_left_out.difference(observed)


@dataclass(frozen=True, slots=True)
class KindViews:
    """The views of all kinds, made once."""

    by_id: Mapping[str, KindView]
    usual: KindView = field(kw_only=True)

    @classmethod
    def build(cls, knowledge: Knowledge, bands: BandTable) -> KindViews:
        """Make the view of every kind."""
        views: dict[str, KindView] = {}
        for name, kind in knowledge.kinds.items():
            out = frozenset(kind.left_out) | {
                m.id for m in knowledge.measures.values() if m.group in kind.groups_left_out
            }
            not_here = {
                s.id for s in knowledge.symptoms.values() if s.only_kinds and name not in s.only_kinds
            }
            views[name] = KindView(
                kind=kind,
                bands=bands.with_others(kind.bands, out),
                left_out=out,
                symptoms_left_out=frozenset(not_here).union(kind.symptoms_left_out),
            )
        return cls(views, usual=KindView(kind=None, bands=bands))

    def of(self, dough_state: DoughState) -> KindView:
        """The view of a dough's kind."""
        return self.by_id.get(dough_state.with_defaults.kind, self.usual)
