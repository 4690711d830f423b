"""A scene as SVG text: small, readable by a screen reader, and without anything that reaches outside itself."""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from advisor.knowledge_base.escaping import shown
from advisor.rendering.pictures.scene import INK, Box, Pattern, Scene, Stroke, Words

_DASHES = {"solid": "", "dashed": "7 4", "dotted": "1.5 4"}
_PATTERNS: dict[Pattern, str] = {
    "lines": '<path d="M0 8L8 0M-2 2L2 -2M6 10L10 6" stroke="#1a1a1a" stroke-width="1.1"/>',
    "cross": '<path d="M0 8L8 0M0 0L8 8" stroke="#1a1a1a" stroke-width="0.9"/>',
    "dots": '<circle cx="2" cy="2" r="1.3" fill="#1a1a1a"/><circle cx="6" cy="6" r="1.3" fill="#1a1a1a"/>',
}
FONT = "system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif"


def svg_text(scene: Scene, *, alone: bool = False) -> str:
    """Write a scene; `alone` as a file of its own, else as part of a page."""
    head = '<?xml version="1.0" encoding="UTF-8"?>\n' if alone else ""
    size = f' width="{scene.width:g}" height="{scene.height:g}"' if alone else ""
    ids = f"{scene.id}-title {scene.id}-says"
    out = [
        f'{head}<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {scene.width:g} {scene.height:g}"{size} '
        f'role="img" aria-labelledby="{ids}" font-family="{escape(FONT)}">',
        f'<title id="{scene.id}-title">{_text(scene.title)}</title>',
        f'<desc id="{scene.id}-says">{_text(scene.says, 4000)}</desc>',
        *_definitions(scene),
        f'<rect width="{scene.width:g}" height="{scene.height:g}" fill="#ffffff"/>' if alone else "",
    ]
    for part in scene.parts:
        out += _part(part, scene.id)
    return "\n".join(line for line in [*out, "</svg>"] if line) + ("\n" if alone else "")


def _text(text: str, most: int = 300) -> str:
    return escape(shown(text, most))


def _definitions(scene: Scene) -> Iterator[str]:
    used = {part.pattern for part in scene.parts if isinstance(part, Box)} - {"plain"}
    inks = {part.ink for part in scene.parts if isinstance(part, Stroke) and part.arrow}
    if not used and not inks:
        return
    yield "<defs>"
    for name in sorted(used):
        yield (
            f'<pattern id="{scene.id}-{name}" width="8" height="8" patternUnits="userSpaceOnUse">{_PATTERNS[name]}'
            "</pattern>"
        )
    for ink in sorted(inks):
        yield (
            f'<marker id="{scene.id}-{ink[1:]}" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="11" '
            f'markerHeight="11" markerUnits="userSpaceOnUse" orient="auto">'
            f'<path d="M0 0L10 5L0 10z" fill="{ink}"/></marker>'
        )
    yield "</defs>"


def _part(part: Box | Stroke | Words, scene: str) -> Iterator[str]:
    if isinstance(part, Box):
        place = f'x="{part.x:.1f}" y="{part.y:.1f}" width="{part.width:.1f}" height="{part.height:.1f}"'
        edge = f'stroke="{part.edge}" stroke-width="{part.line:g}"{_dashes(part.dash)}' if part.line else ""
        yield f'<rect {place} fill="{part.fill}" {edge}/>'
        if part.pattern != "plain":
            yield f'<rect {place} fill="url(#{scene}-{part.pattern})" fill-opacity="0.55"/>'
    elif isinstance(part, Stroke):
        points = " ".join(f"{x:.1f},{y:.1f}" for x, y in part.points)
        arrow = f' marker-end="url(#{scene}-{part.ink[1:]})"' if part.arrow else ""
        yield (
            f'<polyline points="{points}" fill="{part.fill or "none"}" stroke="{part.ink}" stroke-width="{part.line:g}"'
            f"{_dashes(part.dash)}{arrow}/>"
        )
    else:
        weight = ' font-weight="bold"' if part.bold else ""
        anchor = f' text-anchor="{part.anchor}"' if part.anchor != "start" else ""
        ink = f" fill={quoteattr(part.ink)}" if part.ink != INK else f' fill="{INK}"'
        yield (
            f'<text x="{part.x:.1f}" y="{part.y:.1f}" font-size="{part.size:g}"{weight}{anchor}{ink}>'
            f"{_text(part.text)}</text>"
        )


def _dashes(dash: str) -> str:
    return f' stroke-dasharray="{_DASHES[dash]}"' if _DASHES[dash] else ""
