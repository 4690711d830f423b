"""Local search on the real models: the bake's minutes from its core, then amounts and process in small steps.

Amounts are judged without baking each (the gas follows the warming of the last loaf baked); what is taken is baked
before it counts. The search is greedy and has a fixed order, so that the same request gives the same answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from advisor.formula.formula import Formula
from advisor.formula_design.moves import Move, amount_moves, process_moves, rounded_minutes
from advisor.formula_design.scoring import Scored, Scorer
from advisor.knowledge_base.style_entries import StyleBake

Taken = Callable[[Scored, Move, Scored], None]
"""Told of every step that is taken: from where, the move, and what it came to."""
Allowed = Callable[[Formula], bool]

_MOST_TIMINGS = 4


def timed(scorer: Scorer, start: Scored, bake: StyleBake | None) -> Scored:
    """Bake as long as the core asks for, within what the style is baked at; hotter where that is not enough."""
    best = start
    for _ in range(_MOST_TIMINGS):
        p, pulled = best.formula.process, best.look.inference.judged.get("pull_margin_min")
        if pulled is None or pulled.low is None or p.bake_min is None or p.oven_steps:
            return best
        high = pulled.low + 10 if pulled.high is None else pulled.high
        aim = pulled.low + (high - pulled.low) / 4
        if pulled.state == "in" and pulled.value <= aim + (high - pulled.low) / 3:
            return best
        wanted = rounded_minutes(p.bake_min + aim - pulled.value)
        spread = bake.bake_min if bake is not None else None
        minutes = min(max(wanted, spread.least), spread.most) if spread is not None else wanted
        oven = p.oven_c
        if bake is not None and bake.oven_c is not None and oven is not None and wanted > minutes:
            oven = min(oven + 5, bake.oven_c.most)
        if (minutes, oven) == (p.bake_min, p.oven_c):
            return best
        tried = scorer.full(best.formula.with_process(bake_min=minutes, oven_c=oven))
        if tried.score >= best.score:
            return best
        best = tried
    return best


def searched(
    scorer: Scorer,
    start: Scored,
    bake: StyleBake | None,
    *,
    rounds: int = 1,
    allowed: Allowed | None = None,
    taken: Taken | None = None,
) -> Scored:
    """Go downhill until no step gains, or the rounds are over."""
    c = scorer.knowledge.coefficient
    least = c("design_least_gain")
    best = start
    for _ in range(rounds):
        before = best
        best = _over_amounts(scorer, best, allowed, taken, least)
        best = timed(scorer, best, bake) if allowed is None else best
        for _ in range(rounds):
            found = _over_process(scorer, best, bake, allowed, taken, least)
            if found is best:
                break
            best = found
        if best.score > before.score - least:
            break
    return best


def _over_amounts(
    scorer: Scorer, best: Scored, allowed: Allowed | None, taken: Taken | None, least: float
) -> Scored:
    place = 0
    quick = scorer.quick(best.formula, best.look)
    while place < len(best.formula.lines):
        for move in _permitted(amount_moves(best.formula, place, scorer.knowledge), allowed):
            tried = scorer.quick(move.formula, best.look)
            if tried.score > quick.score - least:
                continue
            baked = scorer.full(move.formula)
            if baked.score <= best.score - least:
                if taken is not None:
                    taken(best, move, baked)
                best, quick = baked, tried
                break
        place += 1
    return best


def _over_process(
    scorer: Scorer,
    best: Scored,
    bake: StyleBake | None,
    allowed: Allowed | None,
    taken: Taken | None,
    least: float,
) -> Scored:
    for move in _permitted(process_moves(best.formula, bake), allowed):
        tried = scorer.full(move.formula)
        if tried.score <= best.score - least:
            if taken is not None:
                taken(best, move, tried)
            return tried
    return best


def _permitted(moves: Iterator[Move], allowed: Allowed | None) -> Iterator[Move]:
    return (move for move in moves if allowed is None or allowed(move.formula))
