"""From a text with fields, as the knowledge holds it, to the runs of words and quantities that a renderer writes."""

from __future__ import annotations

from advisor.explanation.blocks import Quantity, Run, Runs
from advisor.knowledge_base.text_fields import TextQuantity, parts_of_text

_MM_PER_CM = 10


def runs_of(text: str) -> Runs:
    """Split a text at its quantities; braces that hold none stay as they are written."""
    out: list[Run] = []
    for part in parts_of_text(text):
        if isinstance(part, TextQuantity):
            out.append(_quantity(part))
            continue
        words = part if isinstance(part, str) else part.written
        if out and isinstance(out[-1], str):
            out[-1] += words
        else:
            out.append(words)
    return tuple(out)


def _quantity(part: TextQuantity) -> Quantity:
    scale = 1 / _MM_PER_CM if part.unit == "mm" else 1.0
    return Quantity(
        value=part.low * scale,
        upto=None if part.high is None else part.high * scale,
        unit="cm" if part.unit == "mm" else part.unit,
        difference=part.difference,
        decimals=part.decimals or None,
        ounces=part.unit == "g",
    )
