"""The limits of a project, as a file holds them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field, ValidationError

from advisor.knowledge_base.entry import Entry, Share

Amount = Annotated[float, Field(ge=0, lt=1_000_000)]


class WrittenLimits(Entry):
    """Limits of a formula: advisor.toml, or the table tool.advisor of a pyproject.toml."""

    risk: Share | None = None
    """Risk of a symptom from which the answer is no."""
    net_carb_max: Amount | None = None
    """Most net carbohydrate in a slice, g."""
    avoid: tuple[str, ...] = ()
    """Allergens and ingredients that must not be in the formula, nor be added."""
    on_hand: tuple[str, ...] | None = None
    """The only ingredients that may be added."""
    cost_max: Amount | None = None
    """Most that a slice may cost, in the baker's own money."""
    protein_min: Amount | None = None
    """Least protein in a slice, g."""
    energy_max: Amount | None = None
    """Most energy in a slice, kcal."""
    sodium_max: Amount | None = None
    """Most sodium in a slice, mg."""


class LimitFault(ValueError):
    """Raised when a limit is none: `key` names it, the message says what is wrong; `unknown` where there is no such."""

    def __init__(self, key: str, what: str, *, unknown: bool) -> None:
        super().__init__(what)
        self.key, self.unknown = key, unknown


def limits_in(table: Mapping[str, object]) -> WrittenLimits:
    """Read a table of limits.

    Raises:
        LimitFault: a key that is no limit, or a value that it cannot have.
    """
    try:
        return WrittenLimits.model_validate(table)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        key = str(first["loc"][0]) if first["loc"] else ""
        what = first["msg"][:1].lower() + first["msg"][1:].replace("tuple", "list")
        raise LimitFault(key, what, unknown=first["type"] == "extra_forbidden") from None
