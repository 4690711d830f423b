"""How far each line may go as a page: what matters most first, then the narrowest lines, then tools that are off."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from advisor.explanation.blocks import (
    Block,
    Emphasis,
    Figure,
    Heading,
    Item,
    Paragraph,
    Quantity,
    Row,
    Runs,
    Table,
    Unit,
)
from advisor.explanation.changes import joined
from advisor.formula_design.one_moved import Reach, Slip, Tolerance, Tool
from advisor.formula_design.tolerance import ToleranceAnswer
from advisor.knowledge_base.knowledge import Knowledge

_LITTLE_G = 12
"""Below this a tenth of a gram is told."""
_UNITS: dict[str, Unit] = {"g": "g", "C": "C", "min": "min"}


def tolerance_page(answer: ToleranceAnswer, knowledge: Knowledge) -> tuple[Block, ...]:
    """The page of `advisor tolerance`."""
    return tuple(_blocks(answer, knowledge))


def _blocks(answer: ToleranceAnswer, knowledge: Knowledge) -> Iterator[Block]:
    bound = [t for t in answer.lines if _found(t)]
    free = [t for t in answer.lines if not _found(t)]
    yield Row(left=(Emphasis(meaning="name", runs=(answer.formula.name,)),), right=("how far it may go",))
    yield Paragraph(runs=_verdict(answer, bound), meaning="verdict")
    yield Heading(text="The errors that matter most")
    for number, slip in enumerate(answer.matter_most, 1):
        yield Item(label=f"{number}.", runs=_slip_runs(slip, knowledge))
    yield Heading(text="How much room each has, the tightest first")
    rows = tuple(_row(t, knowledge) for t in bound)
    if rows:
        yield Paragraph(runs=("None up to a number: as far as that nothing was found to go wrong.",))
        yield Table(
            caption="How far each may go", head=("", "now", "down to", "up to", "what comes first"), rows=rows,
            figures=frozenset({1, 2, 3}),
        )  # fmt: skip
    if free:
        names = ", ".join(t.what for t in free)
        yield Paragraph(
            runs=(f"No risk reaches the limit from none (or little) to twice as much, taste aside: {names}.",)
        )
    yield Figure(id="tolerance", caption="How far each line may go, in per cent of what it is")
    yield Heading(text="Scales, spoons and the oven")
    yield from (Item(label="-", runs=_tool_runs(tool, knowledge)) for tool in answer.tools)
    yield Paragraph(
        runs=("Each was moved alone. Change one thing at a time, and stay well inside these limits.",)
    )


def _verdict(answer: ToleranceAnswer, bound: list[Tolerance]) -> Runs:
    limit = Quantity(value=answer.limit, unit="share")
    first: Runs = (
        ("It is at its limit already. This shows how far each may move, alone, up to a risk of ", limit, ". ")
        if answer.lifted
        else ("This shows how far each may move, the rest unchanged, before a risk reaches ", limit, ". ")
    )
    if not bound:
        return (*first, "Nothing that was looked at brings it there.")
    return (*first, f"The tightest: {', '.join(t.what for t in bound[:3])}.")


def _found(t: Tolerance) -> bool:
    return t.down.lost is not None or t.up.lost is not None


def _row(t: Tolerance, knowledge: Knowledge) -> tuple[Runs, ...]:
    return ((t.what,), (_quantity(t.now, t),), _end(t.down, t), _end(t.up, t), (_first(t, knowledge),))


def _end(reach: Reach, t: Tolerance) -> Runs:
    """The furthest that is still good, rounded towards what it is now: what is printed is good as well."""
    if reach.lost is None:
        return (f"none {'down' if reach.kept < t.now else 'up'} to ", _quantity(reach.kept, t))
    scale = 10 ** _decimals(t)
    inward = ceil(reach.kept * scale - 1e-6) if reach.kept < t.now else floor(reach.kept * scale + 1e-6)
    return (_quantity(inward / scale, t),)


def _first(t: Tolerance, knowledge: Knowledge) -> str:
    said = [
        f"{word}: {knowledge.symptoms[r.symptom].name.lower() if r.symptom else r.why}"
        for word, r in (("less", t.down), ("more", t.up))
        if r.lost is not None
    ]
    return "; ".join(said)


def _quantity(value: float, t: Tolerance) -> Quantity:
    return Quantity(value=round(value, _decimals(t)), unit=_UNITS[t.unit], decimals=_decimals(t))


def _decimals(t: Tolerance) -> int:
    return 1 if t.unit == "g" and t.now < _LITTLE_G else 0


def _slip_runs(slip: Slip, knowledge: Knowledge) -> Runs:
    off = Quantity(
        value=abs(slip.off), unit=_UNITS[slip.unit], difference=True,
        decimals=1 if slip.unit == "g" and abs(slip.off) < 5 else 0,
    )  # fmt: skip
    words = {"C": ("hotter", "cooler"), "min": ("longer", "shorter")}.get(slip.unit, ("more", "less"))
    risk: Runs = (
        Quantity(value=slip.risk[0], unit="share"),
        " to ",
        Quantity(value=slip.risk[1], unit="share"),
    )
    over = "; a check would then say no" if slip.over else ""
    name = knowledge.symptoms[slip.symptom].name.lower()
    return (f"{slip.what} ", off, f" {words[0] if slip.off > 0 else words[1]}: {name} ", *risk, over, ".")


def _tool_runs(tool: Tool, knowledge: Knowledge) -> Runs:
    says: Runs = (f"{tool.says[:1].upper()}{tool.says[1:]}. ",)
    if tool.worst is None:
        return (*says, "Nothing here is measured with it.")
    if tool.worst.rise < knowledge.thresholds["risk_move_said"].value:
        return (*says, "It does not matter here.")
    return joined((says, ("The worst: ", *_slip_runs(tool.worst, knowledge))), "")
