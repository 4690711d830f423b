"""Blocks as one self-contained page of HTML: every text is escaped on its way in, nothing reaches outside the page."""

from __future__ import annotations

import html
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from pathlib import Path
from string import Template

from advisor.explanation.blocks import (
    Block,
    Chain,
    Command,
    Emphasis,
    Figure,
    Heading,
    Item,
    Paragraph,
    Quantity,
    Row,
    Runs,
    Table,
    Timeline,
)
from advisor.knowledge_base.escaping import shown
from advisor.rendering.baker_units import for_reader, units_in_use
from advisor.rendering.quantities import Units, quantity_text

Html = str
"""A text in which everything that a person typed is escaped already."""
SHUT = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
"""What a browser may load for the page: nothing but the style inside it."""
_HERE = Path(__file__).parent
_BOXES = {"[ ]": "☐ ", "[x]": "☑ "}
_MANY = 5
"""Columns from which a table is stacked on a narrow screen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageStyle:
    """The baker's units, and the pictures there are by name: SVG text and the title of each."""

    units: Units = field(default_factory=units_in_use)
    pictures: Mapping[str, tuple[Html, str]] = field(default_factory=dict)
    prefix: str = ""
    """Put before the ids of sections, where several pieces stand on one page."""
    beside: Mapping[str, Html] = field(default_factory=dict)
    """What stands beside an item or under a section's heading, by key or ident: a button, where the page has one."""


def text(words: str, most: int = 2000) -> Html:
    """Make a text harmless: control and direction marks go, letters that mean something in HTML are escaped."""
    # A figure and its per cent sign stay on one line.
    return html.escape(shown(for_reader(words), most).replace(" %", "\u00a0%"), quote=True)


def html_page(title: str, blocks: Sequence[Block], foot: Runs, style: PageStyle | None = None) -> Html:
    """The whole document: what stands before the first section is its banner, every section has a link to it."""
    writer = _Writer(style or PageStyle())
    heads = [block for block in blocks if isinstance(block, Heading) and block.level == 2]
    links = "".join(f'<li><a href="#{h.ident}">{text(h.text)}</a></li>' for h in heads)
    first = next((n for n, block in enumerate(blocks) if block in heads), len(blocks))
    skeleton = Template((_HERE / "page.html").read_text("utf-8"))
    return skeleton.substitute(
        shut=SHUT,
        title=text(title, 120),
        style=(_HERE / "page.css").read_text("utf-8"),
        banner=writer.blocks(blocks[:first]),
        contents=links,
        main="".join(writer.sections(blocks[first:])),
        foot=f"<p>{writer.runs(foot)}</p>",
    )


def html_part(blocks: Sequence[Block], style: PageStyle | None = None) -> Html:
    """Blocks as a part of another page: what stands before the first section, then the sections."""
    writer = _Writer(style or PageStyle())
    first = next((n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.level == 2), len(blocks))
    return writer.blocks(blocks[:first]) + "".join(writer.sections(blocks[first:]))


def html_runs(runs: Runs, style: PageStyle | None = None) -> Html:
    """Runs alone, to stand inside a paragraph, a label or a button."""
    return _Writer(style or PageStyle()).runs(runs)


