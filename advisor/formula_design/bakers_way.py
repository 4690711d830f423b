"""A way of making a bread out of the nearest bakers' formulas: its parts and their scatter, and how they baked it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from math import sqrt

from advisor.formula_design.plausibility import distance_of
from advisor.formula_design.request import StartRequest
from advisor.formula_design.style_fit import Slot, StyleFit, bake_for, is_called
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import BakersFormula, Spread, Style, StyleBake, StylePart

AS_BAKERS = "as_bakers"
LEAVENINGS = ("starter", "yeast", "powder", "soda")
_CARRY_FROM = 8.0
"""g per 100 g of dough from which a part carries a bread."""
_SPREADS = {
    "oven_c": 0.05, "bake_min": 0.2, "proof_min": 0.25, "fill": 0.1, "piece_g": 0.15, "g_per_cm2": 0.15,
}  # fmt: skip
"""How far a number of the bake may go either way, as a share of itself."""
_PLAIN = (
    "proof_c", "first_rise_min", "rest_min", "mix_min", "griddle_c", "griddle_side_min", "steam_min",
)  # fmt: skip
_AS_LARGE = 2.2
_RAISED = frozenset({"yeast", "starter"})
_LONGER = 1.6
_TIMES = 3.0
"""A size or time so many times another is that of another thing."""
_ANOTHER_HEAT = ("griddle_c", "griddle_side_min", "steam_min")
_NOT_ALWAYS = ("rest_min", "first_rise_min")
Near = Sequence[tuple[float, BakersFormula, Mapping[str, float]]]
"""Weight of each baker's formula, the formula, and its shares of the parts of a dough."""


class WayOfBakers:
    """Makes a fit of what is asked out of the nearest formulas."""

    def __init__(self, request: StartRequest, near: Near, knowledge: Knowledge) -> None:
        self.request, self.near, self.knowledge = request, near, knowledge
        self.c = knowledge.coefficient

    def fit(
        self,
        slots: Sequence[Slot],
        amounts: Mapping[str, float],
        main: str | None,
        left_out: Sequence[Ingredient],
    ) -> StyleFit | None:
        """The fit of these amounts (g per 100 g of dough); `None` where no way of making the kind is written."""
        shares: dict[str, float] = {}
        for slot in slots:
            shares[slot.part] = shares.get(slot.part, 0.0) + amounts[slot.ingredient.id]
        if (nearest := self._nearest_style(shares)) is None:
            return None
        like, base, far = nearest
        because = {part: one.for_ for one in like.parts.values() for part in one.takes if one.for_}
        slots = [replace(s, because=because.get(s.part, "")) if s.pantry else s for s in slots]
        raised = "_and_".join(p for p in LEAVENINGS if p in shares) or "none"
        carry = sorted((p for p in shares if p not in ("water", "fat")), key=lambda p: -shares[p])[:2]
        known = far < self.c("near_named_within")
        names = " and ".join(self.knowledge.dough_parts[p].name for p in carry)
        pantry = {slot.part: (slot.ingredient.id,) for slot in slots if slot.pantry}
        bearing = {p for p in (*carry, main) if p is not None and shares[p] >= _CARRY_FROM}
        parts = {
            n: StylePart(share=self._spread(n, g), takes=(n,), pantry=pantry.get(n, ()), needed=n in bearing)
            for n, g in shares.items()
        }
        style = Style(
            id=AS_BAKERS,
            grade="practice",
            name=like.name if known else f"{names}, as bakers make it",
            carried_by=like.carried_by if known else carry[0],
            leavening=like.leavening if known else raised,
            parts=parts,
            bakes=(self._bake(base, risen=not _RAISED.isdisjoint(shares)),),
        )
        return StyleFit(
            style=style,
            bake=style.bakes[0],
            slots=tuple(sorted(slots, key=lambda s: -amounts[s.ingredient.id])),
            shares={n: part.share for n, part in parts.items()},
            left_out=tuple(left_out),
            amounts=amounts,
        )

    def _spread(self, part: str, share: float) -> Spread:
        """How far bakers differ in a part: the scatter of the nearest, within bounds."""
        some = [(w, parts[part]) for w, _, parts in self.near if part in parts]
        least, most = self.c("near_spread"), self.c("near_widest")
        whole = sum(w for w, _ in some) or 1.0
        scatter = sqrt(sum(w * (v - share) ** 2 for w, v in some) / whole) / share if some else most
        way = min(max(scatter, least), most)
        return Spread(least=(1 - way) * share, usual=share, most=min((1 + way) * share, 100.0))

    def _nearest_style(self, shares: Mapping[str, float]) -> tuple[Style, StyleBake, float] | None:
        """The written way of making this kind that it is most like, how that is baked, and the distance."""
        found = [
            (distance_of(shares, style, self.knowledge), style, bake)
            for style in self.knowledge.styles.values()
            if (bake := bake_for(style, self.request)) is not None
        ]
        if not found:
            return None
        risen = not _RAISED.isdisjoint(shares)
        # What is called bagels is boiled, and what is asked in a tin is baked in one, whatever is nearest in amounts.
        far, style, bake = min(
            found,
            key=lambda one: (
                not is_called(one[2], self.request), (one[2].fill is not None) != self.request.in_one_tin,
                (one[2].proof_min is not None) != risen, one[0],
            ),
        )  # fmt: skip
        return style, bake, far

    def _bakers(self, base: StyleBake) -> list[tuple[float, BakersFormula]]:
        """Those of the nearest whose bake tells of this one, with their weight."""
        kind = self.request.kind
        shaped = {n for n, k in self.knowledge.kinds.items() if k.shape == kind.shape}
        fitting = [(w, e) for w, e, _ in self.near if (e.fill is None) or base.fill is not None]
        some = [
            (w if e.kind == kind.id else w * self.c("near_same_shape"), e)
            for w, e in fitting
            if e.kind in shaped
        ]
        enough = self.c("near_few") * sum(w for w, _, _ in self.near)
        # Foam rolls are baked as all foam breads are, where none of the nearest is of their shape.
        as_large = [(w, e) for w, e in fitting if _as_large(e, base)]
        return some if sum(w for w, _ in some) > enough or not as_large else as_large

    def _bake(self, base: StyleBake, *, risen: bool) -> StyleBake:
        """The bake of the written way with the numbers of those bakers."""
        some = self._bakers(base)
        whole = sum(w for w, _ in some)
        told: dict[str, object] = {}
        for name, way in _SPREADS.items():
            of_base = getattr(base, name)
            sizes = [(w, _size(e, base) if name == "piece_g" else getattr(e, name)) for w, e in some]
            near = [(w, v) for w, v in sizes if v is not None and _is_like(name, v, of_base, risen=risen)]
            if (value := _middle(near)) is not None:
                told[name] = Spread(least=(1 - way) * value, usual=value, most=(1 + way) * value)
        for name in _PLAIN:
            if name in _ANOTHER_HEAT and getattr(base, name) is None:
                continue
            having = [(w, getattr(e, name)) for w, e in some if getattr(e, name) is not None]
            if having:
                told[name] = _middle(having)
            if name in _NOT_ALWAYS and sum(w for w, _ in having) < self.c("near_most_have") * whole:
                told[name] = None
        if some and "oven_c" in told:
            told["whites_whipped"] = sum(w if e.whites_whipped else -w for w, e in some) > 0
        return base.model_copy(update=_rounded(told))


