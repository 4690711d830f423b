"""What a kind of bake changes in a look at it: bands, measures that mean nothing, causes and faults that cannot be."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import chain

from advisor.formula.formula import Formula
from advisor.inference.bands import BandTable
from advisor.knowledge_base.graph_entries import Cause
from advisor.knowledge_base.kind_entries import Kind, KindGap
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
    causes_left_out: frozenset[str] = frozenset()
    gaps: tuple[KindGap, ...] = ()
    """What no model follows in it."""

    def values(self, values: Mapping[str, float]) -> dict[str, float]:
        """The measures that mean something for this kind."""
        return {name: value for name, value in values.items() if name not in self.left_out}

    def causes(self, causes: Mapping[str, Cause]) -> Mapping[str, Cause]:
        """The causes that can be at work."""
        if not self.causes_left_out:
            return causes
        return {name: cause for name, cause in causes.items() if name not in self.causes_left_out}

    def cannot_have(self, observed: Collection[str]) -> frozenset[str]:
        """The faults that such a bake cannot have; what the baker looked at stays."""
        return self.symptoms_left_out.difference(observed)


def _lenders(knowledge: Knowledge, formula: Formula) -> Iterator[Kind]:
    """Kinds that lend a dough what they leave out: what it is leavened with cannot be followed."""
    roles = {role for line in formula.lines for role in line.ingredient.roles}
    for kind in knowledge.kinds.values():
        trait = kind.lends_to
        if (
            trait
            and not roles & set(kind.without_role)
            and any(trait in line.all_traits for line in formula.lines)
        ):
            yield kind


@dataclass(frozen=True, slots=True)
class KindViews:
    """The views of all kinds, each made when it is first asked for."""

    knowledge: Knowledge
    bands: BandTable
    made: dict[tuple[str, tuple[str, ...], tuple[int, ...]], KindView] = field(default_factory=dict)

    def of(self, dough_state: DoughState) -> KindView:
        """The view of a dough's kind, as it is baked and leavened."""
        kind = self.knowledge.kinds.get(dough_state.with_defaults.kind)
        if kind is None:
            return KindView(kind=None, bands=self.bands)
        formula = dough_state.formula
        lent = tuple(k.id for k in _lenders(self.knowledge, formula) if k is not kind)
        ways = tuple(
            n
            for n, variant in enumerate(kind.variants)
            if any(getattr(formula.process, name) not in (None, (), False) for name in variant.where)
        )
        key = (kind.id, lent, ways)
        if key not in self.made:
            self.made[key] = self._made(kind, lent, ways)
        return self.made[key]

    def _made(self, kind: Kind, lent: tuple[str, ...], ways: tuple[int, ...]) -> KindView:
        kinds = (kind, *(self.knowledge.kinds[name] for name in lent))
        groups = {group for k in kinds for group in k.groups_left_out}
        out = frozenset(chain.from_iterable(k.left_out for k in kinds)) | {
            m.id for m in self.knowledge.measures.values() if m.group in groups
        }
        not_here = {
            s.id for s in self.knowledge.symptoms.values() if s.only_kinds and kind.id not in s.only_kinds
        }
        loaves = self.bands
        if not kind.loaf_dough:
            loaves = loaves.loosened(self.knowledge.coefficient("borrowed_band_gives"))
        table = loaves.with_others(kind.bands, out)
        for n in ways:
            table = table.with_others(kind.variants[n].bands, out)
        return KindView(
            kind=kind,
            bands=table,
            left_out=out,
            symptoms_left_out=frozenset(not_here).union(*(k.symptoms_left_out for k in kinds)),
            causes_left_out=frozenset(chain.from_iterable(k.causes_left_out for k in kinds)),
            gaps=tuple(chain.from_iterable(k.not_judged for k in kinds)),
        )
