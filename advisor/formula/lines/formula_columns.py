"""A table with a column of amounts for each of several formulas, of which the text says which one was baked."""

from __future__ import annotations

import re

from advisor.formula.lines.formula_tables import formulas_in_table

_CHOSEN = (
    r"\b(?:only\s+{name}\s+(?:was\s+|is\s+)?(?:baked|made|mixed|done|used|run)|(?:baked|made|mixed|used)\s+(?:only\s+)?{name}"
    r"(?:\s+only)?|this\s+is\s+{name}|{name}\s+only)\b"
)


def with_chosen_column(text: str) -> str:
    """Give a text with the one column that was baked, line for line; as it is where it does not say which."""
    if "|" not in text or not (parts := formulas_in_table(text)):
        return text
    lines = text.splitlines()
    told = "\n".join(line for line in lines if "|" not in line)
    chosen = [p.name for p in parts if re.search(_CHOSEN.format(name=re.escape(p.name)), told, re.IGNORECASE)]
    if len(chosen) != 1:
        return text
    at: int | None = None
    found: list[str] = []
    for line in lines:
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if "|" not in line:
            found.append(line)
        elif at is None:
            at = cells.index(chosen[0]) if chosen[0] in cells else None
            found.append("| ingredient | g |" if at is not None else line)
        elif len(cells) > at and any(c.isdigit() for c in cells[at]):
            found.append(f"| {cells[0]} | {cells[at]} |")
        elif set(line) <= set("|-: "):
            found.append(line)
        else:
            found.append(f"# {cells[0]}")  # an ingredient that this one goes without
    return "\n".join(found)
