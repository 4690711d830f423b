"""A day's bake as blocks: water and ice, what to weigh, oven loads, who waits, pans."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Paragraph, Quantity, Row, Runs, Table
from advisor.explanation.pans_sold import OtherPan
from advisor.explanation.scale_up import Batch, ScaleUpAnswer
from advisor.models.dough.water_and_ice import WaterPlan

_WAIT_SAID = 1.0
_CRUST_SAID = 0.15


def scale_up_blocks(answer: ScaleUpAnswer) -> Iterator[Block]:
    """The whole page."""
    count = sum(len(batch.numbers) for batch in answer.batches)
    right = f"{_many(answer.loaves, 'loaf', 'loaves')} in {_many(count, 'batch', 'batches')}"
    right += f" and {_many(len(answer.loads), 'oven load', 'oven loads')}"
    yield Row(left=(Emphasis(meaning="name", runs=(answer.name,)),), right=(right,))
    for batch in answer.batches:
        yield from _batch(batch, count)
    yield from _water(answer)
    yield from _oven(answer)
    yield from _waiting(answer)
    yield from _pans(answer)


def _many(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


def _batch(batch: Batch, count: int) -> Iterator[Block]:
    numbers = batch.numbers
    which = f"batch {numbers[0]}" if len(numbers) == 1 else f"batches {numbers[0]} to {numbers[-1]}"
    title = (
        "Weigh" if count == 1 else f"Weigh for {which}" if len(numbers) == 1 else f"Weigh for each of {which}"
    )
    yield Heading(text=title, ident=f"weigh-{numbers[0]}")
    rows: list[tuple[Runs, ...]] = []
    for line in batch.lines:
        grams: Runs = ("no weight given",) if line.grams is None else (_kilo(line.grams),)
        rows.append((("[ ]",), grams, (f"{line.name}{f' ({line.note})' if line.note else ''}",)))
    yield Table(caption=title, head=("", "", ""), rows=tuple(rows), figures=frozenset({1}))
    yield Paragraph(
        runs=(f"{_kilo(batch.dough_g)} of dough, {_many(batch.loaves, 'loaf', 'loaves')} of ",
              Quantity(value=batch.dough_g / batch.loaves, unit="g", decimals=0), ".")
    )  # fmt: skip


def _kilo(grams: float) -> str:
    if grams >= 1000:
        return f"{grams / 1000:.3f} kg"
    return f"{grams:.1f} g" if grams < 20 and grams != round(grams) else f"{grams:.0f} g"


def _water(answer: ScaleUpAnswer) -> Iterator[Block]:
    first = answer.batches[0].water
    yield Heading(text="Water and dough heat", ident="water")
    yield Paragraph(
        runs=("Wanted after mixing: a dough at ", _heat(first.wanted_c), f". Mixed {answer.mix_min:.0f} min by "
              f"{answer.mixer}, which warms it by about ", Quantity(value=first.rise_c, unit="C", difference=True), ".")
    )  # fmt: skip
    for batch in answer.batches:
        yield Item(label="-", runs=_how(batch.water))
    if first.way == "no_water":
        return
    yield Paragraph(
        runs=("The trade's sum (three times the wanted heat, less flour, room and three times the warming) says ",
              _heat(first.trade_sum_c), ". It takes flour, room and water for equal shares; with eggs, cheese or "
              "little water go by the balance above, and by your own thermometer after the first batch.")
    )  # fmt: skip


def _heat(celsius: float) -> Quantity:
    return Quantity(value=celsius, unit="C")


def _how(plan: WaterPlan) -> Runs:
    water = _kilo(plan.water_g)
    if plan.way == "no_water" or plan.needed_c is None:
        return ("No water in it: the dough takes the heat of what goes in.",)
    needed = _heat(plan.needed_c)
    match plan.way:
        case "tap":
            return (f"{water} of water as it comes from the tap, at ", needed, ".")
        case "warm":
            return (f"{water} of water at ", needed, ".")
        case "ice":
            return (
                f"{_kilo(plan.ice_g)} of crushed ice and {_kilo(plan.tap_g)} of tap water, in all {water}: as good as "
                "water at ", needed, ". Work the ice in whole; it is part of the water.",
            )  # fmt: skip
        case "too_warm":
            return (
                f"Even {water} of ice alone is too warm (water at ", needed, " would be needed): cool the flour and "
                "the rest too, or mix for a shorter time.",
            )  # fmt: skip
    return (
        "The water would have to be at ", needed, ", which harms yeast and sets egg: warm the flour and the rest "
        "instead.",
    )  # fmt: skip


def _oven(answer: ScaleUpAnswer) -> Iterator[Block]:
    yield Heading(text="Oven loads", ident="loads")
    rows = tuple(
        (
            (f"{load.number}",),
            (f"{load.loaves}",),
            (", ".join(map(str, load.batches)),),
            (_clock(load.in_min),),
            (_clock(load.out_min),),
            (Quantity(value=load.longest_wait_min, unit="min"),),
        )
        for load in answer.loads
    )
    yield Table(
        caption="Oven loads",
        head=("load", "loaves", "of batch", "in", "out", "has waited"),
        rows=rows,
        figures=frozenset({0, 1, 3, 4, 5}),
    )
    yield Paragraph(
        runs=("Hours and minutes from the start of the first mix; a mix starts every ",
              Quantity(value=answer.every_min, unit="min"), ". A full oven takes longer to come back to its heat: "
              "probe the first load.")
    )  # fmt: skip


def _clock(minutes: float) -> str:
    whole = round(minutes)
    return f"{whole // 60}:{whole % 60:02d}"


def _waiting(answer: ScaleUpAnswer) -> Iterator[Block]:
    yield Heading(text="Who waits, and what it does", ident="waiting")
    if answer.longest_wait_min < _WAIT_SAID:
        yield Paragraph(runs=("Nothing waits for the oven.",))
        return
    yield Paragraph(
        runs=("The longest wait past the proof is ", Quantity(value=answer.longest_wait_min, unit="min"),
              "; in the last load it is ", Quantity(value=answer.last_wait_min, unit="min"), ".")
    )  # fmt: skip
    for risk in answer.risks:
        shares = (Quantity(value=risk.before, unit="share"), " to ", Quantity(value=risk.after, unit="share"))
        name: Runs = (Emphasis(meaning="risk", runs=(risk.name,)),)
        yield Item(label="-", runs=(*name, ": ", *shares))
    if not answer.risks:
        yield Item(label="-", runs=("By the models that moves no risk so far that it is worth saying.",))
    if answer.measures:
        names = ", ".join(moved.name.lower() for moved in answer.measures)
        yield Item(label="-", runs=(f"Out of where it should be, or further out: {names}.",))
    if answer.better_wait_min < answer.longest_wait_min - _WAIT_SAID:
        yield Paragraph(
            runs=(f"Better: {_many(answer.better_batches, 'batch', 'batches')}, a mix every ",
                  Quantity(value=answer.better_every_min, unit="min"), ": then the longest wait is ",
                  Quantity(value=answer.better_wait_min, unit="min"), ".")
        )  # fmt: skip
    elif answer.better_wait_min >= 2 * _WAIT_SAID:
        yield Paragraph(runs=("More batches, or a cooler place for those that wait, shorten it.",))


def _pans(answer: ScaleUpAnswer) -> Iterator[Block]:
    if not answer.pans:
        return
    yield Heading(text="Pans that are sold, near its own", ident="pans")
    for pan in answer.pans:
        yield Item(label="-", runs=_pan(pan))


def _pan(pan: OtherPan) -> Runs:
    runs: Runs = (
        f"{pan.name}, ", Quantity(value=pan.length_cm, unit="cm"), " by ", Quantity(value=pan.width_cm, unit="cm"),
        " by ", Quantity(value=pan.height_cm, unit="cm"), f": {pan.factor:.2f} times the formula",
    )  # fmt: skip
    if pan.bake is None:
        return (*runs, "; how long it bakes is not known, probe it.")
    runs = (*runs, "; ", Quantity(value=round(pan.bake.now_min), unit="min"), " in the oven")
    was, now = pan.bake.crust_was, pan.bake.crust_now
    if was and now and abs(now / was - 1) > _CRUST_SAID:
        runs = (*runs, f", its crust {'darker' if now > was else 'paler'}")
    return (*runs, ".")
