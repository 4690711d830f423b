"""The page of an answer as blocks, in the order in which a baker needs it, at one of three depths."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TypeAlias

from advisor.explanation.answer import Answer, Depth, SaidCause, SaidChange, SaidRisk, stands
from advisor.explanation.bake_kind import bake_line
from advisor.explanation.blocks import (
    Block,
    Chain,
    Emphasis,
    Heading,
    Item,
    Page,
    Paragraph,
    Quantity,
    Row,
    Runs,
)
from advisor.explanation.changes import capital, joined
from advisor.explanation.page_numbers import dough_runs, number_blocks, slips_blocks, sure_blocks, title_row
from advisor.explanation.wording import LIMITS, first_sentence

Proofs: TypeAlias = Mapping[str, Item]
"""Cause to its proof, to be opened under it."""
ASK = "with --all"
"""How everything is asked for on a page of a command."""
MORE: dict[Depth, str] = {
    "brief": "More: leave out --brief. All numbers and the time axis: --all.",
    "usual": "More below. All numbers and the time axis: --all.",
    "full": "",
}
"""Where more is, on a page of a command."""
_BESIDES = 3  # causes that are only named; of more the number is told


def page_of(answer: Answer, depth: Depth = "usual", *, more: str | None = None, ask: str = ASK) -> Page:
    """The whole page; `more` says where more is, and `ask` how to ask for everything, where it is no command."""
    said = MORE[depth] if more is None else more
    out: list[Block] = [title_row(answer), *bake_line(answer.bake, depth), *first_part(answer, depth, {})]
    if said:
        out.append(Row(left=(said,), right=()))
    if depth == "brief":
        return tuple(out)
    return (*out, *rest_of(answer, depth, ask=ask))


def document_of(answer: Answer, depth: Depth = "usual") -> Page:
    """The page as a text of its own to keep or to send, with a title and without what a terminal needs."""
    title = Heading(text=answer.name, level=1)
    first = (title, Paragraph(runs=dough_runs(answer.dough)), *first_part(answer, depth, {}))
    return first if depth == "brief" else (*first, *rest_of(answer, depth))


def first_part(answer: Answer, depth: Depth, proofs: Proofs) -> Iterator[Block]:
    """The verdict, the first cause with its reason, the first change with what it does: what fits a screen."""
    if decides := [q for q in answer.asked if q.first]:
        runs = [run for q in decides for run in (" ", *q.asks, " ", *q.took)]
        yield Paragraph(runs=tuple(runs[1:]))
    first = (" ", *answer.verdict.first) if answer.verdict.first else ()
    yield Paragraph(runs=(*answer.verdict.problem, *first), meaning="verdict")
    wrong = answer.verdict.wrong
    if answer.causes:
        yield Heading(text="Why" if wrong else "What comes nearest to a fault", ident="why")
        yield cause_item(answer.causes[0], 1, depth, proofs, baked=answer.kind == "diagnosis")
    if answer.changes:
        by_hand = answer.by_hand is not None and answer.by_hand.leads
        first_of = "If it was made as written, change first" if by_hand else "Change first"
        yield Heading(text=first_of if wrong else "What would help a little", ident="change")
        yield change_item(answer.changes[0], depth)


def report_first(answer: Answer, proofs: Proofs) -> Iterator[Block]:
    """The first part with a heading of its own, and with the proof of the first cause."""
    yield Heading(text=answer.name, level=1)
    what = "before the bake" if answer.kind == "check" else "after the bake"
    yield Paragraph(runs=(f"Looked at {what}: ", *dough_runs(answer.dough), "."))
    if answer.seen:
        yield Paragraph(runs=(f"The loaf showed: {', '.join(answer.seen)}.",))
    yield from first_part(answer, "full", proofs)


def rest_of(answer: Answer, depth: Depth, proofs: Proofs | None = None, *, ask: str = ASK) -> Iterator[Block]:
    """Everything after the first part, in the order in which it matters."""
    yield from _asked(answer)
    yield from _by_hand(answer)
    yield from _other_causes(answer, depth, proofs or {})
    yield from _other_changes(answer, depth, ask)
    yield from _together(answer, depth)
    yield from rescue_blocks(answer)
    yield from caution_blocks(answer, depth, ask)
    if answer.reminders:
        when = "Before you bake" if answer.kind == "check" else "When you bake it again"
        yield Heading(text=when, ident="reminders")
        yield from (Item(label="-", runs=text) for text in answer.reminders)
    yield from number_blocks(answer, depth, ask)
    if answer.sure and depth == "full":
        yield from sure_blocks(answer.sure)
    if answer.slips is not None:
        yield from slips_blocks(answer.slips)
    yield from assumed_blocks(answer)
    yield Row(left=(LIMITS,), right=())


def _asked(answer: Answer) -> Iterator[Block]:
    if others := [q for q in answer.asked if not q.first]:
        yield Heading(text="Tell me this, and the answer gets surer", ident="asked")
        yield from (Item(label="-", runs=(*q.asks, " ", *q.took)) for q in others)


def _by_hand(answer: Answer) -> Iterator[Block]:
    if answer.by_hand is not None and answer.by_hand.slips:
        yield Heading(text="Was it made as written?", ident="by-hand")
        for slip in answer.by_hand.slips:
            brings = Paragraph(runs=(f"You would then see: {', '.join(slip.brings)}.",))
            runs: Runs = ("Perhaps ", *slip.says, f" ({slip.likelihood}). ", *slip.asks)
            yield Item(label="-", runs=runs, under=(brings,))


def cause_item(cause: SaidCause, place: int, depth: Depth, proofs: Proofs, *, baked: bool) -> Item:
    """One cause: its chance, what it means, what speaks for it and against it, and how it leads to the fault.

    On the first screen a cause that this formula speaks for is explained in one sentence.
    """
    chance: Runs = (", ", Quantity(value=cause.probability, unit="share")) if depth == "full" else ()
    name = Emphasis(meaning="name", runs=(cause.name,))
    under: list[Block] = []
    speaks = cause.speaks_for if depth == "full" else cause.speaks_for[:1]
    under += (Paragraph(runs=text) for text in speaks)
    if depth == "full" or (baked and depth != "brief"):
        against = cause.against if depth == "full" else cause.against[:1]
        under += (Paragraph(runs=("Against it: ", *text)) for text in against)
        under += _loaf_says(cause, depth)
    chains = cause.chains if depth == "full" else cause.chains[:1]
    under += (Chain(steps=steps) for steps in chains)
    if cause.id in proofs:
        under.append(proofs[cause.id])
    says = first_sentence(cause.says) if place == 1 and depth != "full" and speaks else cause.says
    runs: Runs = (name, f" ({cause.likelihood}", *chance, "). ", *says)
    return Item(label=f"{place}.", runs=runs, under=tuple(under))


def _loaf_says(cause: SaidCause, depth: Depth) -> Iterator[Block]:
    if cause.unexplained:
        yield Paragraph(runs=(f"It does not explain: {', '.join(cause.unexplained)}.",))
    if cause.would_bring and depth == "full":
        yield Paragraph(runs=(f"It would also bring, and you did not see: {', '.join(cause.would_bring)}.",))


def _other_causes(answer: Answer, depth: Depth, proofs: Proofs) -> Iterator[Block]:
    others = list(enumerate(answer.causes, 1))[1:]
    if not others:
        return
    yield Heading(text="Other causes", ident="causes")
    shown = [(place, cause) for place, cause in others if stands(cause.shown, depth)]
    baked = answer.kind == "diagnosis"
    yield from (cause_item(cause, place, depth, proofs, baked=baked) for place, cause in shown)
    rest = [cause for _, cause in others if not stands(cause.shown, depth)]
    if rest:
        named = [f"{c.name.lower()} ({c.likelihood})" for c in rest[:_BESIDES]]
        named += [f"{len(rest) - _BESIDES} less likely"] if len(rest) > _BESIDES else []
        yield Paragraph(runs=(f"Also thought of: {', '.join(named)}.",))


def change_item(change: SaidChange, depth: Depth) -> Item:
    """One change under its number: what to do, why, what it does to the risks, and what else it brings."""
    under: list[Block] = [Paragraph(runs=change.because)]
    under += moves(change.falls, change.rises, depth)
    if depth == "full" and change.reaches:
        under.append(Paragraph(runs=change.reaches))
    if change.beside and depth != "brief":
        under.append(Paragraph(runs=("What else changes: ", *joined(change.beside), ".")))
    # One change says by itself what it is; several need a name for what they are together.
    named = len(change.what) > 1
    what = Emphasis(meaning="change", runs=joined(change.what if named else (capital(change.what[0]),)))
    runs: Runs = (f"{change.says}: ", what, ".") if named else (what, ".")
    return Item(label=f"{change.number}.", runs=runs, under=tuple(under), key=f"change {change.number}")


def moves(falls: tuple[SaidRisk, ...], rises: tuple[SaidRisk, ...], depth: Depth) -> Iterator[Block]:
    """Which risks fall and which rise, the most important ones."""
    said = _from_to if depth == "full" else _in_words
    down, up = (tuple(risk for risk in risks if stands(risk.shown, depth)) for risks in (falls, rises))
    if down:
        yield Paragraph(runs=("Risk: ", *said(down), "."))
    if up:
        yield Paragraph(runs=(Emphasis(meaning="risk", runs=("Rises: ", *said(up), ".")),))


def _from_to(risks: Iterable[SaidRisk]) -> Runs:
    said = (
        (
            f"{risk.name.lower()} ",
            Quantity(value=risk.before, unit="share"),
            " to ",
            Quantity(value=risk.after or 0.0, unit="share"),
        )
        for risk in risks
    )
    return joined(tuple(said), ", ")


def _in_words(risks: Iterable[SaidRisk]) -> Runs:
    """Risks in words: no probability is calibrated on cases made by others, so a page gives no per cent."""
    alike: dict[str, list[str]] = {}
    for risk in risks:
        little = "a little less" if (risk.after or 0.0) < risk.before else "a little more"
        moved = f"then {risk.word_after}" if risk.word != risk.word_after else f"{little} so"
        alike.setdefault(f"{risk.word}, {moved}", []).append(risk.name.lower())
    return joined(tuple((f"{' and '.join(names)} ({moved})",) for moved, names in alike.items()), ", ")


def _other_changes(answer: Answer, depth: Depth, ask: str) -> Iterator[Block]:
    others = answer.changes[1:]
    if others:
        yield Heading(text="Other changes, one at a time", ident="changes")
        yield from (change_item(change, depth) for change in others if stands(change.shown, depth))
        if hidden := sum(not stands(change.shown, depth) for change in others):
            yield Paragraph(runs=(f"{hidden} more {ask}.",))
    if answer.look_for:
        yield Heading(text="What to look for next time", ident="look-for")
        yield from (Item(label="-", runs=text) for text in answer.look_for)
        yield Paragraph(runs=("If that stays as it was, it was another cause: come back and say so.",))
    if (first := answer.bake_first) is not None:
        yield Heading(text="Not sure of the cause?", ident="bake-first")
        yield Paragraph(
            runs=(
                f"To tell the causes apart, bake change {first.number} and look at that loaf for: ",
                f"{first.symptom.lower()}. ",
                *first.look,
            )
        )
        for outcome in first.outcomes:
            goes = "it most likely goes" if outcome.goes else "it most likely stays"
            yield Item(label="-", runs=(f"If the cause is {_lower(outcome.cause)}, {goes}.",))


def _lower(name: str) -> str:
    return name[:1].lower() + name[1:]


def _together(answer: Answer, depth: Depth) -> Iterator[Block]:
    plan = answer.together
    if plan is None or depth != "full":
        return
    yield Heading(text="Several amounts at once", ident="together")
    yield Paragraph(runs=("The smallest changes that together bring the dough where it should be:",))
    yield from (Item(label="-", runs=what) for what in plan.what)
    yield from moves(plan.falls, plan.rises, depth)
    before, after = (Quantity(value=value, unit="g", decimals=1) for value in plan.net_carb_g)
    yield Paragraph(runs=("Net carbohydrate a slice: ", before, " to ", after, "."))
    if plan.unmet:
        yield Paragraph(runs=(f"Still outside: {', '.join(plan.unmet)}.",))
    if plan.relaxed:
        yield Paragraph(runs=(f"To reach all of them, give up this limit: {' and '.join(plan.relaxed)}.",))


def rescue_blocks(answer: Answer) -> Iterator[Block]:
    """What to do with the loaf that stands on the table, or with the dough that is mixed already."""
    if not answer.rescues:
        return
    yield Heading(
        text="This loaf" if answer.kind == "diagnosis" else "If this dough is mixed already", ident="rescue"
    )
    for rescue in answer.rescues:
        under = (
            (Paragraph(runs=(Emphasis(meaning="caution", runs=rescue.caution),)),) if rescue.caution else ()
        )
        yield Item(label="-", runs=(*rescue.says, " ", *rescue.because), under=under)


def caution_blocks(answer: Answer, depth: Depth, ask: str) -> Iterator[Block]:
    """Allergens by name, then what this formula earns: in short, or in full with who decides."""
    if not (answer.allergens or answer.cautions):
        return
    yield Heading(text="Cautions", ident="cautions")
    if answer.allergens:
        held = ", ".join(answer.allergens)
        said: Runs = (f"Contains {held}: tell whoever eats it.",)
        yield Item(label="-", runs=(Emphasis(meaning="caution", runs=said),))
    for caution in answer.cautions:
        if depth == "full":
            decides = (f" (Decided by: {caution.decides}.)",) if caution.decides else ()
            yield Item(label="-", runs=(*caution.text, *decides))
        elif not (answer.allergens and caution.id == "allergens_present"):
            yield Item(label="-", runs=caution.short)
    if depth != "full" and answer.cautions:
        yield Paragraph(runs=(f"The full text of these: {ask}. Local rules and qualified people decide.",))


def assumed_blocks(answer: Answer) -> Iterator[Block]:
    """What was assumed, and what was not read or is amiss with what was told."""
    if answer.not_read:
        yield Heading(text="Not read, or doubtful", ident="not-read")
        yield from (Item(label="-", runs=text) for text in answer.not_read)
    if answer.assumed:
        yield Heading(text="Assumed", ident="assumed")
        yield from (Item(label="-", runs=text) for text in answer.assumed)
