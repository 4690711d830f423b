"""HTML in small pieces: every text is escaped on its way in, and nothing can reach outside the page."""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence

from advisor.knowledge_base.escaping import shown
from advisor.rendering.baker_units import for_reader

Html = str
"""A text in which everything that a person typed is escaped already."""


def text(words: str, most: int = 2000) -> Html:
    """Make a text harmless: control and direction marks go, letters that mean something in HTML are escaped."""
    # A figure and its per cent sign stay on one line.
    return html.escape(shown(for_reader(words), most).replace(" %", "\u00a0%"), quote=True)


def name(words: str, most: int = 200) -> Html:
    """A text of the user's own, kept from turning the writing around it."""
    return f"<bdi>{text(words, most)}</bdi>"


def paragraph(*parts: Html) -> Html:
    """A paragraph of escaped parts."""
    return f"<p>{' '.join(parts)}</p>"


def items(rows: Iterable[Html], kind: str = "ul") -> Html:
    """A list of escaped items; nothing where there are none."""
    inner = "".join(f"<li>{row}</li>\n" for row in rows)
    return f"<{kind}>\n{inner}</{kind}>" if inner else ""


def table(
    caption: str, head: Sequence[str], rows: Iterable[Sequence[Html]], *, figures: frozenset[int]
) -> Html:
    """A table of escaped cells; `figures` are the columns that hold numbers. The first cell of a row heads it."""

    def side(place: int) -> str:
        return ' class="figure"' if place in figures else ""

    top = "".join(f'<th scope="col"{side(n)}>{text(cell)}</th>' for n, cell in enumerate(head))
    body = ""
    for row in rows:
        first, *rest = row
        cells = "".join(f"<td{side(n)}>{cell}</td>" for n, cell in enumerate(rest, 1))
        body += f'<tr><th scope="row"{side(0)}>{first}</th>{cells}</tr>\n'
    return (
        f'<div class="wide" role="region" tabindex="0" aria-label="{text(caption)}"><table><caption>{text(caption)}'
        f"</caption><thead><tr>{top}</tr></thead>\n<tbody>\n{body}</tbody></table></div>"
    )


def section(ident: str, heading: str, *parts: Html) -> Html:
    """A section with its heading, which it is labelled by."""
    inner = "\n".join(part for part in parts if part)
    label = f"{ident}-h"
    head = f'<h2 id="{label}">{text(heading)}</h2>'
    return f'<section id="{ident}" aria-labelledby="{label}">\n{head}\n{inner}\n</section>'


def details(summary: Html, inner: Html) -> Html:
    """Something that opens; on paper it is open."""
    return f"<details>\n<summary>{summary}</summary>\n{inner}\n</details>"


STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #1a1a1a; line-height: 1.5;
  font: 1.05rem/1.5 system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif; overflow-wrap: anywhere; }
header, nav, main, footer { max-width: 64rem; margin: 0 auto; padding: 0 1rem; }
h1 { font-size: 1.9rem; line-height: 1.2; margin: 1.2rem 0 .4rem; }
h2 { font-size: 1.4rem; border-bottom: 3px double #1a1a1a; padding-bottom: .2rem; margin: 2.2rem 0 .8rem; }
h3 { font-size: 1.12rem; margin: 1.4rem 0 .3rem; }
p, ul, ol { margin: .4rem 0; max-width: 48rem; }
a { color: #123f57; }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .2rem 1.2rem; max-width: none; }
nav a { display: inline-block; padding: .3rem 0; }
.skip { position: absolute; left: -99rem; }
.skip:focus { left: 1rem; top: .5rem; background: #fff; padding: .4rem; }
:focus-visible { outline: 3px solid #123f57; outline-offset: 3px; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: bold; padding: .5rem 0 .3rem; }
th, td { text-align: left; vertical-align: top; padding: .28rem .9rem .28rem 0; border-bottom: 1px solid #bbb; }
thead th { border-bottom: 2px solid #1a1a1a; }
tbody th { font-weight: normal; }
th.figure, td.figure { text-align: right; white-space: nowrap; }
.out { font-weight: bold; }
figure { margin: 1.2rem 0; }
figure svg { display: block; width: 100%; min-width: 40rem; height: auto; }
figcaption { color: #4a4a4a; max-width: 48rem; }
details { margin: .5rem 0; padding: .3rem .8rem; border-left: 4px solid #1f4e66; background: #f6f6f4; }
summary { cursor: pointer; font-weight: bold; padding: .2rem 0; }
details ul { padding-left: 1.2rem; }
.caution { border: 2px solid #1a1a1a; padding: .4rem .9rem; margin: .6rem 0; max-width: 48rem; }
footer { border-top: 1px solid #bbb; margin-top: 2.5rem; padding-bottom: 2rem; color: #4a4a4a; }
@page { margin: 16mm 14mm; }
@media print {
  body { font-size: 10pt; }
  header, nav, main, footer { max-width: none; padding: 0; }
  nav, .skip { display: none; }
  .wide { overflow: visible; }
  figure svg { min-width: 0; }
  h2, h3, caption, thead { break-after: avoid; }
  figure, tr, .caution { break-inside: avoid; }
  details { background: none; }
  details::details-content { content-visibility: visible; block-size: auto; display: block; }
}
"""
SHUT = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
"""What a browser may load for the page: nothing but the style inside it."""


def page(
    title: str, banner: Html, contents: Sequence[tuple[str, str]], main: Iterable[Html], foot: Html
) -> Html:
    """The whole document; `contents` are ids and headings of its sections."""
    links = "".join(f'<li><a href="#{ident}">{text(heading)}</a></li>' for ident, heading in contents)
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{SHUT}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{text(title, 120)}</title>
<link rel="icon" href="data:,">
<style>{STYLE}</style>
</head>
<body>
<a class="skip" href="#main">To the report</a>
<header>
{banner}
</header>
<nav aria-label="Contents"><ul>{links}</ul></nav>
<main id="main" tabindex="-1">
{"".join(part + chr(10) for part in main)}</main>
<footer>
{foot}
</footer>
</body>
</html>
"""
