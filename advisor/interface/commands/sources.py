"""`advisor sources`: what rests on which work, how well it is known, and what rests on calibration alone."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from advisor import load_knowledge
from advisor.api.backing import GRADES, Backing, backings, is_wanted, sources_document
from advisor.explanation.blocks import Block, Heading, Item, Paragraph, Runs, Table
from advisor.explanation.changes import joined
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.texts import Source

_SEEN = {
    "whole": "read whole", "part": "read in part", "abstract": "abstract read",
    "secondary": "as another text reports it", "memory": "from memory, to be confirmed",
}  # fmt: skip
_AT_ONCE = 30  # names in one run, since a page cuts one that is too long


def run_sources(options: argparse.Namespace) -> int:
    """Print sources and grades, those that hold the word where one is given; exit 1 where nothing does."""
    knowledge = load_knowledge()
    everything = list(backings(knowledge))
    wanted = (options.word or "").strip().casefold()
    resting: dict[str, list[Backing]] = {key: [] for key in knowledge.sources}
    for backing in everything:
        for key in dict.fromkeys(backing.sources):
            resting.setdefault(key, []).append(backing)
    chosen = [s for key, s in knowledge.sources.items() if is_wanted(s, resting[key], wanted)]
    pinned = [b for b in everything if b.grade == "calibrated" and b.matches(wanted)]
    if options.json:
        write_document(sources_document(chosen, resting, everything))
    else:
        page = _page(chosen, resting, everything if not wanted else [], pinned, options.word)
        write_page(page_text(tuple(page)))
    return 0 if chosen or pinned else 1


def _page(
    chosen: list[Source],
    resting: dict[str, list[Backing]],
    everything: list[Backing],
    pinned: list[Backing],
    word: str | None,
) -> Iterator[Block]:
    if not chosen and not pinned:
        yield Paragraph(runs=(f"No source, citation or entry holds '{word}'.",))
    if chosen:
        yield Heading(text="Sources")
    for source in chosen:
        yield Heading(text=source.key, level=3)
        yield Paragraph(runs=(source.cites,))
        note = f"; {source.note}" if source.note else ""
        yield Paragraph(runs=(f"{source.kind.replace('_', ' ')}, {_SEEN[source.seen]}{note}",))
        yield from _by_kind(resting[source.key])
    if everything:
        yield from _grades(everything)
    if pinned:
        yield from _pinned(pinned)


def _by_kind(backed: list[Backing]) -> Iterator[Block]:
    by_kind: dict[str, dict[str, None]] = {}
    for backing in backed:
        by_kind.setdefault(backing.kind, {})[backing.name] = None
    if not by_kind:
        yield Paragraph(runs=("nothing rests on it",))
    for kind, names in by_kind.items():
        readable = [name.replace(">", " > ").replace("@", " at ") for name in names]
        some = (", ".join(readable[n : n + _AT_ONCE]) for n in range(0, len(readable), _AT_ONCE))
        yield Item(label="-", runs=(f"{kind}: ", *joined(tuple((part,) for part in some), ", ")))


def _grades(everything: list[Backing]) -> Iterator[Block]:
    yield Heading(text="How well it is known")
    yield Paragraph(
        runs=(
            "Entries and figures by grade: published has a source above, practice is common in the trade, memory "
            "is to be confirmed, calibrated is held in place by a test, demo is invented.",
        )
    )
    rows: list[tuple[Runs, ...]] = []
    for kind in (*dict.fromkeys(backing.kind for backing in everything), "all"):
        counts = (sum(kind in (b.kind, "all") and b.grade == grade for b in everything) for grade in GRADES)
        rows.append(((kind,), *((str(n) if n else "-",) for n in counts)))
    figures = frozenset(range(1, len(GRADES) + 1))
    yield Table(caption="How well it is known", head=("", *GRADES), rows=tuple(rows), figures=figures)


def _pinned(pinned: list[Backing]) -> Iterator[Block]:
    yield Heading(text="What rests on calibration alone")
    yield Paragraph(
        runs=("Chosen here so that known formulas come out right; the test named holds each in place.",)
    )
    by_test: dict[str, list[Backing]] = {}
    for backing in pinned:
        by_test.setdefault(backing.pinned_by or "no test named", []).append(backing)
    for test, held in sorted(by_test.items()):
        yield Heading(text=test, level=3)
        yield from _by_kind(held)
