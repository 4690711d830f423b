"""From a style to a formula: amounts at their usual shares, scaled to the pan, with the usual process."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import pi

from advisor.formula.formula import Formula, Line, Process
from advisor.formula.process.process_lines import read_process_value
from advisor.formula.process.steps import Rise
from advisor.formula.spelling import words_of
from advisor.formula_design.kitchen_amounts import baker_step, nearest_amount
from advisor.formula_design.request import StartRequest
from advisor.formula_design.style_fit import StyleFit, counted_at
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import Spread, StyleBake

_NAMED = 3
"""Ingredients that a title names."""
_UNTOLD = frozenset({"water", "salt", "sugar", "yeast", "powder", "soda", "acid", "flavour"})
"""Roles of what no title names."""
_FATTER = 80.0
"""g of fat in 100 g from which it is a fat, and no nut butter."""
_LEAST_TOLD = 0.15
"""Of what is most, the share from which another is named beside it."""
_CALLED_COUNTS = 3.0
"""What the baker calls it by is named before what is three times as much."""
_EGG_COUNTS = 0.8
"""An egg is named behind what is as much."""
_RAISED_BY = {
    "yeast": ", with yeast",
    "powder": ", with baking powder",
    "slow_yeast": ", with little yeast",
    "yeast_and_powder": ", with yeast and baking powder",
    "soda": ", with soda",
}
_LEAVENINGS = {"yeast": "yeast", "powder": "baking powder", "soda": "soda"}
_SOUR = "natural_leaven"
_SCALES = 24
"""Sizes of the whole that are tried for even amounts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A style in grams: the usual amount of every slot [g], the mass of the dough and how far it may go [g]."""

    fit: StyleFit
    process: Process
    usual: tuple[float, ...]
    mass: Spread
    title: str

    def formula(self, grams: Sequence[float]) -> Formula:
        """The formula of these amounts, in the order of the slots; what is nothing is left out."""
        lines = []
        for number, (slot, amount) in enumerate(zip(self.fit.slots, grams, strict=True), 2):
            if amount > 1e-6:
                each = counted_at(slot, amount)
                count = round(amount / each) if each else None
                lines.append(
                    Line(
                        text=f"{amount:g} g {slot.ingredient.name}", number=number, ingredient=slot.ingredient,
                        grams=amount, traits=slot.traits, counted=count or None,
                    )
                )  # fmt: skip
        return Formula(name=self.title, lines=tuple(lines), process=self.process)

    def share_bounds(self, part: str) -> Spread:
        """The spread of a part, g per 100 g of dough."""
        return self.fit.shares[part]


def draft_of(fit: StyleFit, request: StartRequest, knowledge: Knowledge) -> Draft:
    """Fill a style with its usual shares."""
    shares = usual_shares(fit, request, knowledge.coefficient("start_beside_weight"))
    process = _process(fit, request)
    if (fewer := _pieces_there_is_for(fit, request, process, shares)) is not None:
        process = replace(process, slices=fewer)
    mass = _mass(fit, process, knowledge)
    usual = tuple(shares[s] * mass.usual / 100 for s in range(len(fit.slots)))
    return Draft(fit=fit, process=process, usual=usual, mass=mass, title=title_of(fit, request, shares))


def in_kitchen_amounts(draft: Draft, knowledge: Knowledge) -> tuple[float, ...]:
    """The usual amounts of a draft as a baker weighs and counts them [g], in the order of its slots.

    The whole is made a little larger or smaller where that lets whole eggs and even weights keep their proportions.
    """
    mass, slots = draft.mass, draft.fit.slots
    aside = knowledge.coefficient("near_scale_weight")
    best: tuple[float, tuple[float, ...]] | None = None
    for step in range(_SCALES + 1):
        scale = (mass.least + (mass.most - mass.least) * step / _SCALES) / mass.usual
        grams, uneven = [], aside * abs(scale - 1)
        for slot, usual in zip(slots, draft.usual, strict=True):
            wanted = scale * usual
            each = counted_at(slot, wanted)
            weighed = nearest_amount(wanted, each, knowledge)
            if weighed == 0 and wanted > 0:
                weighed = each or baker_step(wanted, knowledge)
            weighed = weighed if slot.most_g is None else min(weighed, slot.most_g)
            grams.append(weighed)
            uneven += abs(weighed - wanted) / max(wanted, 1e-6) * (usual / mass.usual) ** 0.5
        if best is None or uneven < best[0] - 1e-9:
            best = uneven, tuple(grams)
    assert best is not None
    return best[1]


def usual_shares(fit: StyleFit, request: StartRequest, beside: float) -> dict[int, float]:
    """g per 100 g of dough of every slot: usual shares, brought to 100 between the ends of the spreads.

    Of several in a part, what only goes along has `beside` times the share of what the part is first of all made of.

    A formula that it is to be like gives its own shares, held within the spreads.
    """
    if fit.amounts:
        some = {place: fit.amounts[slot.ingredient.id] for place, slot in enumerate(fit.slots)}
        return {place: 100 * share / sum(some.values()) for place, share in some.items()}
    like = _shares_like(fit, request)
    aims = {name: like.get(name, spread.usual) for name, spread in fit.shares.items()}
    total = sum(aims.values())
    for name, spread in fit.shares.items():
        end = spread.least if total > 100 else spread.most
        room = sum((s.least if total > 100 else s.most) for s in fit.shares.values()) - total
        way = (100 - total) / room if abs(room) > 1e-9 else 0.0
        aims[name] += min(max(way, 0.0), 1.0) * (end - aims[name])
    out: dict[int, float] = {}
    for place, slot in enumerate(fit.slots):
        weights = [beside if s.beside else 1.0 for s in fit.slots if s.part == slot.part]
        out[place] = aims[slot.part] * (beside if slot.beside else 1.0) / sum(weights)
    whole = sum(out.values())
    return {place: 100 * share / whole for place, share in out.items()}


def _pieces_there_is_for(
    fit: StyleFit, request: StartRequest, process: Process, shares: Mapping[int, float]
) -> int | None:
    """Fewer pieces than usual, where nobody asked for a number and there is not enough of something for them."""
    if request.slices is not None or fit.bake.piece_g is None or process.pan_kind not in ("rolls", "flat"):
        return None
    enough = [
        int(slot.most_g / (shares[place] / 100 * fit.bake.piece_g.usual))
        for place, slot in enumerate(fit.slots)
        if slot.most_g is not None and shares[place] > 0
    ]
    fewest = min(enough, default=fit.bake.slices)
    return max(fewest, 1) if fewest < (process.slices or 0) else None


def _shares_like(fit: StyleFit, request: StartRequest) -> Mapping[str, float]:
    if request.like is None or request.like.dough_g <= 0:
        return {}
    grams: dict[str, float] = {}
    by_id = {s.ingredient.id: s.part for s in fit.slots}
    for line in request.like.lines:
        if (part := by_id.get(line.ingredient.id)) is not None:
            grams[part] = grams.get(part, 0.0) + line.grams
    shares = {name: 100 * g / request.like.dough_g for name, g in grams.items()}
    return {n: min(max(s, fit.shares[n].least), fit.shares[n].most) for n, s in shares.items()}


def _process(fit: StyleFit, request: StartRequest) -> Process:
    bake = fit.bake
    fields = dict(request.pan) or dict(read_process_value("pan", bake.pan)[0])
    yeasted = any("yeast" in s.ingredient.roles or _SOUR in s.ingredient.traits for s in fit.slots)
    watered = any({"water", "liquid"} & set(s.ingredient.roles) for s in fit.slots)
    if not request.pan and request.slices and fields.get("pan_cups") is not None:
        # As many cups are filled as muffins are wanted.
        fields["pan_cups"] = request.slices
    if bake.g_per_cm2 is not None and fields.get("pan_kind") == "tin":
        # A base is spread in a pan of any depth.
        fields |= {"pan_kind": "flat", "pan_height_cm": None}
    cups = fields.get("pan_cups")
    slices = request.slices or (int(cups) if isinstance(cups, int) else bake.slices)
    return Process(
        kind=fit_kind_word(request),
        slices=slices,
        mix_min=bake.mix_min or None,
        rest_min=bake.rest_min,
        water_c=bake.water_c if watered else None,
        proof_min=bake.proof_min.usual if bake.proof_min and yeasted else None,
        proof_c=bake.proof_c if bake.proof_min and yeasted else None,
        proofs=_rises(bake) if yeasted else (),
        oven_c=bake.oven_c.usual if bake.oven_c else None,
        bake_min=bake.bake_min.usual if bake.bake_min else None,
        thickness_cm=bake.thickness_cm,
        griddle_c=bake.griddle_c,
        griddle_side_min=bake.griddle_side_min,
        steam_min=bake.steam_min,
        boil_min=bake.boil_min,
        whites_whipped=True if bake.whites_whipped else None,
        **fields,  # type: ignore[arg-type]
    )


def _rises(bake: StyleBake) -> tuple[Rise, ...]:
    """Both rises, where there are two."""
    if bake.proof_min is None or bake.first_rise_min is None:
        return ()
    last = Rise(minutes=bake.proof_min.usual, celsius=bake.proof_c)
    return (Rise(minutes=bake.first_rise_min, celsius=bake.proof_c), last)


def fit_kind_word(request: StartRequest) -> str:
    """The kind as it stands on a process line."""
    return request.kind.id.replace("_", " ")


def _mass(fit: StyleFit, process: Process, knowledge: Knowledge) -> Spread:
    bake = fit.bake
    if bake.g_per_cm2 is not None and (area := _base_cm2(process, knowledge)) is not None:
        return bake.g_per_cm2.times(area)
    volume = process.pan_volume_ml
    if bake.fill is not None and volume is not None:
        per_ml = volume * (process.pan_cups or 1) / 100
        return bake.fill.times(per_ml)
    if bake.piece_g is not None:
        pieces = 1 if process.pan_kind in ("free_standing",) else process.pan_cups or process.slices or 1
        return bake.piece_g.times(pieces)
    # A style of the tin, in a pan of another shape: a slice as it usually is.
    usual = knowledge.coefficient("start_slice_g") * (process.slices or bake.slices)
    room = knowledge.coefficient("start_slice_room")
    return Spread(least=(1 - room) * usual, usual=usual, most=(1 + room) * usual)


def _base_cm2(process: Process, knowledge: Knowledge) -> float | None:
    """Area of the pan; of a usual base where many slices are asked and no pan; `None` where whole bases are meant."""
    length, width = process.pan_length_cm, process.pan_width_cm
    if length and width:
        round_share = pi / 4 if process.pan_kind == "round" else 1.0
        return length * width * round_share
    c = knowledge.coefficient
    return c("start_base_cm2") if (process.slices or 0) >= c("start_slices_of_a_base") else None


def title_of(fit: StyleFit, request: StartRequest, shares: Mapping[int, float]) -> str:
    """A name for it: what the baker calls it, and the two or three things that are most of it when dry."""
    worth: dict[str, float] = {}
    words = set(words_of(request.called))
    for place, slot in enumerate(fit.slots):
        one = slot.ingredient
        if not slot.pantry and not _UNTOLD & set(one.roles) and one.per_100g.fat < _FATTER:
            dry = shares[place] * (100 - one.per_100g.water) / 100
            name = short_name(one)
            told = _CALLED_COUNTS if words & set(words_of(name)) else 1.0
            worth[name] = worth.get(name, 0.0) + dry * told * (_EGG_COUNTS if "egg" in one.roles else 1.0)
    least = _LEAST_TOLD * max(worth.values(), default=0.0)
    names = [n for n in sorted(worth, key=lambda n: -worth[n]) if worth[n] >= least][:_NAMED]
    of_what = " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else "".join(names)
    called = _noun(request) or fit.bake.called
    title = f"{called} of {of_what}" if of_what else called
    return f"{title[:1].upper()}{title[1:]}{_raised_by(fit)}"


def _raised_by(fit: StyleFit) -> str:
    """What raises it, as it is in it; a written way has its own words."""
    if not fit.amounts:
        return _RAISED_BY.get(fit.style.leavening, "")
    roles = {role for slot in fit.slots for role in slot.ingredient.roles}
    names = [name for role, name in _LEAVENINGS.items() if role in roles]
    return f", with {' and '.join(names)}" if names else ""


def _noun(request: StartRequest) -> str:
    """What the baker calls it, where that says more than the kind: burger buns, batons."""
    called = request.called.lower().partition(",")[0]
    if called.replace("_", " ") in (request.kind.id.replace("_", " "), request.kind.name.lower()):
        return ""
    nouns = sorted(request.kind.title, key=len, reverse=True)
    found = re.findall(rf"\b(?:{'|'.join(map(re.escape, nouns))})s?\b", called) if nouns else []
    return str(found[-1]) if found and len(found[-1].split()) > 1 else ""


def short_name(ingredient: object) -> str:
    """An ingredient in a title: without what only a shopping list needs."""
    name = str(getattr(ingredient, "name", ""))
    for prefix in ("low-moisture ", "vital wheat ", "whole ", "ground "):
        name = name.removeprefix(prefix)
    return name.split(",")[0]
