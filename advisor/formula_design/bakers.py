"""A first formula as bakers made the nearest breads: their amounts and their bake, weighed by how near each is.

How far a baker's formula is from what is asked: for every part of a dough that only one of the two has, its worth
`near_there + near_share x sqrt(g per 100 g)`; so much more for another kind, another main ingredient and each
ingredient that only one has; less for every word that both are called by. It weighs exp(-(distance - least) / width).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, log, sqrt
from statistics import median

from advisor.formula.spelling import words_of
from advisor.formula_design.bakers_way import LEAVENINGS, WayOfBakers
from advisor.formula_design.dough_parts import DoughParts
from advisor.formula_design.request import StartRequest, Wanted
from advisor.formula_design.style_fit import Slot, StyleFit, slot_of
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import BakersFormula

_UNNAMED = ("water", "salt", "fat", "sugar", *LEAVENINGS)
"""Parts that nobody thinks of when asked what is at hand."""
_FEW = 3
_BY_STRENGTH = ("acid", "gum", "yeast", "sweetener", "starter")
"""Parts whose ingredients stand in for each other by far less or far more of them."""
_BY_KIND = ("salt", "sugar")
_LIQUID = (
    "water",
    "dairy",
    "egg",
    "egg_white",
    "egg_yolk",
    "soft_cheese",
    "acid",
    "salt",
    "fat",
    *LEAVENINGS,
)
"""Parts that do not say what a bread is of."""


@dataclass(frozen=True, slots=True)
class _Made:
    """A baker's formula as it is laid beside what is asked."""

    entry: BakersFormula
    parts: Mapping[str, float]
    """g per 100 g of dough of each part."""
    of: Mapping[str, str]
    """Part of each ingredient that belongs to one."""
    words: frozenset[str]
    main: str | None
    moist: float
    """Share of water in all of it (0..1)."""


