"""What a formula that is made better keeps: lines and steps that stay, how far anything may go, what may come in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, fields

from advisor.diagnosis.pipeline import Examiner
from advisor.formula.formula import Formula, Process
from advisor.formula_design.request import wanted_in
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.ingredient import Ingredient
from advisor.remedy.constraints import Constraints
from advisor.remedy.written_change import lines_named


@dataclass(frozen=True, slots=True, kw_only=True)
class Fence:
    """What stays: ids of ingredients and fields of the process, and by which share anything may change (0..1)."""

    keep: frozenset[str] = frozenset()
    at_most: float | None = None
    limits: Constraints = field(default_factory=Constraints)
    swap: tuple[Ingredient, ...] = ()
    """What may take the place of something; without any nothing is exchanged."""


def fence_of(
    formula: Formula,
    keep: Iterable[str],
    at_most: float | None,
    limits: Constraints,
    examiner: Examiner,
    *,
    swap: Iterable[str] = (),
    region: str = "us",
) -> Fence:
    """Read what is to stay: names of ingredients of the formula, or of lines of the process ("oven", "proof").

    `swap` holds names of what may take the place of something.

    Raises:
        InputFault: a name that is neither, or a share that is none.
    """
    if at_most is not None and not 0 < at_most <= 1:
        raise InputFault("advisor: --at-most: give a share such as 20 % or 0.2")
    kept: set[str] = set()
    for text in (part.strip() for one in keep for part in one.split(",")):
        if not text:
            continue
        if lines := lines_named(formula, text, examiner.knowledge):
            kept |= {x.ingredient.id for x in lines}
        elif found := _fields_named(text):
            kept |= found
        else:
            names = ", ".join(x.ingredient.name for x in formula.lines)
            raise InputFault(f"advisor: --keep '{text[:40]}': it is not in the formula, which holds {names}")
    named = (part.strip() for one in swap for part in one.split(","))
    others = {
        w.ingredient.id: w.ingredient
        for text in named
        if text
        for w in wanted_in(text, examiner.knowledge, region, "--swap")[0]
    }
    for one in others.values():
        if limits.avoids(one) is not None:
            raise InputFault(f"advisor: --swap '{one.name}': it is to be avoided")
    return Fence(keep=frozenset(kept), at_most=at_most, limits=limits, swap=tuple(others.values()))


def _fields_named(text: str) -> frozenset[str]:
    """Fields of the process that a word means: the oven's heat and minutes for "oven"."""
    word = "_".join(text.lower().split())
    aliases = {"oven": ("oven_c", "bake_min"), "bake": ("bake_min",), "time": ("bake_min", "proof_min")}
    known = {f.name for f in fields(Process)}
    if word in aliases:
        return frozenset(aliases[word])
    return frozenset(name for name in known if name == word or name.rsplit("_", 1)[0] == word)
