"""A better formula as a page: how far the aim was reached, the path, the price, and the new card."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Paragraph, Quantity, Row, Runs, Table
from advisor.explanation.changes import ChangeWords
from advisor.explanation.designing.cards import card_blocks
from advisor.formula_design.aims import AIMS, Aim
from advisor.formula_design.improving import ImproveAnswer
from advisor.knowledge_base.knowledge import Knowledge


def improve_page(answer: ImproveAnswer, knowledge: Knowledge) -> tuple[Block, ...]:
    """The page of `advisor improve`."""
    return tuple(_blocks(answer, knowledge))


def _blocks(answer: ImproveAnswer, knowledge: Knowledge) -> Iterator[Block]:
    words, aim = ChangeWords(knowledge), answer.aim
    count = "one step" if len(answer.path) == 1 else f"{len(answer.path)} steps"
    yield Row(left=(Emphasis(meaning="name", runs=(answer.before.formula.name,)),), right=(count,))
    if not answer.path:
        yield Paragraph(runs=(f"No step that the fence allows makes it {_said(aim)}.",), meaning="verdict")
        return
    was, now = answer.reached
    yield Paragraph(
        runs=(f"{aim.says[:1].upper()}{aim.says[1:]}: {_value(aim, was)} to {_value(aim, now)}.",),
        meaning="verdict",
    )
    yield Heading(text="Step by step")
    for number, step in enumerate(answer.path, 1):
        gain = Paragraph(
            runs=(
                f"{aim.says}: {_value(aim, step.aim[0])} to {_value(aim, step.aim[1])}; largest risk ",
                Quantity(value=step.worst[0], unit="share"), " to ", Quantity(value=step.worst[1], unit="share"), ".",
            )
        )  # fmt: skip
        yield Item(
            label=f"{number}.", runs=(*words.in_short((step.change, *step.beside)), "."), under=(gain,)
        )
    yield from _price(answer, knowledge)
    yield Heading(text="The new formula")
    yield from card_blocks(answer.formula, words)
    verdict = (
        "Checked: nothing looks wrong." if answer.passes else "A check says no to it: look before you bake."
    )
    yield Paragraph(runs=(f"{verdict} To keep it: the same command with --apply > my-formula.txt.",))


def _price(answer: ImproveAnswer, knowledge: Knowledge) -> Iterator[Block]:
    yield Heading(text="The price")
    if not answer.price and not answer.risk:
        yield Paragraph(runs=("Nothing that is told here got worse.",))
        return
    for one in answer.price:
        aim = AIMS[one.what]
        yield Item(label="-", runs=(f"{aim.says}: {_value(aim, one.before)} to {_value(aim, one.after)}",))
    if answer.risk:
        risen = sorted(answer.risk.items(), key=lambda r: r[1][0] - r[1][1])
        most = int(knowledge.thresholds["risk_moves_shown"].value)
        rows: tuple[tuple[Runs, ...], ...] = tuple(
            (
                (knowledge.symptoms[name].name.lower(),),
                (Quantity(value=a, unit="share"),),
                (Quantity(value=b, unit="share"),),
            )
            for name, (a, b) in risen[:most]
        )
        yield Table(
            caption="Risks that rose", head=("", "before", "after"), rows=rows, figures=frozenset({1, 2})
        )


def _said(aim: Aim) -> str:
    return aim.id.replace("less-carbohydrate", "lower in carbohydrate").replace(
        "more-protein", "richer in protein"
    )


def _value(aim: Aim, value: float) -> str:
    return f"{value:.{aim.decimals}f} {aim.unit}".rstrip()
