"""Whether a baker would do it: every change is laid against the table of what no baker does (knowledge/sanity.yaml)."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.sanity_entries import Bound, Way
from advisor.remedy.change import Change, kitchen_step

_DUST = 1e-6


def unreasonable(
    before: Formula, after: Formula, about: tuple[str, str], knowledge: Knowledge, *, outright: bool = False
) -> str | None:
    """Say why a baker would not make this change; `None` if he would. `about` are the structure and the kind of bake.

    A formula that is outside a bound already may come nearer to it. A number that is itself the fault is set right
    at once (`outright`): no step of the process is too large for that.
    """
    for bound in knowledge.sanity.values():
        if (
            bound.undo_each_other
            or bound.never
            or not holds_for(bound, about)
            or (outright and bound.process)
        ):
            continue
        if bound.usual:
            out = _unusual(bound, before, after, knowledge.coefficient("remedy_usual_seen_beyond"))
        else:
            out = (_process_out if bound.process else _amount_out)(bound, before, after)
        if out:
            return bound.says
    return None


def holds_for(bound: Bound, about: tuple[str, str]) -> bool:
    """Whether a bound is one of a dough carried so, and of such a kind of bake."""
    structure, kind = about
    return (
        structure in (bound.structures or (structure,))
        and kind in (bound.kinds or (kind,))
        and kind not in bound.not_kinds
    )


def never_offered(ingredient: Ingredient, knowledge: Knowledge) -> bool:
    """Whether nobody would put an ingredient in place of another unless he asks for it by name."""
    return any(b.never_offered and ingredient.id in b.ingredients for b in knowledge.sanity.values())


def petty(changes: Sequence[Change], dough_g: float, knowledge: Knowledge) -> bool:
    """Whether a change of amounts is too small for a baker to see it: of the ingredient, and of the dough.

    What is new in the dough is too small where it is less than that share of what is little of the dough.
    """
    c = knowledge.coefficient
    moved = [x for x in changes if x.unit == "g"]
    if not moved or len(moved) < sum(x.field != "bake_min" for x in changes):
        return False
    little = c("remedy_petty_of_dough") * dough_g
    share = c("remedy_petty_share")
    return all(
        abs((x.after or 0.0) - x.before) < min(share * x.before, little)
        if x.before
        else (x.after or 0.0) < share * little and _is_felt_by_weight(x.what, knowledge)
        for x in moved
    )


def _is_felt_by_weight(name: str, knowledge: Knowledge) -> bool:
    """Whether an ingredient works by its weight, as egg, meal and fibre do; a gram of gum or salt is no trifle."""
    named = (i for i in knowledge.ingredients.values() if i.name == name)
    return any({"setting_protein", "fibre", "meal"} & set(i.roles) for i in named)


def against_what_was_seen(
    lever: str,
    changes: Sequence[Change],
    told: tuple[Collection[str], Mapping[str, str]],
    about: tuple[str, str],
    knowledge: Knowledge,
) -> str | None:
    """Say which simple law a lever's change breaks; `None` if none.

    `told` are the symptoms that were seen and the answers given, `about` the structure and the kind of bake.
    """
    seen, answers = told
    amounts = any(change.unit == "g" for change in changes)
    for bound in knowledge.sanity.values():
        law = bound.never
        if law is None or not holds_for(bound, about):
            continue
        ground = any(s in seen for s in law.seen) or any(answers.get(q) in a for q, a in law.answers.items())
        if (law.seen or law.answers) and (not ground or any(s in seen for s in law.but_not_seen)):
            continue
        if law.unless is not None and _goes(law.unless, changes, knowledge):
            continue
        ways = (way for way in law.ways if not (way.process and amounts))
        if lever in law.levers or any(_goes(way, changes, knowledge) for way in ways):
            return bound.says
    return None


def undo_each_other(some: Sequence[Change], others: Sequence[Change], knowledge: Knowledge) -> str | None:
    """Say why two sets of changes are not made together; `None` if they may be."""
    for bound in knowledge.sanity.values():
        if bound.undo_each_other is None:
            continue
        one, other = bound.undo_each_other
        for a, b in ((some, others), (others, some)):
            if _goes(one, a, knowledge) and _goes(other, b, knowledge):
                return bound.says
    return None


def grams_allowed(
    lines: Iterable[Line], formula: Formula, structure: str, knowledge: Knowledge
) -> tuple[float, float]:
    """The least and the most grams (0 up to infinity) that the table allows of some lines together.

    The rest of the dough stays, so that a share s of the whole is rest x s / (100 - s).
    """
    turned = tuple(lines)
    ids = {line.ingredient.id for line in turned}
    roles = [set(line.ingredient.roles) for line in turned]
    now = sum(line.grams for line in turned)
    rest = formula.dough_g - now
    least, most = 0.0, float("inf")
    for bound in knowledge.sanity.values():
        about = (bound.role and all(bound.role in r for r in roles)) or (
            bound.ingredients and ids <= set(bound.ingredients)
        )
        if not about or structure not in (bound.structures or (structure,)):
            continue
        if bound.at_least_pct is not None:
            least = max(least, rest * bound.at_least_pct / (100 - bound.at_least_pct))
        if bound.at_most_pct is not None and bound.at_most_pct < 100:
            most = min(most, rest * bound.at_most_pct / (100 - bound.at_most_pct))
        small = bound.counts_from_pct * formula.dough_g / 100
        if bound.at_least_fraction is not None:
            least = max(least, min(now * bound.at_least_fraction, now - small))
        if bound.at_most_fraction is not None and now:
            most = min(most, max(now * bound.at_most_fraction, now + small))
    return least, most


def process_allowed(field: str, now: float, knowledge: Knowledge) -> tuple[float, float]:
    """The least and the most that the table allows for one number of the process, in its own unit."""
    least, most = float("-inf"), float("inf")
    for bound in knowledge.sanity.values():
        if bound.process == field:
            if bound.step_at_most is not None:
                least, most = max(least, now - bound.step_at_most), min(most, now + bound.step_at_most)
            if bound.at_least_fraction is not None:
                least = max(least, now * bound.at_least_fraction)
            if bound.at_most_fraction is not None:
                most = min(most, now * bound.at_most_fraction)
    return least, most


def _held(bound: Bound, formula: Formula) -> float:
    return sum(line.grams for line in formula.lines if is_about(bound, line))


def is_about(bound: Bound, line: Line) -> bool:
    """Whether a bound is about this line: its ingredient or its role."""
    return line.ingredient.id in bound.ingredients or bound.role in line.ingredient.roles


def _amount_out(bound: Bound, before: Formula, after: Formula) -> bool:
    was, now = _held(bound, before), _held(bound, after)
    if abs(now - was) < _DUST or not after.dough_g or not before.dough_g:
        return False
    if bound.not_new and not was:
        return True
    share = 100 * now / after.dough_g
    few = bound.at_least_pct is not None and now < was and share < bound.at_least_pct - _DUST
    many = bound.at_most_pct is not None and now > was and share > bound.at_most_pct + _DUST
    if not was or 100 * abs(now - was) < bound.counts_from_pct * before.dough_g:
        return few or many
    return few or many or _too_far(bound, was, now, slack=max(_piece_in(bound, after), kitchen_step(now)))


def _unusual(bound: Bound, before: Formula, after: Formula, beyond: float) -> bool:
    """Whether a change drives a powder out of what is usual: by more of it, or by more or less of the others.

    What is turned itself goes by `to_the_usual`, where that helps. Salt and powder are weighed on the powders: fewer of
    these are no more salt.
    """
    usual, held = bound.usual, [line for line in before.lines if is_about(bound, line)]
    if usual is None or any(bound.without_role in line.ingredient.roles for line in before.lines):
        return False
    turned = _held(bound, after) - _held(bound, before)
    if turned < -_DUST or not held or not all(x.ingredient.dry_base for x in held):
        return False
    was, now = (_of_the_powders(bound, formula) for formula in (before, after))
    if was is None or now is None:
        return False
    if turned > _DUST:
        return now > usual.high * beyond
    many = now > usual.high * beyond and now > was * beyond
    return many or (0 < now < usual.low / beyond and now < was / beyond)


def _of_the_powders(bound: Bound, formula: Formula) -> float | None:
    """What a bound is about, g in 100 g of the dry powders."""
    powders = sum(line.grams for line in formula.lines if line.ingredient.dry_base)
    return 100 * _held(bound, formula) / powders if powders else None


def _piece_in(bound: Bound, formula: Formula) -> float:
    """Grams of the largest counted piece that a bound is about: where pieces are whole, a bound lies between two."""
    lines = (line for line in formula.lines if line.counted and is_about(bound, line))
    return max((line.grams / (line.counted or 1) for line in lines), default=0.0)


def _process_out(bound: Bound, before: Formula, after: Formula) -> bool:
    was, now = (getattr(f.process, bound.process or "") for f in (before, after))
    if was is None or now is None or abs(now - was) < _DUST:
        return False
    far = bound.step_at_most is not None and abs(now - was) > bound.step_at_most + _DUST
    return far or (was > 0 and _too_far(bound, was, now))


def _too_far(bound: Bound, was: float, now: float, slack: float = 0.0) -> bool:
    room = max(slack * (1 - _DUST), _DUST)
    few = bound.at_least_fraction is not None and now < was * bound.at_least_fraction - room
    return few or (bound.at_most_fraction is not None and now > was * bound.at_most_fraction + room)


def _goes(way: Way, changes: Sequence[Change], knowledge: Knowledge) -> bool:
    for change in changes:
        if change.before is None or change.after is None or change.after == change.before:
            continue
        if (change.after > change.before) != (way.goes == "up"):
            continue
        if way.process and change.field == way.process:
            return True
        named = (i for i in knowledge.ingredients.values() if change.unit == "g" and i.name == change.what)
        if any(i.id in way.ingredients or way.role in i.roles for i in named):
            return True
    return False