def _is_like(name: str, value: float, base: Spread | None, *, risen: bool) -> bool:
    """Whether a size or time can be of such a bread; what yeast raises rises, though a way is written without."""
    if base is None:
        return name == "proof_min" and risen
    times = _LONGER if name == "bake_min" else _TIMES
    return base.usual / times < value < base.usual * times


def _size(made: BakersFormula, base: StyleBake) -> float | None:
    """g of dough of a piece; of a cracker the part of the batch that it is here."""
    return made.piece_g if made.whole_g is None else made.whole_g / base.slices


def _as_large(made: BakersFormula, base: StyleBake) -> bool:
    """Whether a piece of the one is about as large as a piece of the other."""
    if made.piece_g is None or base.piece_g is None:
        return made.fill is not None and base.fill is not None
    return 1 / _AS_LARGE < made.piece_g / base.piece_g.usual < _AS_LARGE


def _middle(some: Iterable[tuple[float, float | None]]) -> float | None:
    """The median by weight of what is told."""
    told = sorted((v, w) for w, v in some if v is not None)
    whole, passed = sum(w for _, w in told), 0.0
    for value, weight in told:
        passed += weight
        if passed >= whole / 2:
            return value
    return None


def _rounded(told: Mapping[str, object]) -> dict[str, object]:
    """Numbers of a bake as a baker says them: fives of a long time and of the oven's dial."""
    out = dict(told)
    for name, value in told.items():
        if isinstance(value, Spread) and name in ("oven_c", "proof_min", "bake_min"):
            least, usual, most = (_said(v) for v in (value.least, value.usual, value.most))
            out[name] = Spread(least=least, usual=usual, most=most)
        elif isinstance(value, float) and name != "griddle_side_min":
            out[name] = float(round(value)) if name == "proof_c" else max(_said(value), 1.0)
    return out


def _said(value: float) -> float:
    """Minutes or degrees as they are said."""
    return 5.0 * round(value / 5) if value > 30 else float(round(value))
