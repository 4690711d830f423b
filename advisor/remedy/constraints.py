"""What a proposal may not do: allergens and ingredients to avoid, what is on hand, the carbohydrate limit."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.ingredient import Ingredient


@dataclass(frozen=True, slots=True, kw_only=True)
class Constraints:
    """`avoid` holds allergens and ingredient ids; `on_hand` ids that may be added, `None` for anything."""

    net_carb_max: float | None = None
    avoid: frozenset[str] = frozenset()
    on_hand: frozenset[str] | None = None

    def refuses(self, ingredient: Ingredient) -> str | None:
        """Say why an ingredient may not be added; `None` if it may."""
        if (avoided := self.avoids(ingredient)) is not None:
            return avoided
        if self.on_hand is not None and ingredient.id not in self.on_hand and "water" not in ingredient.roles:
            return f"{ingredient.name} is not on hand"
        return None

    def avoids(self, ingredient: Ingredient) -> str | None:
        """Say that an ingredient is to be avoided, and for what; `None` if it is not."""
        hit = sorted(self.avoid & {ingredient.id, *ingredient.allergens})
        return f"{ingredient.name} is to be avoided ({', '.join(hit)})" if hit else None

    def refuses_more(self, before: Formula, after: Formula) -> str | None:
        """Say why more of something may not go in; what is in the formula already may be as unwelcome as new."""
        for line in after.lines:
            more = after.grams_of(line.ingredient.id) > before.grams_of(line.ingredient.id) + 1e-9
            if more and (refusal := self.avoids(line.ingredient)):
                return refusal
        return None

    def broken_by(self, formula: Formula, net_carb_per_slice: float | None) -> tuple[str, ...]:
        """Say in a sentence each what a formula itself breaks."""
        out = []
        for line in formula.lines:
            hit = sorted(self.avoid & {line.ingredient.id, *line.ingredient.allergens})
            if hit:
                out.append(
                    f"{line.ingredient.name} is in the formula and is to be avoided ({', '.join(hit)})"
                )
        if (
            self.net_carb_max is not None
            and net_carb_per_slice is not None
            and net_carb_per_slice > self.net_carb_max
        ):
            out.append(
                f"{net_carb_per_slice:.1f} g net carbohydrate a slice is over the limit of {self.net_carb_max:g} g"
            )
        return tuple(out)
