"""The numbers on a page: the dough, the measures that matter or all of them, the oven, the time axis, slips."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.answer import Answer, Depth, Dough, SaidNumber, SaidSure, Slips, stands
from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Paragraph, Quantity, Row, Runs, Table
from advisor.explanation.wording import number_band, number_ends, number_value, with_article


def dough_runs(dough: Dough) -> Runs:
    """How much dough, in how many pieces."""
    pieces = f"{dough.pieces} {dough.piece}{'' if dough.pieces == 1 else 's'}"
    return (
        Quantity(value=round(dough.dough_g), unit="g"), f" of dough, {pieces} of ",
        Quantity(value=dough.piece_g, unit="g", decimals=0),
    )  # fmt: skip


def title_row(answer: Answer) -> Row:
    """The name, and beside it the dough."""
    return Row(left=(Emphasis(meaning="name", runs=(answer.name,)),), right=dough_runs(answer.dough))


def number_blocks(answer: Answer, depth: Depth, ask: str) -> Iterator[Block]:
    """The dough in two sentences, then the numbers; with everything also what each means and the time axis."""
    yield Heading(text="The dough and its numbers", ident="numbers")
    yield from dough_blocks(answer.dough)
    shown = [number for number in answer.numbers if stands(number.shown, depth)]
    if shown:
        yield number_table(shown)
    hidden = len(answer.numbers) - len(shown)
    if hidden:
        good = sum(not number.out for number in answer.numbers if not stands(number.shown, depth))
        others = f"The other {hidden}" if shown else f"All {hidden} numbers"
        out = hidden - good
        lie = "" if not out else f", but for {out} outside {'its' if out == 1 else 'their'} range"
        yield Paragraph(runs=(f"{others} lie where they should{lie}: see them {ask}.",))
    if depth == "full":
        meanings = tuple(
            Item(label="-", runs=(Emphasis(meaning="name", runs=(_upper(n.name),)), ": ", *n.meaning))
            for n in shown
        )
        yield Item(label="", runs=("What the numbers mean:",), under=meanings, folded=True)
    if answer.oven:
        yield Heading(text="Oven", ident="oven")
        yield from (Paragraph(runs=text) for text in answer.oven)
    if depth == "full" and answer.timeline is not None:
        yield Heading(text="Gas against set", ident="time")
        yield answer.timeline


def dough_blocks(dough: Dough) -> Iterator[Block]:
    """What holds the loaf, and what a slice of it has."""
    close = "".join(f", close to {with_article(name)}" for name in dough.close_to)
    yield Paragraph(runs=(f"This is {with_article(dough.held_by)}{close}.",))
    if dough.net_carb_g is not None and dough.energy_kcal is not None:
        yield Paragraph(
            runs=(
                f"A {dough.piece}: ", Quantity(value=dough.net_carb_g, unit="g", decimals=1),
                f" net carbohydrate (a convention, no regulated term), {dough.energy_kcal:.0f} kcal.",
            )
        )  # fmt: skip
    if dough.cost:
        yield Paragraph(runs=(dough.cost,))


def number_table(numbers: list[SaidNumber]) -> Table:
    """Measures with their bands and where they lie, in words that need no colour."""
    sure = any(number.ends for number in numbers)
    return Table(
        caption="Measures and where they should lie",
        head=("measure", "here", *(("8 in 10",) if sure else ()), "good", "so it is"),
        rows=tuple(
            (
                (number.name,),
                number_value(number),
                *((number_ends(number),) if sure else ()),
                number_band(number),
                (Emphasis(meaning="risk", runs=(number.state,)) if number.out else number.state,),
            )
            for number in numbers
        ),
        figures=frozenset({1}),
    )


def sure_blocks(said: tuple[SaidSure, ...]) -> Iterator[Block]:
    """How far kitchens and figures that are a little otherwise come to the same verdict."""
    yield Heading(text="How sure this is", ident="sure")
    yield Paragraph(
        runs=(
            "The same formula, with every figure of the models, the scale, the spoon and the oven's dial a little "
            'otherwise each time. "8 in 10" in the table is where a number then lies in 8 of 10 draws. '
            "What is said of the largest risks holds:",
        )
    )
    for one in said:
        verdict = "at risk" if one.over else "not at risk"
        tenths = round(10 * one.agree)
        yield Item(label="-", runs=(f"{one.name}, {verdict}: in {tenths} of 10 draws",))


def slips_blocks(slips: Slips) -> Iterator[Block]:
    """Each line weighed a little off, and what rises."""
    share = Quantity(value=slips.share, unit="share")
    yield Heading(text="If the scales are off", ident="slips")
    if not slips.worst:
        yield Paragraph(
            runs=(
                "No line weighed ",
                share,
                " off moves a risk so far that it is worth saying.",
            )
        )
        return
    yield Paragraph(runs=("Each line weighed ", share, " off, the worse way; those that matter most:"))
    for slip in slips.worst:
        leaves = "".join(f"; {name} leaves its band" for name in slip.leaves[:1])
        off = Quantity(value=abs(slip.off_g), unit="g", difference=True)
        runs: Runs = (
            f"{slip.what} {'+' if slip.off_g > 0 else '-'}", off, f": {slip.risk.name.lower()} ",
            Quantity(value=slip.risk.before, unit="share"), " to ",
            Quantity(value=slip.risk.after or 0.0, unit="share"), leaves,
        )  # fmt: skip
        yield Item(label="-", runs=runs)


def _upper(name: str) -> str:
    return name[:1].upper() + name[1:]
