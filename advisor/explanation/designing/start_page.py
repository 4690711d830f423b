"""First formulas as a page: what each trades in one table, each as a card, or what stands in the way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from advisor.explanation.blocks import (
    Block,
    Command,
    Emphasis,
    Heading,
    Item,
    Paragraph,
    Quantity,
    Row,
    Runs,
    Table,
)
from advisor.explanation.changes import ChangeWords, joined
from advisor.explanation.designing.cards import card_blocks
from advisor.formula_design.plausibility import Plausibility
from advisor.formula_design.starting import FirstFormula, FromCupboard, StartAnswer
from advisor.formula_design.stopped_by import Stop
from advisor.formula_design.style_fit import Lacking
from advisor.formula_design.trades import Trade, Trait, trades
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.constraints import LIMITS

_LACKING_SHOWN = 3
_TRAITS: dict[Trait, str] = {
    "net_carb": "net carbohydrate a {piece}",
    "protein": "protein a {piece}",
    "cost": "cost a {piece}, your prices",
    "volume": "rises to, mL for each g",
    "risk": "likeliest fault",
    "unusual": "beside good ones",
}
_BEST: dict[Trait, str] = {
    "net_carb": "least carbohydrate", "protein": "most protein", "cost": "cheapest", "volume": "rises most",
    "risk": "least risk", "unusual": "nearest to what bakers make",
}  # fmt: skip
_WORST: dict[Trait, str] = {
    "net_carb": "most carbohydrate", "protein": "least protein", "cost": "dearest", "volume": "rises least",
    "risk": "most risk", "unusual": "furthest from what bakers make",
}  # fmt: skip
_LIMITS = {
    one.name: (f"{one.noun} a {{piece}} at {'most' if one.sign > 0 else 'least'}", one.unit) for one in LIMITS
}


def start_page(answer: StartAnswer, knowledge: Knowledge, *, typed: bool = True) -> tuple[Block, ...]:
    """The page of `advisor start`; `typed`: with what to type next."""
    return tuple(_StartPage(answer, knowledge, typed).blocks())


class _StartPage:
    def __init__(self, answer: StartAnswer, knowledge: Knowledge, typed: bool) -> None:
        self.answer, self.knowledge, self.typed = answer, knowledge, typed
        self.words = ChangeWords(knowledge)
        self.piece = "slice"
        if answer.formulas:
            p = answer.formulas[0].formula.process
            self.piece = "piece" if p.pan_kind in ("rolls", "flat") or p.pan_cups else "slice"
        c = knowledge.coefficient
        self.traded = trades(answer.formulas, c("start_clear_share"), c("start_unusual_from"))

    def blocks(self) -> Iterator[Block]:
        request, found = self.answer.request, self.answer.formulas
        names = ", ".join(w.ingredient.name for w in request.wanted)
        count = "one formula" if len(found) == 1 else f"{len(found)} formulas"
        yield Row(left=(Emphasis(meaning="name", runs=(request.kind.name.capitalize(),)),), right=(count,))
        yield Paragraph(runs=(f"From: {names}.",))
        yield Paragraph(runs=(self._verdict(),), meaning="verdict")
        yield from (Paragraph(runs=(f"Assumed: {text}.",)) for text in request.said)
        if self.answer.stops or not any(f.passes for f in found):
            yield from self._stopped()
        if len(found) > 1:
            yield from self._table()
        for number, (one, trade) in enumerate(zip(found, self.traded, strict=True), 1):
            yield from self._formula(number, one, trade)
        yield from self._one_more()
        if found and self.typed:
            yield Row(
                left=("To keep one, type the same command with this behind it, then the second line:",),
                right=(),
            )
            yield Command(text="--card 1 > my-formula.txt")
            yield Command(text="advisor check my-formula.txt")
        if found:
            yield Paragraph(runs=("Nobody has baked them: bake one small, and believe the loaf.",))

    def _verdict(self) -> str:
        found = self.answer.formulas
        if not found:
            return "No formula of this kind keeps what is asked."
        if not found[0].passes:
            return "None lets every risk stay below the limit of a check; this one comes nearest."
        if len(found) == 1:
            return "One formula fits; checked: nothing looks wrong."
        return f"{len(found)} formulas fit; checked: nothing looks wrong."

    def _table(self) -> Iterator[Block]:
        rows: list[tuple[Runs, ...]] = []
        for trait, name in _TRAITS.items():
            cells = [self._cell(trait, one) for one in self.answer.formulas]
            if any(cell != ("-",) for cell in cells):
                rows.append(((name.format(piece=self.piece),), *cells))
        head = ("", *(f"{n}" for n in range(1, len(self.answer.formulas) + 1)))
        yield Heading(text="What each trades")
        yield Table(
            caption="What each trades", head=head, rows=tuple(rows), figures=frozenset(range(1, len(head)))
        )

    def _cell(self, trait: Trait, one: FirstFormula) -> Runs:
        if trait == "risk":
            name, risk = one.worst
            return (f"{self.knowledge.symptoms[name].name.lower()} ", Quantity(value=risk, unit="share"))
        if trait == "unusual":
            return (usual_words(one.usual, self.knowledge),)
        if trait == "volume":
            return ("-",) if one.volume is None else (f"{one.volume:.1f}",)
        value = {"net_carb": one.slice.net_carb, "protein": one.slice.protein, "cost": one.slice.cost}[trait]
        if value is None:
            return ("-",)
        return (f"{value:.2f}",) if trait == "cost" else (Quantity(value=value, unit="g", decimals=1),)

    def _formula(self, number: int, one: FirstFormula, trade: Trade) -> Iterator[Block]:
        style = one.made
        yield Heading(text=f"{number}. {one.formula.name}", ident=f"formula-{number}")
        yield Paragraph(runs=(f"{style.name[:1].upper()}{style.name[1:]}. {_traded(trade)}".strip(),))
        yield from card_blocks(one.formula, self.words)
        if one.from_cupboard:
            yield Paragraph(runs=self._cupboard(one.from_cupboard))
        if one.left_out:
            names = ", ".join(i.name for i in one.left_out)
            yield Paragraph(runs=(f"Not used: {names}.",))
        yield from self._unusual(one)
        if not one.passes:
            yield from self._why_not(one)

    def _cupboard(self, some: Sequence[FromCupboard]) -> Runs:
        said: list[Runs] = []
        for one in some:
            because = f" ({one.because})" if one.because else ""
            said.append((Quantity(value=one.grams, unit="g"), f" {one.ingredient.name}{because}"))
        return ("Also needed, from the cupboard: ", *joined(tuple(said), ", "), ".")

    def _unusual(self, one: FirstFormula) -> Iterator[Block]:
        parts = one.made.parts
        for out in one.usual.outside:
            names = " or ".join(self.knowledge.dough_parts[t].name for t in parts[out.part].takes[:2])
            more = "More" if out.share > out.most else "Less"
            yield Paragraph(
                runs=(
                    f"{more} {names} than usual: {out.share:.1f} g in 100 g of dough; good ones have {out.least:g} to "
                    f"{out.most:g}.",
                )
            )

    def _why_not(self, one: FirstFormula) -> Iterator[Block]:
        name, risk = one.worst
        limit = self.knowledge.coefficient("risk_limit")
        if risk >= limit:
            runs: Runs = (f"A check would say no: {self.knowledge.symptoms[name].name.lower()} ",)
            yield Paragraph(runs=(*runs, Quantity(value=risk, unit="share"), "."), meaning="caution")
        for measure in one.look.far_out:
            yield Paragraph(
                runs=(f"Far out of its range: {self.knowledge.measures[measure].name}.",), meaning="caution"
            )
        for gap in one.look.not_judged:
            if gap.decides:
                yield Paragraph(runs=(f"Not judged: {gap.what}: {gap.why}.",), meaning="caution")

    def _stopped(self) -> Iterator[Block]:
        if self.answer.stops:
            beyond = all(stop.beyond for stop in self.answer.stops)
            yield Heading(text="What stops it" if beyond else "What stops it, each limit given up alone")
        for stop in self.answer.stops:
            yield Item(label="-", runs=self._stop(stop))
        if not self.answer.stops and not self.answer.formulas:
            yield Paragraph(runs=(self._nothing_alone(),))

    def _nothing_alone(self) -> str:
        if self.answer.fitting:
            return "What is named makes a bread of this kind, but not within all the limits at once."
        if any(len(gap.parts) for gap in self.answer.lacking):
            return "What is named does not make a bread of this kind by any way that is known here."
        return "Giving up one limit alone does not help."

    def _stop(self, stop: Stop) -> Runs:
        style = stop.style.name
        if stop.limit == "avoid":
            return (f"{stop.what} let in: then it can be made of {style}",)
        if stop.limit == "at_hand":
            amounts = (
                Quantity(value=stop.needed or 0.0, unit="g"),
                Quantity(value=stop.asked or 0.0, unit="g"),
            )
            return (amounts[0], f" {stop.what} in place of ", amounts[1], f": {style}")
        if stop.limit == "slices":
            return (f"{stop.needed:.0f} slices in place of {stop.asked:.0f}: {style}",)
        name, unit = _LIMITS[stop.limit]
        needed = stop.needed or 0.0
        if stop.beyond:
            return (self._out_of_reach(stop),)
        # Rounded so that what is printed can be asked for.
        told = ceil(10 * needed - 1e-6) / 10 if stop.limit != "protein_min" else int(10 * needed + 1e-6) / 10
        if stop.limit == "cost_max":
            told = ceil(100 * needed - 1e-6) / 100
        return (
            f"{name.format(piece=self.piece)} {told:g} {unit}".rstrip()
            + f" in place of {stop.asked:g}: {style}",
        )

    def _out_of_reach(self, stop: Stop) -> str:
        """The arithmetic of a limit that no amounts reach: what is asked in all, and what there can be."""
        name, unit = _LIMITS[stop.limit]
        asked, utmost, pieces = stop.asked or 0.0, stop.needed or 0.0, self.answer.request.slices or 1
        side = "most" if stop.limit == "protein_min" else "least"
        said = f"{name.format(piece=self.piece)} {asked:g} {unit}".rstrip()
        in_all = (
            f", which is {pieces * asked:.0f} {unit}".rstrip() + f" in all {pieces}" if pieces > 1 else ""
        )
        holds = f"{pieces * utmost:.0f} {unit}".rstrip() + " in all, " if pieces > 1 else ""
        return (
            f"{said}{in_all}: what is named holds at the {side} {holds}{utmost:.1f} {unit}".rstrip()
            + f" a {self.piece}, with the {side} dough that is usual for this size ({stop.style.name})"
        )

    def _one_more(self) -> Iterator[Block]:
        # What only something avoided would fill is no help to who avoids it.
        some = [gap for gap in self.answer.lacking if all(gap.parts)][:_LACKING_SHOWN]
        if not some:
            return
        yield Heading(
            text="With one thing more you could also make" if len(some[0].parts) == 1 else "What is lacking"
        )
        yield from (Item(label="-", runs=(_lacking(gap),)) for gap in some)


def _lacking(gap: Lacking) -> str:
    needed = " and ".join(" or ".join(names) for names in gap.parts)
    return f"{needed}: {gap.style.name}"


def _traded(trade: Trade) -> str:
    best = ", ".join(_BEST[t] for t in trade.best_at)
    worst = ", ".join(_WORST[t] for t in trade.pays_in)
    said = [f"Of these: {best}." if best else "", f"It pays in: {worst}." if worst else ""]
    return " ".join(s for s in said if s)


def usual_words(usual: Plausibility, knowledge: Knowledge) -> str:
    """How near a formula is to what good ones of its style hold."""
    edge = knowledge.coefficient("start_unusual_from")
    if usual.distance < edge:
        return "usual"
    return "a little unusual" if usual.distance < 2 * edge else "unusual"
