"""What a formula or a proposal may not do: allergens and ingredients to avoid, what is on hand, limits of a slice."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination
from advisor.formula.formula import Formula
from advisor.knowledge_base.ingredient import Ingredient
from advisor.models.dough.cost import cost_of

_SAME = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class PerSlice:
    """What a slice holds [g, kcal, mg], and costs [the baker's own money]; `None` where it is not known."""

    net_carb: float | None
    protein: float
    energy: float | None
    sodium: float | None
    cost: float | None


def per_slice(look: Examination) -> PerSlice:
    """What a slice or piece holds and costs."""
    defaults, value = look.workings.dough_state.with_defaults, look.workings.measures.value
    money = cost_of(look.formula, slices=defaults.slices, loaves=defaults.loaves)
    return PerSlice(
        net_carb=value("net_carb_per_slice"),
        protein=look.workings.dough_state.dough.protein / (defaults.slices * defaults.loaves),
        energy=value("energy_kcal_per_slice"),
        sodium=value("sodium_mg_per_slice"),
        cost=money.per_slice if money else None,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit of a slice: its name, what it limits, whether at most (1) or at least (-1), and how that is told."""

    name: str
    of: str
    sign: int
    noun: str
    unit: str
    decimals: int


LIMITS = (
    Limit(name="net_carb_max", of="net_carb", sign=1, noun="net carbohydrate", unit="g", decimals=1),
    Limit(name="protein_min", of="protein", sign=-1, noun="protein", unit="g", decimals=1),
    Limit(name="energy_max", of="energy", sign=1, noun="energy", unit="kcal", decimals=0),
    Limit(name="sodium_max", of="sodium", sign=1, noun="sodium", unit="mg", decimals=0),
    Limit(name="cost_max", of="cost", sign=1, noun="cost", unit="", decimals=2),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Constraints:
    """`avoid` holds allergens and ingredient ids; `on_hand` ids that may be added, `None` for anything.

    Limits of a slice: net carbohydrate and protein [g], energy [kcal], sodium [mg], cost [the baker's own money].
    """

    net_carb_max: float | None = None
    protein_min: float | None = None
    energy_max: float | None = None
    sodium_max: float | None = None
    cost_max: float | None = None
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
        hit = self._hit(ingredient)
        return f"{ingredient.name} is to be avoided ({', '.join(hit)})" if hit else None

    def _hit(self, ingredient: Ingredient) -> tuple[str, ...]:
        return tuple(sorted(self.avoid & {ingredient.id, *ingredient.allergens}))

    def refuses_more(self, before: Formula, after: Formula) -> str | None:
        """Say why more of something may not go in; what is in the formula already may be as unwelcome as new."""
        for line in after.lines:
            more = after.grams_of(line.ingredient.id) > before.grams_of(line.ingredient.id) + _SAME
            if more and (refusal := self.avoids(line.ingredient)):
                return refusal
        return None

    def passed(self, one: PerSlice) -> dict[str, float]:
        """Limits of a slice that are passed, by how much of themselves (-)."""
        return {
            limit.name: abs(value - most) / max(most, 0.1)
            for limit in LIMITS
            if (most := getattr(self, limit.name)) is not None
            and (value := getattr(one, limit.of)) is not None
            and limit.sign * (value - most) > _SAME
        }

    def refuses_worse(self, before: PerSlice, after: PerSlice) -> str | None:
        """Say which limit a change would pass, or would pass by more than the formula does already."""
        was = self.passed(before)
        for name, far in self.passed(after).items():
            if far > was.get(name, 0.0) + _SAME:
                return f"{self._told(name, after)} in a slice, {self._limit(name)}"
        return None

    def broken_by(self, look: Examination) -> tuple[str, ...]:
        """Say in a sentence each what a formula itself breaks."""
        held: dict[tuple[str, ...], list[str]] = {}
        for food in {line.ingredient.id: line.ingredient for line in look.formula.lines}.values():
            if hit := self._hit(food):
                held.setdefault(hit, []).append(food.name)
        out = [_avoided(names, hit) for hit, names in held.items()]
        one = per_slice(look)
        return (
            *out,
            *(f"{self._told(name, one)} in a slice: {self._limit(name)}." for name in self.passed(one)),
        )

    def _told(self, name: str, one: PerSlice) -> str:
        limit = next(x for x in LIMITS if x.name == name)
        value, most = getattr(one, limit.of), getattr(self, name)
        # As many digits as it takes to see that it is past.
        places = next(
            (n for n in range(limit.decimals, 6) if limit.sign * (round(value, n) - most) > 0), limit.decimals
        )
        if not limit.unit:
            return f"A {limit.noun} of {value:.{places}f}"
        return f"{value:.{places}f} {limit.unit} {limit.noun}"

    def _limit(self, name: str) -> str:
        limit = next(x for x in LIMITS if x.name == name)
        side = "over" if limit.sign > 0 else "under"
        return f"{side} the limit of {getattr(self, name):g} {limit.unit}".rstrip()


def _avoided(names: list[str], hit: tuple[str, ...]) -> str:
    alone, verb = len(names) == 1, "is" if len(names) == 1 else "are"
    said = names[0] if alone else f"{', '.join(names[:-1])} and {names[-1]}"
    why = "" if alone and hit[0].replace("_", " ") == names[0] else f" ({', '.join(hit)})"
    return f"{said[:1].upper()}{said[1:]} {verb} in the formula and {verb} to be avoided{why}."
