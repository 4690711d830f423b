"""A better formula as a page: how far the aim was reached, the path, the price, and the new card."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Paragraph, Quantity, Row, Runs, Table
from advisor.explanation.changes import ChangeWords, joined
from advisor.explanation.designing.cards import card_blocks
from advisor.explanation.wording import percent
from advisor.formula_design.aims import AIMS, Aim
from advisor.formula_design.improving import ImproveAnswer
from advisor.knowledge_base.knowledge import Knowledge

_RISEN_IN_SHORT = 3
"""Risks that rose most, where an aim is told in short."""


def improve_page(answer: ImproveAnswer, knowledge: Knowledge, *, typed: bool = True) -> tuple[Block, ...]:
    """The page of `advisor improve`; `typed`: with what to type next."""
    return tuple(_blocks(answer, knowledge, typed))


def _blocks(answer: ImproveAnswer, knowledge: Knowledge, typed: bool) -> Iterator[Block]:
    words, aim = ChangeWords(knowledge), answer.aim
    count = "one step" if len(answer.path) == 1 else f"{len(answer.path)} steps"
    yield Row(left=(Emphasis(meaning="name", runs=(answer.before.formula.name,)),), right=(count,))
    if not answer.path:
        yield Paragraph(runs=(f"No step that the fence allows makes it {aim_said(aim)}.",), meaning="verdict")
        return
    was, now = answer.reached
    yield Paragraph(
        runs=(f"{aim.says[:1].upper()}{aim.says[1:]}: {_value(aim, was)} to {_value(aim, now)}.",),
        meaning="verdict",
    )
    yield Heading(text="Step by step")
    for number, step in enumerate(answer.path, 1):
        gain = Paragraph(runs=(_from_to(aim, step.aim), *_risk(step.worst), "."))
        yield Item(
            label=f"{number}.", runs=(*words.in_short((step.change, *step.beside)), "."), under=(gain,)
        )
    yield from _price(answer, knowledge)
    yield Heading(text="The new formula", ident="new-formula")
    yield from card_blocks(answer.formula, words)
    verdict = (
        "Checked: nothing looks wrong." if answer.passes else "A check says no to it: look before you bake."
    )
    to_keep = " To keep it: the same command with --apply > my-formula.txt." if typed else ""
    yield Paragraph(runs=(f"{verdict}{to_keep}",))


def improve_item(answer: ImproveAnswer, knowledge: Knowledge) -> Item:
    """One aim in short: what it can come to, by which steps, and what gets worse."""
    aim, words = answer.aim, ChangeWords(knowledge)
    said = aim_said(aim).capitalize()
    if not answer.path:
        return Item(label="-", runs=(f"{said}: no step was found.",))
    steps = joined(tuple(words.in_short((s.change, *s.beside)) for s in answer.path), "; ")
    under = [Paragraph(runs=("Steps: ", *steps, "."))]
    worse = [_from_to(AIMS[one.what], (one.before, one.after)) for one in answer.price]
    risen = sorted(answer.risk.items(), key=lambda r: r[1][0] - r[1][1])[:_RISEN_IN_SHORT]
    worse += [f"{knowledge.symptoms[n].name.lower()} {percent(a)} to {percent(b)}" for n, (a, b) in risen]
    if worse:
        under.append(Paragraph(runs=(f"It costs: {'; '.join(worse)}.",)))
    return Item(
        label="-",
        runs=(f"{said}: {_from_to(aim, answer.reached)}.",),
        under=tuple(under),
    )


def _from_to(aim: Aim, two: tuple[float, float]) -> str:
    """What a step moves, with as many digits as it takes to see that it does."""
    more = next((n for n in range(3) if _value(aim, two[0], n) != _value(aim, two[1], n)), 0)
    return f"{aim.says}: {_value(aim, two[0], more)} to {_value(aim, two[1], more)}"


def _risk(worst: tuple[float, float]) -> Runs:
    before, after = (Quantity(value=share, unit="share") for share in worst)
    return ("; largest risk ", before, " to ", after) if percent(worst[0]) != percent(worst[1]) else ()


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


def aim_said(aim: Aim) -> str:
    """What a formula is made, in words."""
    return aim.id.replace("less-carbohydrate", "lower in carbohydrate").replace(
        "more-protein", "richer in protein"
    )


def _value(aim: Aim, value: float, more: int = 0) -> str:
    return f"{value:.{aim.decimals + more}f} {aim.unit}".rstrip()
