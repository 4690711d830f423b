"""A file of answers: what the baker saw, looked for in vain, and answered."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from advisor.knowledge_base.entry import Entry

Word = Annotated[str, Field(coerce_numbers_to_str=True)]
"""An id that may look like a number."""


class WrittenLoaf(Entry):
    """What kind of loaf it was, where there is no formula."""

    carried_by: str
    """Id of the structure that carries it: gluten_egg, kneaded_gluten ..."""
    raised_by: str
    """What raises it: yeast, powder, both ..."""
    shape: str
    """Kind of the pan: tin, round, free_standing, rolls or flat."""


class WrittenAnswers(Entry):
    """What `diagnose --answers FILE` reads."""

    saw: tuple[str, ...] | None = None
    """Symptoms that the loaf showed, by id or in common words."""
    not_seen: Annotated[tuple[str, ...] | None, Field(alias="not")] = None
    """Symptoms looked for and not there."""
    answers: dict[str, Word] | None = None
    """Id of a question to the id of its answer."""
    loaf: WrittenLoaf | None = None
    """What kind of loaf it was, where there is no formula."""