class BakersTable:
    """All bakers' formulas of the knowledge, ready to be asked."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge, self.c = knowledge, knowledge.coefficient
        self.parts = DoughParts(knowledge)
        self._made = [self._laid_out(e) for e in knowledge.bakers_formulas.values()]
        shares: dict[str, list[float]] = {}
        for made in self._made:
            for part, share in made.parts.items():
                shares.setdefault(part, []).append(share)
        self._usual = {part: median(some) for part, some in shares.items()}
        told = [word for made in self._made for word in made.words]
        self._worth = {w: log(len(self._made) / told.count(w)) for w in set(told)}

    def _laid_out(self, entry: BakersFormula) -> _Made:
        known = self.knowledge.ingredients
        of = {i: p.id for i in entry.amounts if i in known and (p := self.parts.of(known[i])) is not None}
        parts: dict[str, float] = {}
        for name, part in of.items():
            parts[part] = parts.get(part, 0.0) + entry.amounts[name]
        moist = sum(g * known[n].per_100g.water / 100 for n, g in entry.amounts.items() if n in known)
        solid = {p: g for p, g in parts.items() if p not in _LIQUID}
        words = frozenset(words_of(entry.called))
        main = max(solid, key=lambda p: solid[p], default=None)
        return _Made(entry, parts, of, words, main, moist / sum(entry.amounts.values()))

    def fit(self, request: StartRequest) -> StyleFit | None:
        """Make a style of the nearest formulas; `None` where none is near, or a part of it must be avoided."""
        if not self._made:
            return None
        asked = _Asked(request, self.parts)
        told = sorted(((self._distance(asked, made), made) for made in self._made), key=lambda one: one[0])
        least = told[0][0]
        width, most = self.c("near_width"), int(self.c("near_most"))
        near = [(exp(-(far - least) / width), made) for far, made in told[:most]]
        # Who names even the salt means the bread without the rest; else something may have been forgotten.
        lacking = self.c("near_lacking") * (1.0 if "salt" in asked.parts else 1 / 2)
        if least > self.c("near_far") or self._lacks(asked, near) > lacking:
            return None
        slots = [*asked.slots(request, self.knowledge), *self._unnamed(asked, near, request)]
        shares = self._shares(slots, near, asked)
        way = WayOfBakers(request, [(w, m.entry, m.parts) for w, m in near], self.knowledge)
        slots = [slot for slot in slots if slot.ingredient.id in shares]
        return way.fit(slots, shares, asked.main, asked.foreign)

    def _lacks(self, asked: _Asked, near: _Near) -> float:
        """What the nearest have, g in 100 g, that is neither named nor in every cupboard: no egg, no egg loaf."""
        whole = sum(weight for weight, _ in near)
        lacking = (
            weight * share
            for weight, made in near
            for part, share in made.parts.items()
            if part not in asked.parts and part not in _UNNAMED
        )
        return sum(lacking) / whole

    def _distance(self, asked: _Asked, made: _Made) -> float:
        far = 0.0
        for part in asked.parts ^ made.parts.keys():
            if part in ("water", "salt"):
                continue
            worth = self.c("near_there") + self.c("near_share") * sqrt(
                made.parts.get(part, self._usual.get(part, 1.0))
            )
            forgotten = part in _UNNAMED and part not in asked.parts and not asked.settles(part)
            if part in LEAVENINGS:
                worth *= self.c("near_leavening")
            far += worth * (self.c("near_unnamed") if forgotten else 1.0)
        far += self.c("near_kind") * (asked.kind != made.entry.kind)
        far += self.c("near_main") * (asked.main != made.main)
        far += self.c("near_ingredient") * len(asked.names ^ (made.of.keys() - {"water"}))
        return far - self.c("near_word") * sum(self._worth[w] for w in asked.words & made.words)

    def _unnamed(self, asked: _Asked, near: _Near, request: StartRequest) -> Iterable[Slot]:
        """What most of the nearest have and nobody thinks of naming: water, salt, what raises it."""
        whole = sum(weight for weight, _ in near)
        for part in _UNNAMED:
            having = [(weight, made) for weight, made in near if part in made.parts]
            if part in asked.parts or asked.settles(part):
                continue
            # How much water belongs in it is worked out; what raises it is seldom forgotten where the salt is not.
            dry = part == "water" and "dairy" not in asked.parts
            enough = "near_some_have" if dry else "near_most_have"
            if part in LEAVENINGS and "salt" in asked.parts:
                enough = "near_nearly_all_have"
            if sum(weight for weight, _ in having) < self.c(enough) * whole:
                continue
            votes: dict[str, float] = {}
            for weight, made in having:
                for name in (n for n, p in made.of.items() if p == part):
                    votes[name] = votes.get(name, 0.0) + weight
            for name in sorted(votes, key=lambda n: -votes[n]):
                one = self.knowledge.ingredients[name]
                if request.limits.avoids(one) is None:
                    yield Slot(ingredient=one, part=part, pantry=True)
                    break

    def _telling(self, near: _Near, part: str, kind: str) -> _Near:
        """The nearest by what they tell of a part: how salt or sweet a bread is goes by its kind."""
        if part not in _BY_KIND:
            return near
        other = self.c("near_other_kind")
        return [(w if made.entry.kind == kind else w * other, made) for w, made in near]

    def _shares(self, slots: Sequence[Slot], near: _Near, asked: _Asked) -> dict[str, float]:
        """g per 100 g of dough of each ingredient: first of each part, then of what the part is made of.

        Who has the very ingredient tells most of its part: of cream of tartar there are tenths, of vinegar grams.
        """
        lean, other = self.c("near_prior"), self.c("near_other_ingredient")
        parts: dict[str, float] = {}
        out: dict[str, float] = {}
        for part in dict.fromkeys(slot.part for slot in slots):
            names = [slot.ingredient.id for slot in slots if slot.part == part]
            some = [
                (w * (1 if m.of.keys() & names else other), m)
                for w, m in self._telling(near, part, asked.kind)
                if part in m.parts or part == "water"
            ]
            parts[part] = _mean(
                ((w, m.parts.get(part, 0.0)) for w, m in some), self._usually(part, names, asked), lean
            )
            within = {
                n: _mean(
                    ((w, m.entry.amounts[n] / m.parts[part]) for w, m in near if n in m.of),
                    1 / len(names),
                    lean,
                )
                for n in names
            }
            out |= {n: parts[part] * w / sum(within.values()) for n, w in within.items()}
        if "water" in out and not any(slot.part == "water" and not slot.pantry for slot in slots):
            out["water"] = self._water(out, near)
        return {n: 100 * share / sum(out.values()) for n, share in out.items() if share > 0}

    def _water(self, amounts: Mapping[str, float], near: _Near) -> float:
        """Water that makes a dough as moist as the nearest are, g to these amounts; yoghurt brings its own."""
        whole = sum(weight for weight, _ in near)
        moist = sum(weight * made.moist for weight, made in near) / whole
        others = {n: g for n, g in amounts.items() if n != "water"}
        held = sum(g * self.knowledge.ingredients[n].per_100g.water / 100 for n, g in others.items())
        return max((moist * sum(others.values()) - held) / (1 - moist), 0.0)

    def _usually(self, part: str, names: Sequence[str], asked: _Asked) -> float:
        """What bread has of a part that is seldom in bread like this, g per 100 g of dough.

        As bread of the same main ingredient has it, by bakers or as it is written; else rather little of it.
        """
        having = [m for m in self._made if part in m.parts]
        of_it = [m.parts[part] for m in having if m.main == asked.main]
        if len(names) == 1 and (alone := [m for m in having if names[0] in m.of]):
            same = [m.entry.amounts[names[0]] for m in alone if m.main == asked.main]
            of_it = same if same or part in _BY_STRENGTH else of_it
            having = alone
        if part != asked.main and part not in _BY_STRENGTH and (written := self._written(part, asked)):
            return median(written)
        if len(of_it) >= _FEW:
            return median(of_it)
        if some := sorted(
            sum(m.entry.amounts[n] for n in names if n in m.of) or m.parts[part] for m in having
        ):
            return some[int(self.c("near_low_share") * len(some))]
        entry = self.knowledge.dough_parts[part]
        return entry.anywhere.usual if entry.anywhere else self.c("near_unknown_share")

    def _written(self, part: str, asked: _Asked) -> list[float]:
        """Usual shares of a part beside what it is asked to be made of, in the written ways of the kind."""
        return [
            held.share.usual
            for style in self.knowledge.styles.values()
            if any(asked.kind in bake.kinds for bake in style.bakes)
            and any(one.needed and asked.main in one.takes for one in style.parts.values())
            for held in style.parts.values()
            if part in held.takes and not held.needed
        ]


_Near = Sequence[tuple[float, _Made]]


class _Asked:
    """What is asked, as a baker's formula is laid out."""

    def __init__(self, request: StartRequest, parts: DoughParts) -> None:
        self.kind = request.kind.id
        self.words = frozenset(words_of(request.called))
        self.foreign: list[Ingredient] = []
        self.placed: list[tuple[Wanted, str]] = []
        for wanted in request.wanted:
            if request.limits.avoids(wanted.ingredient) is not None:
                continue
            if (part := parts.of(wanted.ingredient)) is None:
                self.foreign.append(wanted.ingredient)
            else:
                self.placed.append((wanted, part.id))
        self.parts = {part for _, part in self.placed}
        self.names = {wanted.ingredient.id for wanted, _ in self.placed} - {"water"}
        self.main = next((part for _, part in self.placed if part not in _LIQUID), None)

    def settles(self, part: str) -> bool:
        """Whether what is named tells that this part is left out on purpose: who names the salt has named all."""
        if part in ("water", "salt"):
            return False
        if part in LEAVENINGS:
            return not self.parts.isdisjoint(LEAVENINGS)
        return "salt" in self.parts

    def slots(self, request: StartRequest, knowledge: Knowledge) -> Iterable[Slot]:
        """Everything that is named, in its part."""
        for wanted, part in self.placed:
            yield slot_of(wanted, part, knowledge, first=wanted is request.wanted[0])


def _mean(some: Iterable[tuple[float, float]], usual: float, lean: float) -> float:
    """The mean by weight, leaned a little on what is usual."""
    told = list(some)
    return (sum(w * v for w, v in told) + lean * usual) / (sum(w for w, _ in told) + lean)
