"""Which ways of making a bread fit what is at hand, what each leaves out, and what it takes from the cupboard."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from advisor.formula.spelling import words_of
from advisor.formula_design.dough_parts import DoughParts
from advisor.formula_design.kitchen_amounts import piece_g
from advisor.formula_design.request import StartRequest, Wanted
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import Spread, Style, StyleBake, StylePart
from advisor.remedy.constraints import Constraints

_MOST_PIECES = 12
"""More egg whites than this are weighed, not counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """An ingredient in its place: the part of the style that it fills, and whether it came from the cupboard."""

    ingredient: Ingredient
    part: str
    traits: tuple[str, ...] = ()
    pantry: bool = False
    because: str = ""
    """What it is there for, where it came from the cupboard."""
    named_first: bool = False
    """Whether the baker named it before all else."""
    beside: bool = False
    """Whether it only goes along with what the part is first of all made of: seeds with a meal."""
    most_g: float | None = None
    each_g: float | None = None
    """Grams of a piece, where it is counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StyleFit:
    """A style with its slots filled, and the wanted ingredients that it has no place for."""

    style: Style
    bake: StyleBake
    slots: tuple[Slot, ...]
    shares: Mapping[str, Spread]
    """Spread of every part that is there, g per 100 g of dough."""
    left_out: tuple[Ingredient, ...]
    amounts: Mapping[str, float] = field(default_factory=dict)
    """g per 100 g of dough of each ingredient, by its id, where bakers made nearly the same; else empty."""

    def without(self, slot: Slot) -> StyleFit:
        """The same without one of the wanted ingredients."""
        slots = tuple(s for s in self.slots if s is not slot)
        kept = {name: spread for name, spread in self.shares.items() if any(s.part == name for s in slots)}
        return replace(self, slots=slots, shares=kept, left_out=(*self.left_out, slot.ingredient))

    def widened(self, factor: float) -> StyleFit:
        """The same with so many times as much room either way in every part."""
        shares = {
            n: Spread(
                least=max(s.usual - factor * (s.usual - s.least), 0.0),
                usual=s.usual,
                most=min(s.usual + factor * (s.most - s.usual), 100.0),
            )
            for n, s in self.shares.items()
        }
        parts = {n: p.model_copy(update={"share": shares[n]}) for n, p in self.style.parts.items()}
        return replace(self, shares=shares, style=self.style.model_copy(update={"parts": parts}))

    @property
    def carried_by_the_first(self) -> bool:
        """Whether what was named first is a part without which it would be another bread."""
        first = next((s for s in self.slots if s.named_first), None)
        return first is not None and first.part in self.style.parts and self.style.parts[first.part].needed

    def may_go(self, slot: Slot) -> bool:
        """Whether the bread is one of this style without an ingredient that the baker wants in it."""
        if slot.pantry:
            return False
        others = any(s.part == slot.part for s in self.slots if s is not slot)
        part = self.style.parts.get(slot.part)
        return others or part is None or not (part.needed or part.pantry)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lacking:
    """A style that does not fit: the parts that are lacking, by the names of what could fill them."""

    style: Style
    parts: tuple[tuple[str, ...], ...]
    """For each part that is lacking, names of ingredients that would do."""


def fits_and_gaps(
    request: StartRequest, knowledge: Knowledge
) -> tuple[tuple[StyleFit, ...], tuple[Lacking, ...]]:
    """Try every style of the kind; those that fit come with what uses most of the wanted ingredients first."""
    parts = DoughParts(knowledge)
    fits: list[StyleFit] = []
    gaps: list[Lacking] = []
    for style in knowledge.styles.values():
        if (bake := bake_for(style, request)) is not None:
            found = _fit(style, bake, request, parts, knowledge)
            if isinstance(found, StyleFit):
                fits.append(found)
            else:
                gaps.append(found)
    # Who asks for bagels is not given rolls, where bagels can be made.
    fits = [fit for fit in fits if is_called(fit.bake, request)] or fits
    fits.sort(key=lambda fit: len(fit.left_out))
    gaps.sort(key=lambda gap: len(gap.parts))
    return tuple(fits), tuple(gaps)


def bake_for(style: Style, request: StartRequest) -> StyleBake | None:
    """Choose how a style is baked as the kind that is asked: by what it is called, in the shape that the pan says."""
    some = [
        bake
        for bake in style.bakes
        if request.kind.id in bake.kinds and (is_called(bake, request) or not bake.only_asked)
    ]
    some.sort(key=lambda bake: not is_called(bake, request))
    shaped = [bake for bake in some if (bake.fill is not None) == request.in_one_tin]
    return next(iter(shaped or some), None)


def is_called(bake: StyleBake, request: StartRequest) -> bool:
    """Whether the baker calls it as this bake is called."""
    return bool(set(words_of(bake.called)) & set(words_of(request.called)))


def _fit(
    style: Style, bake: StyleBake, request: StartRequest, parts: DoughParts, knowledge: Knowledge
) -> StyleFit | Lacking:
    limits = request.limits
    slots: list[Slot] = []
    shares: dict[str, Spread] = {}
    left_out: list[Ingredient] = []
    for wanted in request.wanted:
        one = wanted.ingredient
        if limits.avoids(one):
            continue
        name = parts.place_in(one, style)
        anywhere = parts.of(one)
        if name is not None:
            shares[name] = style.parts[name].share
        elif anywhere is not None and anywhere.anywhere is not None:
            name = anywhere.id
            shares[name] = anywhere.anywhere
        else:
            left_out.append(one)
            continue
        slot = slot_of(wanted, name, knowledge, first=wanted is request.wanted[0])
        held = style.parts.get(name)
        slots.append(
            replace(slot, beside=held is not None and anywhere is not None and anywhere.id != held.takes[0])
        )
    lacking: list[tuple[str, ...]] = []
    for name, part in style.parts.items():
        if any(s.part == name for s in slots):
            continue
        if part.pantry:
            chosen = next(_allowed(part, limits, knowledge), None)
            if chosen is None:
                lacking.append(tuple(knowledge.ingredients[i].name for i in part.pantry))
                continue
            slots.append(
                Slot(ingredient=chosen, part=name, pantry=True, because=part.for_ or "", each_g=None)
            )
            shares[name] = part.share
        elif part.needed:
            lacking.append(_would_do(part, parts, limits, knowledge))
    if lacking:
        return Lacking(style=style, parts=tuple(lacking))
    order = list(style.parts)
    slots.sort(key=lambda s: order.index(s.part) if s.part in order else len(order))
    return StyleFit(style=style, bake=bake, slots=tuple(slots), shares=shares, left_out=tuple(left_out))


def slot_of(wanted: Wanted, part: str, knowledge: Knowledge, *, first: bool) -> Slot:
    """Put what is wanted in its place."""
    each = piece_g(wanted.ingredient, knowledge)
    return Slot(
        named_first=first,
        ingredient=wanted.ingredient, part=part, traits=wanted.traits, most_g=wanted.most_g, each_g=each
    )  # fmt: skip


def counted_at(slot: Slot, grams: float) -> float | None:
    """Grams of a piece where this much of it is counted; `None` where it is weighed."""
    return slot.each_g if slot.each_g is not None and grams <= _MOST_PIECES * slot.each_g else None


def _allowed(part: StylePart, limits: Constraints, knowledge: Knowledge) -> Iterator[Ingredient]:
    for name in part.pantry:
        if limits.avoids(knowledge.ingredients[name]) is None:
            yield knowledge.ingredients[name]


def _would_do(
    part: StylePart, parts: DoughParts, limits: Constraints, knowledge: Knowledge, most: int = 3
) -> tuple[str, ...]:
    """Names of a few ingredients that would fill a part, those that stand first in the knowledge."""
    known = [knowledge.dough_parts[name] for name in part.takes]
    first = [knowledge.ingredients[i] for entry in known for i in entry.ingredients[:most]]
    others = [i for i in knowledge.ingredients.values() if (p := parts.of(i)) is not None and p in known]
    names = dict.fromkeys(i.name for i in (*first, *others) if limits.avoids(i) is None)
    return tuple(names)[:most]
