"""The first words of an answer: what is wrong or that nothing is, how sure that is, and what to change first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from advisor.explanation.answer import ByHand, SaidCause, SaidChange, SaidNumber, SaidRisk, Verdict
from advisor.explanation.blocks import Emphasis, Runs
from advisor.explanation.changes import joined
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import number_band, number_value


def verdict_of(
    kind: Literal["check", "diagnosis"],
    *,
    causes: Sequence[SaidCause],
    limits: Thresholds,
    risks: Sequence[SaidRisk] = (),
    over: Sequence[SaidRisk] = (),
    changes: Sequence[SaidChange] = (),
    numbers: Sequence[SaidNumber] = (),
    broken: Sequence[Runs] = (),
    gaps: Sequence[Runs] = (),
    decides: bool = True,
    by_hand: ByHand | None = None,
) -> Verdict:
    """Say it; `risks` are all faults by falling risk, `over` those at or above the limit.

    `decides`: whether there can be no all-clear with what could not be judged (`gaps`).
    """
    far = [number for number in numbers if number.far]
    problem = (
        _baked(causes, limits, by_hand)
        if kind == "diagnosis"
        else _unbaked(risks, over, causes, far, limits, unclear=bool(gaps), broken=bool(broken))
    )
    if far:
        problem = (*problem, " ", *_far_out(far, 1 if over else 2))
    if broken:
        told = joined(tuple(broken), " ")
        problem = (Emphasis(meaning="risk", runs=told), " ", *problem)
    if gaps:
        problem = (Emphasis(meaning="risk", runs=joined(tuple(gaps), " ")), " ", *problem)
    wrong = kind == "diagnosis" or bool(over or far or broken or (gaps and decides))
    if kind == "diagnosis" and by_hand is not None and by_hand.leads:
        return Verdict(wrong=True, problem=problem, first=("Settle that before you change the formula.",))
    # What only passes a limit has no fault that a change could mend.
    mend = kind == "diagnosis" or bool(over or far or changes)
    return Verdict(wrong=wrong, problem=problem, first=_first(changes) if wrong and mend else ())


def _unbaked(
    risks: Sequence[SaidRisk],
    over: Sequence[SaidRisk],
    causes: Sequence[SaidCause],
    far: Sequence[SaidNumber],
    limits: Thresholds,
    *,
    unclear: bool,
    broken: bool,
) -> Runs:
    if over:
        named = joined(tuple(_risk(risk) for risk in over[: limits.risks_named]), ", ")
        rest = len(over) - limits.risks_named
        more = f" and {rest} more" if rest > 0 else ""
        said: Runs = (Emphasis(meaning="risk", runs=("Watch out for: ", *named, f"{more}.")),)
        return (*said, " The most likely reason: ", *_cause(causes[0]), ".") if causes else said
    largest = risks[0]
    if far:
        return ("No single fault is likely, but not all of it is right: see what is far out.",)
    if unclear:
        return ("What can be judged looks right.",)
    said = (
        f"Nothing {'else ' if broken else ''}looks wrong. The largest risk is small: ",
        *_risk(largest),
        ".",
    )
    return (*said, " What comes nearest to a fault: ", *_cause(causes[0]), ".") if causes else said


def _baked(causes: Sequence[SaidCause], limits: Thresholds, by_hand: ByHand | None) -> Runs:
    if by_hand is not None and by_hand.leads:
        look = joined(tuple(slip.says for slip in by_hand.slips), "; or ")
        said: Runs = (
            "Nothing in the formula as written explains this well. Look first at how it was made: ",
        )
        return (Emphasis(meaning="verdict", runs=said), "perhaps ", *look, ".")
    if not causes:
        return ("No cause that is known here fits what was told.",)
    first, what = causes[0], "It"
    if first.probability < limits.cause_stands_out:
        said = ("No cause stands out. What comes nearest: ", *_cause(first), ".")
    else:
        # Of two faults the dough is mended before the oven, so that the first need not be the surest.
        surer = next(
            (c for c in causes[1:] if c.probability > first.probability and c.likelihood != first.likelihood),
            None,
        )
        begins = "Put right first: " if surer else "Most likely: "
        said = (Emphasis(meaning="verdict", runs=(begins, *_cause(first), ".")),)
        if surer is not None:
            said, what = (*said, " Also at work: ", *_cause(surer), "."), "The first"
    if first.explains:
        return (*said, f" {what} explains: {_listed(first.explains)}.")
    if (other := next((cause for cause in causes if cause.explains), None)) is None:
        return said
    return (*said, f" {what} does not explain what you saw; this does: ", *_cause(other), ".")


def _far_out(far: Sequence[SaidNumber], most: int) -> Runs:
    """The numbers furthest out, each with what it means where it is a bare ratio."""
    said: list[Runs] = []
    for n in far[:most]:
        comma, words = (", ", f" {n.in_words}") if n.in_words else (" ", "")
        said.append(
            (
                f"{n.state[:1].upper()}{n.state[1:]}: {n.name}{comma}",
                *number_value(n),
                f"{words} (good: ",
                *number_band(n),
                ")",
            )
        )
    more = len(far) - most
    said_of = "number is" if more == 1 else "numbers are"
    return (*joined(tuple(said), ". "), f", and {more} more {said_of} far out." if more > 0 else ".")


def _first(changes: Sequence[SaidChange]) -> Runs:
    if not changes:
        return ("No single change was found that helps more than it harms.",)
    return ("Change first: ", Emphasis(meaning="change", runs=changes[0].in_short), ".")


def _risk(risk: SaidRisk) -> Runs:
    return (f"{risk.name.lower()} ({risk.word})",)


def _cause(cause: SaidCause) -> Runs:
    return (f"{cause.name[:1].lower()}{cause.name[1:]} ({cause.likelihood})",)


def _listed(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
