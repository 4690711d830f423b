"""`advisor sources`: what rests on which work, how well it is known, and what rests on calibration alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor import load_knowledge
from advisor.api.backing import GRADES, Backing, backings, is_wanted, sources_document
from advisor.interface.desk.output import write_document, write_page
from advisor.knowledge_base.texts import Source
from advisor.rendering.text import Page

if TYPE_CHECKING:
    pass

_SEEN = {
    "whole": "read whole", "part": "read in part", "abstract": "abstract read",
    "secondary": "as another text reports it", "memory": "from memory, to be confirmed",
}  # fmt: skip
_AT_ONCE = 30  # names in one paragraph, since a page cuts a paragraph that is too long


def run_sources(word: str | None, as_json: bool) -> int:
    """Print sources and grades, those that hold `word` where one is given; exit 1 where nothing does."""
    knowledge = load_knowledge()
    everything = list(backings(knowledge))
    wanted = (word or "").strip().casefold()
    resting: dict[str, list[Backing]] = {key: [] for key in knowledge.sources}
    for backing in everything:
        for key in dict.fromkeys(backing.sources):
            resting.setdefault(key, []).append(backing)
    chosen = [s for key, s in knowledge.sources.items() if is_wanted(s, resting[key], wanted)]
    pinned = [b for b in everything if b.grade == "calibrated" and b.matches(wanted)]
    if as_json:
        write_document(sources_document(chosen, resting, everything))
    else:
        write_page(_page(chosen, resting, everything if not wanted else [], pinned, word))
    return 0 if chosen or pinned else 1


def _page(
    chosen: list[Source],
    resting: dict[str, list[Backing]],
    everything: list[Backing],
    pinned: list[Backing],
    word: str | None,
) -> str:
    page = Page()
    if not chosen and not pinned:
        page.paragraph(f"No source, citation or entry holds '{word}'.")
        return page.text()
    if chosen:
        page.heading("sources")
    for source in chosen:
        page.blank()
        page.paragraph(source.key)
        page.paragraph(source.cites, 2)
        note = f"; {source.note}" if source.note else ""
        page.paragraph(f"{source.kind.replace('_', ' ')}, {_SEEN[source.seen]}{note}", 2)
        _by_kind(page, resting[source.key])
    if everything:
        _grades(page, everything)
    if pinned:
        _pinned(page, pinned)
    return page.text()


def _by_kind(page: Page, backed: list[Backing]) -> None:
    by_kind: dict[str, dict[str, None]] = {}
    for backing in backed:
        by_kind.setdefault(backing.kind, {})[backing.name] = None
    if not by_kind:
        page.paragraph("nothing rests on it", 2)
    for kind, names in by_kind.items():
        _names(page, f"{kind}: ", list(names))


def _names(page: Page, label: str, names: list[str]) -> None:
    for start in range(0, len(names), _AT_ONCE):
        readable = [name.replace(">", " > ").replace("@", " at ") for name in names[start : start + _AT_ONCE]]
        some = ", ".join(readable)
        more = "," if start + _AT_ONCE < len(names) else ""
        page.paragraph(f"{label if start == 0 else '  '}{some}{more}", 2, 4)


def _grades(page: Page, everything: list[Backing]) -> None:
    page.heading("how well it is known")
    page.paragraph(
        "Entries and figures by grade: published has a source above, practice is common in the trade, memory "
        "is to be confirmed, calibrated is held in place by a test, demo is invented."
    )
    page.blank()
    kinds = dict.fromkeys(backing.kind for backing in everything)
    rows = [("", *GRADES)]
    for kind in kinds:
        counts = [sum(b.kind == kind and b.grade == grade for b in everything) for grade in GRADES]
        rows.append((kind, *(str(n) if n else "-" for n in counts)))
    rows.append(("all", *(str(sum(b.grade == grade for b in everything)) for grade in GRADES)))
    widths = [max(len(row[column]) for row in rows) for column in range(len(GRADES) + 1)]
    if sum(widths) + 2 * len(GRADES) <= page.width:
        for row in rows:
            cells = [cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True)]
            page.lines.append("  ".join([row[0].ljust(widths[0]), *cells]))
        return
    for row in rows[1:]:
        counted = [f"{n} {grade}" for n, grade in zip(row[1:], GRADES, strict=True) if n not in ("-", "0")]
        page.paragraph(f"{row[0]}: {', '.join(counted)}", 0, 2)


def _pinned(page: Page, pinned: list[Backing]) -> None:
    page.heading("what rests on calibration alone")
    page.paragraph("Chosen here so that known formulas come out right; the test named holds each in place.")
    by_test: dict[str, list[Backing]] = {}
    for backing in pinned:
        by_test.setdefault(backing.pinned_by or "no test named", []).append(backing)
    for test, held in sorted(by_test.items()):
        page.blank()
        page.paragraph(test)
        _by_kind(page, held)
