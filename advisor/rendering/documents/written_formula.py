"""The shape of a formula written as YAML, for editors and programs; `formula/yaml_lines.py` reads it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from advisor.formula.process.process_lines import PROCESS_KEYS
from advisor.knowledge_base.entry import Entry, Words


class WrittenLine(Entry):
    """One ingredient in grams."""

    ingredient: Words
    """Its name."""
    grams: Annotated[float, Field(gt=0)]
    """Its weight, g."""


class WrittenFormula(Entry):
    """A formula as YAML: `advisor write FORMULA --as yaml` writes one."""

    name: Annotated[str, Field(min_length=1)]
    """Its title."""
    lines: Annotated[tuple[WrittenLine | str, ...], Field(max_length=200)]
    """Ingredients in grams, or lines as one writes them in text; a text that ends in a colon is a heading."""
    process: dict[str, str | float] | None = Field(
        default=None, json_schema_extra={"propertyNames": {"enum": [*PROCESS_KEYS]}}
    )
    """What is done with the dough, by the keys of process lines."""
