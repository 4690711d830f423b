"""A better formula towards an aim: step by step, inside a fence, with what each step gains and what it costs.

First the exchanges that are allowed, then in each round every step inside the fence is looked at in full, and the best
is taken:
worth = w x gain of the aim (share of what it was) - (score - score before), where the score holds risks, bands and how
usual the formula is (`scoring`). A step that brings a risk to its limit, puts a number far out, passes a limit or is
what no baker does (knowledge/sanity.yaml) is not taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula_design.aims import AIMS, Aim, measured
from advisor.formula_design.dough_parts import DoughParts
from advisor.formula_design.fence import Fence
from advisor.formula_design.moves import Move, amount_moves, process_moves
from advisor.formula_design.plausibility import Plausibility, nearest_style
from advisor.formula_design.scoring import Scored, Scorer
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.style_entries import Spread
from advisor.remedy.change import Change, Changed
from advisor.remedy.comparing import compared, differences
from advisor.remedy.constraints import per_slice
from advisor.remedy.sanity import unreasonable
from advisor.remedy.substitution import substitute


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing changed, all of it together: the aim before and after, and the largest risk before and after."""

    change: Change
    aim: tuple[float, float]
    worst: tuple[float, float]
    beside: tuple[Change, ...] = ()
    """What an exchange changes too: what comes in, and the water with it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What got worse: an aim by its name, before and after."""

    what: str
    before: float
    after: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ImproveAnswer:
    """What `improve` gives: the path, the new formula and its card, what it gained and what it paid."""

    aim: Aim
    before: Examination
    after: Examination
    formula: Formula
    card: str
    path: tuple[Step, ...]
    reached: tuple[float, float]
    """The aim before and after."""
    price: tuple[Price, ...]
    risk: Mapping[str, tuple[float, float]]
    """Risks that rose so that it is told, before and after (0..1)."""
    usual: Plausibility | None
    passes: bool
    """Whether a check of it lets it pass."""


def improved(
    examiner: Examiner, formula: Formula, aim: Aim, fence: Fence, *, region: str = "us"
) -> ImproveAnswer:
    """Make a formula better towards an aim, inside a fence.

    Raises:
        InputFault: the aim cannot be worked out for this formula.
    """
    search = _Search(examiner, formula, aim, fence)
    steps = search.run()
    card = write_formula_text(replace(search.best.formula, source_text=""))
    after_formula = read_formula_text(card, examiner.knowledge, region=region)
    after = examiner.examine(after_formula, after_bake=False)
    found = compared(search.before, after, examiner.knowledge)
    told = examiner.knowledge.thresholds["risk_move_said"].value
    broken = fence.limits.broken_by(after)
    worst = max((r.risk for r in after.diagnosis.risks.values()), default=0.0)
    return ImproveAnswer(
        aim=aim,
        before=search.before,
        after=after,
        formula=after_formula,
        card=card,
        path=steps,
        reached=(search.at_start, measured(aim, after, examiner.knowledge)),
        price=tuple(_price(search.before, after, aim, examiner.knowledge.coefficient("improve_price_share"))),
        risk={s: pair for s, pair in found.risk.items() if pair[1] - pair[0] >= told},
        usual=search.best.usual,
        passes=not broken and not after.no_all_clear and worst < examiner.knowledge.coefficient("risk_limit"),
    )


def _price(before: Examination, after: Examination, aim: Aim, told: float) -> Iterator[Price]:
    for other in AIMS.values():
        was, now = other.value(before), other.value(after)
        if other.id != aim.id and was is not None and now is not None and other.gain(was, now) < -told:
            yield Price(what=other.id, before=was, after=now)


