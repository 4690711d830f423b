"""The chain as rows of text, a stage a row: what is lit, what is out, and what has not been told yet.

Arrows differ by their form: ==> is lit, -x-> is out, and a link that is still to come is a dot.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from advisor.explanation.lesson.teach_steps import ROWS, ChainLink, Course
from advisor.explanation.wording import percent
from advisor.knowledge_base.escaping import shown
from advisor.rendering.baker_units import for_reader

LIT, OUT, TO_COME = "==>", "-x->", "."
_LABEL = 12


def arrow(link: ChainLink) -> str:
    """The arrow of a link, whose form tells whether it is lit."""
    return LIT if link.lit else OUT


def chain_rows(
    course: Course,
    chain: Sequence[ChainLink],
    told: Collection[tuple[str, str]],
    width: int,
    now: tuple[str, str] | None = None,
) -> list[tuple[str, bool]]:
    """Lines of the chain, each with whether it is the link that is spoken of; a stage without a link is a bare row."""
    out: list[tuple[str, bool]] = []
    rows = {row: [x for x in chain if x.row == row] for row in course.rows()}
    for row, links in rows.items():
        label = f"{ROWS[row]:<{_LABEL}}"
        open_links = [link for link in links if link.key in told]
        waiting = len(links) - len(open_links)
        if not links:
            out.append((f"{label}-", False))
            continue
        for link in open_links:
            here = link.key == now
            text = f"{course.names[link.start]} {arrow(link)} {course.names[link.to].lower()}, {percent(link.carried)}"
            out.append((label + shown(("> " if here else "") + text, width - _LABEL), here))
            label = " " * _LABEL
        if waiting:
            out.append((label + " ".join(TO_COME * waiting), False))
    return out


def large(text: str) -> str:
    """Letters twice as wide, for who sits at the back; what has no wide form stays as it is."""
    return "".join(chr(ord(c) + 0xFEE0) if "!" <= c <= "~" else ("\u3000" if c == " " else c) for c in text)


def two_columns(lines: Sequence[str], width: int) -> list[str]:
    """Short lines side by side where all of them fit in half the width."""
    lines = [for_reader(line) for line in lines]
    half = (width - 2) // 2
    if len(lines) < 4 or any(len(line) > half for line in lines):
        return list(lines)
    rows = (len(lines) + 1) // 2
    left, right = lines[:rows], [*lines[rows:], ""]
    return [f"{a:<{half}}  {b}".rstrip() for a, b in zip(left, right, strict=False)]