class _Writer:
    def __init__(self, style: PageStyle) -> None:
        self.style = style

    def sections(self, blocks: Sequence[Block]) -> Iterator[Html]:
        """Each heading of level 2 with what stands under it, as a section that is labelled by it."""
        starts = [n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.level == 2]
        ends = [*starts[1:], len(blocks)] if starts else []
        for number, (start, end) in enumerate(zip(starts, ends, strict=True), 1):
            head = blocks[start]
            assert isinstance(head, Heading)
            ident = f"{self.style.prefix}{head.ident or f'part-{number}'}"
            label = f"{ident}-h"
            inner = self.blocks(blocks[start + 1 : end])
            yield (
                f'<section id="{ident}" aria-labelledby="{label}">\n<h2 id="{label}">{text(head.text)}</h2>\n'
                f"{self.style.beside.get(head.ident, '')}"
                f"{inner}\n</section>\n"
            )

    def blocks(self, blocks: Sequence[Block]) -> Html:
        """Blocks one after the other; neighbouring items make one list."""
        out: list[Html] = []
        for kind, some in groupby(blocks, key=_list_kind):
            if kind:
                items = "".join(self._item(item) for item in some if isinstance(item, Item))
                out.append(f"<{kind}>\n{items}</{kind}>")
            else:
                out += [self._block(block) for block in some]
        return "\n".join(part for part in out if part)

    def _block(self, block: Block) -> Html:
        match block:
            case Heading():
                return f"<h{block.level}>{text(block.text)}</h{block.level}>"
            case Paragraph():
                mark = f' class="{block.meaning}"' if block.meaning else ""
                return f"<p{mark}>{self.runs(block.runs)}</p>"
            case Item():
                return self._fold(block)
            case Row():
                right = f" <span>{self.runs(block.right)}</span>" if block.right else ""
                return f"<p>{self.runs(block.left)}{right}</p>"
            case Table():
                return self._table(block)
            case Chain():
                return f'<p class="chain">{" → ".join(text(step) for step in block.steps)}</p>'
            case Command():
                return f"<pre>{text(block.text)}</pre>"
            case Timeline():
                return self._figure(
                    "timeline", "Gas that comes before the loaf has set lifts it; what comes after cannot."
                )
            case Figure():
                return self._figure(block.id, block.caption)

    def _item(self, item: Item) -> Html:
        number = item.label.rstrip(".")
        value = f' value="{number}"' if number.isdecimal() else ""
        under = f"\n{self.blocks(item.under)}\n" if item.under else ""
        box = _BOXES.get(item.label, "")
        return f"<li{value}>{box}{self.runs(item.runs)}{self.style.beside.get(item.key, '')}{under}</li>\n"

    def _fold(self, item: Item) -> Html:
        return f"<details>\n<summary>{self.runs(item.runs)}</summary>\n{self.blocks(item.under)}\n</details>"

    def _table(self, table: Table) -> Html:
        def side(place: int) -> str:
            return ' class="figure"' if place in table.figures else ""

        # A column without a name has no heading that could be read out.
        top = "".join(
            f'<th scope="col"{side(n)}>{text(cell)}</th>' if cell else "<td></td>"
            for n, cell in enumerate(table.head)
        )
        body = ""
        for row in table.rows:
            cells = "".join(
                f'<td{side(n)} data-head="{text(table.head[n])}">{self.runs(cell)}</td>'
                for n, cell in enumerate(row[1:], 1)
            )
            body += f'<tr><th scope="row"{side(0)}>{self.runs(row[0])}</th>{cells}</tr>\n'
        many = ' class="many"' if len(table.head) >= _MANY else ""
        seen = "" if table.captioned else ' class="unseen"'
        return (
            f"<table{many}><caption{seen}>{text(table.caption)}</caption><thead><tr>{top}</tr></thead>\n"
            f"<tbody>\n{body}</tbody></table>"
        )

    def _figure(self, name: str, caption: str) -> Html:
        """A picture in a frame that can be slid sideways where it is wider than the screen, which is said there."""
        if (picture := self.style.pictures.get(name)) is None:
            return ""
        drawn, title = picture
        return (
            f'<figure><p class="slide">Wider than the screen: slide it sideways.</p>'
            f'<div class="wide" role="region" tabindex="0" aria-label="{text(title)}">\n{drawn}\n</div>'
            f"<figcaption>{text(caption)}</figcaption></figure>"
        )

    def runs(self, runs: Runs) -> Html:
        """Runs as HTML; emphasis is told by weight and line, never by colour alone."""
        out: list[Html] = []
        for run in runs:
            match run:
                case Quantity():
                    out.append(text(quantity_text(run, self.style.units)).replace(" ", "\u00a0", 1))
                case Emphasis(meaning="change"):
                    out.append(f'<em class="change">{self.runs(run.runs)}</em>')
                case Emphasis(meaning="name"):
                    # A name may be the user's own: it is kept from turning the writing around it.
                    out.append(f"<strong><bdi>{self.runs(run.runs)}</bdi></strong>")
                case Emphasis():
                    out.append(f'<strong class="{run.meaning}">{self.runs(run.runs)}</strong>')
                case _:
                    first, last = (" " if edge.isspace() else "" for edge in (run[:1], run[-1:]))
                    out.append(first + text(run) + last)
        return "".join(out)


def _list_kind(block: Block) -> str:
    """The list that a block is an entry of: `ol`, `ul`, or none."""
    if not isinstance(block, Item) or block.folded:
        return ""
    return "ol" if block.label.rstrip(".").isdecimal() else "ul"