class _Search:
    def __init__(self, examiner: Examiner, formula: Formula, aim: Aim, fence: Fence) -> None:
        self.examiner, self.start, self.aim, self.fence = examiner, formula, aim, fence
        self.knowledge = examiner.knowledge
        c = self.knowledge.coefficient
        self.before = self.reached = examiner.examine(formula, after_bake=False)
        kind = self.before.workings.dough_state.with_defaults.kind
        near = nearest_style(formula, kind, self.knowledge)
        # A formula that is like none is not to be pulled towards one.
        known = near is not None and near.distance < c("improve_style_within")
        style = self.knowledge.styles[near.style] if near is not None and known else None
        room, mass = c("improve_mass_share"), formula.dough_g
        spread = Spread(least=mass * (1 - room), usual=mass, most=mass * (1 + room))
        self.scorer = Scorer(examiner, style=style, limits=fence.limits, mass=spread)
        self.best: Scored = self.scorer.full(formula)
        self.at_start = measured(aim, self.best.look, self.knowledge)
        self._risk_kept = max(_worst(self.best.look), c("design_risk_kept") * c("risk_limit"))
        self._gone = (len(self.before.far_out), sum(g.decides for g in self.before.not_judged))

    def run(self) -> tuple[Step, ...]:
        """Take the best step of every round until none is worth it; give the path, a step for each thing turned."""
        c = self.knowledge.coefficient
        exchanged = tuple(self._exchanges())
        worth_trying: set[tuple[str, bool]] | None = None
        order: list[str] = []
        for _ in range(int(c("improve_most_steps"))):
            found = [
                (worth, move, tried)
                for move in self._moves()
                if worth_trying is None or (move.turned, move.up) in worth_trying
                if self._inside(move) and (tried := self._taken(move.formula)) is not None
                if (worth := self._worth(tried)) >= c("improve_least_worth")
            ]
            if not found:
                break
            found.sort(key=lambda one: -one[0])
            worth_trying = {(move.turned, move.up) for _, move, _ in found[: int(c("improve_followed"))]}
            _, move, self.best = found[0]
            if move.turned not in order:
                order.append(move.turned)
        return (*exchanged, *self._path(order))

    def _exchanges(self) -> Iterator[Step]:
        """Exchange while something gains by it, the best first; what follows starts from there."""
        for _ in self.fence.swap:
            look = self.best.look
            found = [
                (worth, one, tried)
                for one in _exchanges(self.examiner, look, self.fence.swap, self.fence.keep)
                if (tried := self._taken(one.formula)) is not None
                if (worth := self._worth(tried)) >= self.knowledge.coefficient("improve_least_worth")
            ]
            if not found:
                return
            _, one, self.best = max(found, key=lambda f: f[0])
            aims = [measured(self.aim, each, self.knowledge) for each in (look, self.best.look)]
            first, *beside = one.changes
            yield Step(
                change=first, beside=tuple(beside), aim=(aims[0], aims[1]),
                worst=(_worst(look), _worst(self.best.look)),
            )  # fmt: skip
            self.start, self.reached = one.formula, self.best.look

    def _moves(self) -> Iterator[Move]:
        formula = self.best.formula
        for place, line in enumerate(formula.lines):
            if line.ingredient.id not in self.fence.keep:
                yield from amount_moves(formula, place, self.knowledge)
        yield from (m for m in process_moves(formula, None) if m.turned not in self.fence.keep)

    def _taken(self, formula: Formula) -> Scored | None:
        """The look at a step; `None` where a limit, a risk or good sense does not allow it."""
        room = self.knowledge.coefficient("improve_mass_share")
        if abs(formula.dough_g / self.before.formula.dough_g - 1) > room:
            return None
        if (
            unreasonable(self.before.formula, formula, self.before.structure_and_kind, self.knowledge)
            is not None
        ):
            return None
        tried = self.scorer.full(formula)
        if self.aim.value(tried.look) is None or _worst(tried.look) > self._risk_kept + 1e-9:
            return None
        if (len(tried.look.far_out), sum(g.decides for g in tried.look.not_judged)) > self._gone:
            return None
        if self.fence.limits.refuses_worse(per_slice(self.best.look), per_slice(tried.look)) is not None:
            return None
        return tried

    def _inside(self, move: Move) -> bool:
        """Whether what is turned stays within the share by which anything may change."""
        at_most = self.fence.at_most
        if at_most is None:
            at_most = self.knowledge.coefficient("improve_at_most")
        was: float | None = getattr(self.start.process, move.turned, None)
        if was is not None:
            now: float = getattr(move.formula.process, move.turned)
            return abs(now - was) <= float(at_most * abs(was)) + 1e-9
        grams = self.start.grams_of(move.turned)
        return abs(move.formula.grams_of(move.turned) - grams) <= at_most * grams + 1e-9

    def _worth(self, tried: Scored) -> float:
        was, now = self.aim.value(self.best.look), self.aim.value(tried.look)
        if was is None or now is None:
            return -1.0
        gain = self.aim.better * (now - was) / max(abs(self.at_start), 1e-9)
        if gain <= 0:
            return -1.0
        return self.knowledge.coefficient("improve_aim_weight") * gain - max(
            tried.score - self.best.score, 0.0
        )

    def _path(self, order: list[str]) -> tuple[Step, ...]:
        """Make what was turned again, one thing after the other, each as far as it went."""
        now, look = self.start, self.reached
        steps = []
        for turned in order:
            after = _with(now, self.best.formula, turned)
            found = differences(now, after)
            if not found:
                continue
            next_look = self.examiner.examine(after, after_bake=False, ranked=False)
            aims = [measured(self.aim, one, self.knowledge) for one in (look, next_look)]
            steps.append(
                Step(
                    change=found[0][0], aim=(aims[0], aims[1]), worst=(_worst(look), _worst(next_look))
                )
            )  # fmt: skip
            now, look = after, next_look
        return tuple(steps)


def _with(formula: Formula, other: Formula, turned: str) -> Formula:
    if hasattr(formula.process, turned):
        return formula.with_process(**{turned: getattr(other.process, turned)})
    theirs = {x.number: x for x in other.lines if x.ingredient.id == turned}
    return formula.with_lines(tuple(theirs.get(x.number, x) for x in formula.lines))


def _worst(look: Examination) -> float:
    return max((r.risk for r in look.diagnosis.risks.values()), default=0.0)


def _exchanges(
    examiner: Examiner, before: Examination, others: Sequence[Ingredient], keep: frozenset[str]
) -> Iterator[Changed]:
    """Each of `others` in the place of each line that may go, its amount and the water solved for the same dough."""
    parts = DoughParts(examiner.knowledge)
    held = {x.ingredient.id: x.ingredient for x in before.formula.lines if x.grams > 0}
    for new in others:
        if new.id in held:
            continue
        for old in held.values():
            if old.id not in keep and _alike(old, new, parts):
                yield substitute(examiner, before, old.id, new).changed


def _alike(old: Ingredient, new: Ingredient, parts: DoughParts) -> bool:
    """Whether they are the same part of a dough, or share half of what the old one is there for."""
    part = parts.of(old)
    shared = set(old.roles) & set(new.roles)
    return (part is not None and part is parts.of(new)) or 2 * len(shared) >= max(len(old.roles), 1)
