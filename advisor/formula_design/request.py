"""What is asked of a first formula: the kind, what it is to be made of, its size and its limits."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from advisor.formula.faults import FormulaFault, LineFault
from advisor.formula.formula import Formula
from advisor.formula.process.process_lines import read_process_value
from advisor.formula.process.process_values import Value
from advisor.formula.reading import read_formula_text
from advisor.formula.spelling import words_of
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.kind_entries import Kind
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.kind_of_bake import kind_named
from advisor.remedy.constraints import Constraints

_LEAST_PAN_ML, _MOST_PAN_ML = 150.0, 20_000.0
_WHOLE = "whole"
_OF_WHOLE_SEEDS = ("seed_loaf",)
"""Kinds in which almonds are almonds, and not their meal."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """An ingredient to be used, in its state, and the most of it that there is, g (`None`: enough)."""

    ingredient: Ingredient
    traits: tuple[str, ...] = ()
    most_g: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StartRequest:
    """All that is asked of a first formula; what is `None` or empty is chosen, and said."""

    kind: Kind
    wanted: tuple[Wanted, ...]
    slices: int | None = None
    pan: Mapping[str, Value] = field(default_factory=dict)
    limits: Constraints = field(default_factory=Constraints)
    like: Formula | None = None
    called: str = ""
    """The kind as the baker wrote it."""
    said: tuple[str, ...] = ()
    """What was assumed in reading it."""

    @property
    def in_one_tin(self) -> bool:
        """Whether it is one loaf in a tin: by its pan, or where none is named by what it is called."""
        if self.pan:
            return self.pan.get("pan_kind") in ("tin", "round") and self.pan.get("pan_cups") is None
        return bool({"bread", "loaf"} & set(words_of(self.called)))


def request_of(
    knowledge: Knowledge,
    *,
    kind: str | None,
    made_from: Iterable[str],
    slices: int | None = None,
    pan: str | None = None,
    limits: Constraints | None = None,
    like: Formula | None = None,
    region: str = "us",
) -> StartRequest:
    """Read what a baker asks for; `made_from` holds names, or amounts with names for what there is no more of.

    Raises:
        InputFault: a kind, an ingredient or a pan that is not known, or nothing to make it from.
    """
    chosen, said = _kind(kind, like, knowledge)
    wanted: list[Wanted] = []
    for text in (part.strip() for one in made_from for part in one.split(",")):
        if text:
            found, notes = wanted_in(text, knowledge, region, whole=chosen.id in _OF_WHOLE_SEEDS)
            wanted += [w for w in found if w.ingredient.id not in {x.ingredient.id for x in wanted}]
            said += notes
    if not wanted and like is not None:
        wanted = [Wanted(ingredient=x.ingredient, traits=x.traits) for x in like.lines]
    if not wanted:
        raise InputFault(
            'advisor: --from is empty; name what it is made of, such as --from "eggs, almond flour"'
        )
    chosen = _as_it_can_be(chosen, kind, wanted, knowledge)
    _refuse_unwritten(chosen, knowledge)
    if limits is not None and limits.cost_max is not None:
        said += _priced(wanted)
    fields, assumed = _pan(pan, knowledge) if pan else ({}, ())
    said += assumed
    return StartRequest(
        kind=chosen, wanted=tuple(wanted), slices=slices, pan=fields,
        limits=limits or Constraints(), like=like, called=kind or "", said=tuple(dict.fromkeys(said)),
    )  # fmt: skip


def _kind(text: str | None, like: Formula | None, knowledge: Knowledge) -> tuple[Kind, list[str]]:
    if text is None:
        from advisor.models.dough.kind_of_bake import kind_of_bake

        if like is not None and (of_it := kind_of_bake(like, knowledge)) is not None:
            return of_it.kind, []
        first = next(iter(knowledge.kinds.values()))
        return first, [f"no kind was named: a {first.name}"]
    if (found := kind_named(text, knowledge)) is not None:
        return found, []
    raise InputFault(f"advisor: no kind of bread '{text[:40]}'; there are: {_written(knowledge)}")


def _as_it_can_be(chosen: Kind, called: str | None, wanted: list[Wanted], knowledge: Knowledge) -> Kind:
    """The kind, or a plain loaf where a title only sounds like it: an almond butter loaf is no rich dough.

    Who names even the salt has named the flour or the yeast too.
    """
    roles = {role for w in wanted for role in w.ingredient.roles}
    plainly = (called or "").lower().replace("_", " ") in (chosen.id.replace("_", " "), chosen.name.lower())
    if plainly or not chosen.needs_role or "salt" not in roles or roles & set(chosen.needs_role):
        return chosen
    return next(iter(knowledge.kinds.values()))


def kinds_written(knowledge: Knowledge) -> tuple[Kind, ...]:
    """The kinds that a formula can be written for."""
    styled = {k for style in knowledge.styles.values() for bake in style.bakes for k in bake.kinds}
    return tuple(kind for kind in knowledge.kinds.values() if kind.id in styled)


def _written(knowledge: Knowledge) -> str:
    return ", ".join(kind.id.replace("_", " ") for kind in kinds_written(knowledge))


def _refuse_unwritten(kind: Kind, knowledge: Knowledge) -> None:
    if kind not in kinds_written(knowledge):
        raise InputFault(
            f"advisor: no way of making {kind.name} is written down (knowledge/styles.yaml); there are: "
            f"{_written(knowledge)}"
        )


def _priced(wanted: list[Wanted]) -> list[str]:
    """Say what has no price where the cost is limited; without any price the limit means nothing."""
    free = [
        w.ingredient.name
        for w in wanted
        if w.ingredient.price_per_kg is None and "water" not in w.ingredient.roles
    ]
    if len(free) == len(wanted):
        raise InputFault(
            "advisor: --cost-max: nothing in --from has a price; put prices into your own ingredients"
        )
    return [f"no price is known of {', '.join(free)}: they count as nothing"] if free else []


def wanted_in(
    text: str, knowledge: Knowledge, region: str, option: str = "--from", *, whole: bool = False
) -> tuple[list[Wanted], list[str]]:
    """Read one name, or an amount with a name; and say what was taken for what, but where it is meant `whole`.

    Raises:
        InputFault: no ingredient is called so.
    """
    amount = bool(re.match(r"[\d½¼¾⅓⅔]", text))
    line = text if amount else f"100 g {text}"
    try:
        read = read_formula_text(f"title: from the cupboard\n{line}", knowledge, region=region)
    except FormulaFault as fault:
        problem = fault.problems[0]
        raise InputFault(f"advisor: {option} '{text[:40]}': {problem.what}; {problem.do}") from None
    found, said = [], []
    for one in read.lines:
        taken = one.ingredient
        if not whole and (meant := _meant(taken, text, knowledge)) is not None:
            said.append(f"'{text}' is taken as {meant.name}")
            taken = meant
        found.append(Wanted(ingredient=taken, traits=one.traits, most_g=one.grams if amount else None))
    if not found:
        raise InputFault(
            f"advisor: {option} '{text[:40]}': no ingredient is called so; see 'advisor ingredients'"
        )
    return found, said


def _meant(ingredient: Ingredient, text: str, knowledge: Knowledge) -> Ingredient | None:
    if _WHOLE in words_of(text):
        return None
    named = (
        part.means[ingredient.id] for part in knowledge.dough_parts.values() if ingredient.id in part.means
    )
    return next((knowledge.ingredients[i] for i in named), None)


def _pan(text: str, knowledge: Knowledge) -> tuple[Mapping[str, Value], tuple[str, ...]]:
    """The fields of a process that a pan stands for, and what was assumed of it."""
    from advisor.formula.process.named_pans import pan_in

    fields: Mapping[str, Value]
    try:
        fields, said = read_process_value("pan", text)
    except LineFault as fault:
        if (named := pan_in(text, knowledge.pan_sizes)) is None:
            raise InputFault(f"advisor: --pan '{text[:40]}': {fault.what}; {fault.do}") from None
        fields, said = named.fields, (f"the pan '{named.text}': {named.said}",) if named.said else ()
    sizes = [fields.get(f"pan_{side}_cm") for side in ("length", "width", "height")]
    numbers = [float(s) for s in sizes if isinstance(s, int | float)]
    if fields.get("pan_kind") in ("tin", "round"):
        if len(numbers) == 2 and fields.get("pan_cups") is None and fields.get("pan_height_cm") is None:
            depth = knowledge.coefficient("start_pan_depth_cm")
            fields, numbers = {**fields, "pan_height_cm": depth}, [*numbers, depth]
            said = (*said, f"the pan '{text}' is taken as {depth:g} cm deep")
        elif not numbers and fields.get("pan_cups") is None:
            return {}, (*said, f"the pan '{text}' has no size: one of a usual size is taken")
        if len(numbers) != 3 and fields.get("pan_cups") is None:
            raise InputFault(
                f"advisor: --pan '{text[:40]}': write length, width and height, such as '23 x 10 x 10 cm'"
            )
        volume = numbers[0] * numbers[1] * numbers[2] if len(numbers) == 3 else None
        if (
            volume is not None
            and fields.get("pan_cups") is None
            and not _LEAST_PAN_ML <= volume <= _MOST_PAN_ML
        ):
            raise InputFault(f"advisor: --pan '{text[:40]}': {volume / 1000:.2g} L is no pan for a loaf")
    return fields, said
