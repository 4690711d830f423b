"""What a scale, a spoon or an oven that is off does, and which three errors of a usual kitchen matter most."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.diagnosis.pipeline import Examination
from advisor.formula_design.one_moved import At, Looker, Slip, Tolerance, Tool, at_field, at_grams

_TRIED = 2
"""Lines of which the worst a scale can do is looked at: those with the least room for its error."""


def tools_off(looker: Looker, lines: Sequence[Tolerance]) -> tuple[Tool, ...]:
    """What scales of 1 g and of 5 g, a spoon in place of a scale, and an oven that runs hot or cool do."""
    c = looker.knowledge.coefficient
    spoon, small, oven = c("tolerance_spoon_share"), c("tolerance_spoon_up_to_g"), c("tolerance_oven_off_c")
    weighed = [t for t in lines if not t.field and t.each_g is None]
    return (
        _scale(looker, weighed, 1.0),
        _scale(looker, weighed, 5.0),
        _of_lines(
            looker, "spoons", f"a spoon, not a scale, for what is less than {small:g} g: {100 * spoon:.0f} % off",
            [(t, spoon * t.now) for t in weighed if t.now < small],
        ),
        _oven(looker, oven),
    )  # fmt: skip


def _scale(looker: Looker, weighed: Sequence[Tolerance], step: float) -> Tool:
    """A scale shows the nearest of its steps: what it shows is off by half of one at the most."""
    says = f"a scale that shows every {step:g} g: half of that off"
    return _of_lines(looker, f"scale_{step:g}_g", says, [(t, step / 2) for t in weighed])


def _of_lines(looker: Looker, name: str, says: str, errors: Sequence[tuple[Tolerance, float]]) -> Tool:
    places = {x.ingredient.name: n for n, x in enumerate(looker.formula.lines)}
    tight = sorted(errors, key=lambda one: -one[1] / max(one[0].room * one[0].now, 1e-9))
    tried = [
        slip
        for one, error in tight[:_TRIED]
        if one.what in places
        for slip in _both_ways(
            looker, one.what, "g", one.now, min(error, 0.9 * one.now), at_grams(looker.formula, places[one.what]),
            f"line {places[one.what]}",
        )
    ]  # fmt: skip
    over = tuple(dict.fromkeys(slip.what for slip in tried if slip.over))
    return Tool(name=name, says=says, worst=max(tried, key=lambda s: s.rise, default=None), over=over)


def _oven(looker: Looker, off_c: float) -> Tool:
    now = looker.formula.process.oven_offset_c or 0.0
    slips = (
        list(
            _both_ways(looker, "oven", "C", now, off_c, at_field(looker.formula, "oven_offset_c"), "oven off")
        )
        if looker.formula.process.oven_c is not None
        else []
    )
    over = ("oven",) if any(s.over for s in slips) else ()
    says = f"an oven that is {off_c:g} C hotter or cooler than its dial"
    return Tool(name="oven_off", says=says, worst=max(slips, key=lambda s: s.rise, default=None), over=over)


def errors_that_matter(looker: Looker, lines: Sequence[Tolerance]) -> tuple[Slip, ...]:
    """Make usual errors of a kitchen alone, both ways, and keep the three whose worst risk rises most.

    Looked at are those for which there is the least room: the others are far from any limit.
    """
    c = looker.knowledge.coefficient
    p = looker.formula.process
    usual = {
        "oven_c": c("tolerance_oven_off_c"),
        "bake_min": c("tolerance_bake_off_share") * (p.bake_min or 0.0),
        "proof_min": c("tolerance_proof_off_share") * (p.proof_min or 0.0),
        "proof_c": c("tolerance_proof_off_c"),
    }
    places = {x.ingredient.name: n for n, x in enumerate(looker.formula.lines)}
    errors: list[tuple[Tolerance, float]] = []
    for one in lines:
        if one.field in usual:
            errors.append((one, usual[one.field]))
        elif not one.field and one.what in places:
            weighed = max(c("tolerance_usual_share") * one.now, c("tolerance_usual_least_g"))
            errors.append((one, min(one.each_g or weighed, 0.9 * one.now)))
    errors.sort(key=lambda e: -e[1] / max(e[0].room * e[0].now, 1e-9))
    found: list[Slip] = []
    for one, error in errors[: int(c("tolerance_errors_tried"))]:
        if one.field:
            at, key = at_field(looker.formula, one.field), one.field
        else:
            at, key = at_grams(looker.formula, places[one.what]), f"line {places[one.what]}"
        found.append(
            max(_both_ways(looker, one.what, one.unit, one.now, error, at, key), key=lambda s: s.rise)
        )
    return tuple(sorted(found, key=lambda s: (-s.rise, s.what))[: int(c("tolerance_named"))])


def _both_ways(
    looker: Looker, what: str, unit: str, now: float, error: float, at: At, key: str
) -> Iterator[Slip]:
    for sign in (-1.0, 1.0):
        yield _slip(looker, what, unit, sign * error, looker.look(key, now + sign * error, at))


def _slip(looker: Looker, what: str, unit: str, off: float, after: Examination) -> Slip:
    before, then = looker.base.diagnosis.risks, after.diagnosis.risks
    symptom = max(before, key=lambda s: (then[s].risk - before[s].risk, s))
    risk = (before[symptom].risk, then[symptom].risk)
    return Slip(what=what, unit=unit, off=off, symptom=symptom, risk=risk, over=looker.bad(after) is not None)
