"""The kind of bake in words: which it was taken for, by what, and what to write if it is another."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.answer import Depth, SaidBake
from advisor.explanation.blocks import Paragraph, Runs
from advisor.knowledge_base.kind_entries import Kind
from advisor.knowledge_base.knowledge import Knowledge


def said_bake(found: Examination, knowledge: Knowledge) -> SaidBake | None:
    """The kind that a formula was judged as; `None` where the knowledge has no kinds."""
    chosen = found.workings.dough_state.with_defaults.chosen
    if chosen is None:
        return None
    usual = next(iter(knowledge.kinds.values()))
    other = chosen.second or usual
    return SaidBake(
        id=chosen.kind.id,
        name=chosen.kind.name,
        likelihood=chosen.likelihood,
        by=chosen.by,
        other=written(other),
        told=_differs(chosen.kind) or chosen.stated or bool(chosen.unknown),
        unknown=chosen.unknown,
    )


def written(kind: Kind) -> str:
    """The kind as a line of a formula."""
    return f"kind: {kind.id.replace('_', ' ')}"


def bake_line(bake: SaidBake | None, depth: Depth) -> Iterator[Paragraph]:
    """The line of a page, where it says something: of a plain loaf only at full depth."""
    if bake is not None and (bake.told or depth == "full"):
        yield Paragraph(runs=_said(bake))


def _said(bake: SaidBake) -> Runs:
    known = f"'{bake.unknown}' is no kind that I know. " if bake.unknown else ""
    if bake.by == "as written":
        return (f"Kind: {bake.name}.",)
    return (f'{known}Kind: {bake.name}, {bake.by}; if not, add a line "{bake.other}".',)


def _differs(kind: Kind) -> bool:
    return kind.heat != "loaf" or bool(kind.bands or kind.left_out or kind.groups_left_out)
