"""One bake as it is kept: the formula as baked, what came out, what was followed, and what had been foreseen."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from math import inf

from advisor.trial_record.faults import BakeFault

SCORES = ("volume", "crumb", "slice", "taste")
MEASURED = ("height_cm", "weight_g", "volume_ml", "core_c")
_POSSIBLE = {
    "height_cm": (0.1, 100),
    "weight_g": (1, 100_000),
    "volume_ml": (1, 200_000),
    "core_c": (-5, 130),
}
"""What a rule, a scale, a bowl of seed and a probe can read of bread at all."""
_DATE = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])(T([01]\d|2[0-3]):[0-5]\d)?")
LONGEST = 20_000
"""Letters in a text that is kept."""
MOST_PARTS = 2000
"""Names of ingredients, of symptoms, of steps and so on in one bake."""
_KEY_LENGTH = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Scores:
    """Marks from 1 (poor) to 5 (as wished); `None` where none was given."""

    volume: int | None = None
    crumb: int | None = None
    slice: int | None = None
    taste: int | None = None

    @property
    def mean(self) -> float | None:
        """Mean of the marks that were given."""
        given = [mark for name in SCORES if (mark := getattr(self, name)) is not None]
        return sum(given) / len(given) if given else None


@dataclass(frozen=True, slots=True, kw_only=True)
class CameOut:
    """What was measured on the loaf: height [cm], weight [g], volume by seed displacement [mL], core [C]."""

    height_cm: float | None = None
    weight_g: float | None = None
    volume_ml: float | None = None
    core_c: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """Grams of one ingredient as baked; `ingredient` is its id."""

    ingredient: str
    name: str
    grams: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Foreseen:
    """What was expected before this bake, kept so that it can be laid against what came.

    `risk` maps a symptom to its risk before the change that was followed (`None` where none was) and in this bake.
    `cause_probability` and `efficacy` are what the knowledge alone, without anything learnt, gave the cause and
    the change. `single` says that nothing but the change followed was done otherwise than in the bake before.
    `oven_offset_c` and `powder_strength` are what would explain the measured core and height.
    """

    cause: str | None = None
    cause_probability: float | None = None
    efficacy: float | None = None
    single: bool = False
    core_c: float | None = None
    height_cm: float | None = None
    volume_ml: float | None = None
    oven_offset_c: float | None = None
    powder_strength: float | None = None
    risk: Mapping[str, tuple[float | None, float]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bake:
    """One bake; `key` names it in exports, `number` in this record, and `follows` is the key of an earlier one."""

    formula: str
    formula_text: str
    baked_on: str
    amounts: tuple[Amount, ...] = ()
    steps: Mapping[str, str] = field(default_factory=dict)
    """Process line to its value, as a formula writes it."""
    seen: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()
    scores: Scores = Scores()
    came_out: CameOut = CameOut()
    photo: str | None = None
    lots: Mapping[str, str] = field(default_factory=dict)
    """Ingredient id to the supplier's lot."""
    notes: str | None = None
    followed: str | None = None
    """Id of the lever whose proposal was followed."""
    follows: str | None = None
    foreseen: Foreseen | None = None
    key: str = ""
    number: int = 0

    def keyed(self, again: int = 0) -> Bake:
        """Give the bake with a key made from all that it holds; `again` tells like bakes of one day apart."""
        plain = asdict(replace(self, key="", number=again))
        digest = hashlib.sha256(json.dumps(plain, sort_keys=True, ensure_ascii=True).encode()).hexdigest()
        return replace(self, key=digest[:_KEY_LENGTH])

    def same_as(self, other: Bake) -> bool:
        """Tell whether two bakes hold the same, wherever they stand."""
        return replace(self, number=0) == replace(other, number=0)


def sound(bake: Bake) -> Bake:
    """Give the bake back in the form in which it is kept: symptoms in order, empty texts as none.

    Raises:
        BakeFault: a mark, measure, date or symptom that cannot be.
    """
    if not bake.formula.strip() or not bake.formula_text.strip():
        raise BakeFault("formula", "is empty", "give the formula as it was baked")
    if not _DATE.fullmatch(bake.baked_on):
        raise BakeFault(
            "date", f"'{bake.baked_on[:30]}' is no date", "write it as 2026-05-31 or 2026-05-31T14:20"
        )
    for name in SCORES:
        mark = getattr(bake.scores, name)
        if mark is not None and (isinstance(mark, bool) or not isinstance(mark, int) or not 1 <= mark <= 5):
            raise BakeFault(name, f"{mark} is no mark", "give a whole number from 1 (poor) to 5 (as wished)")
    for name, (low, high) in _POSSIBLE.items():
        value = getattr(bake.came_out, name)
        if value is not None and not low <= value <= high:
            raise BakeFault(name, f"{value:g} cannot be", f"give a number from {low:g} to {high:g}")
    for amount in bake.amounts:
        if not 0 < amount.grams < inf:
            raise BakeFault("amounts", f"{amount.grams:g} g cannot be", "give grams above 0")
    if (foreseen := bake.foreseen) is not None:
        chances = (
            foreseen.cause_probability,
            foreseen.efficacy,
            *(p for two in foreseen.risk.values() for p in two),
        )
        if not all(p is None or 0 <= p <= 1 for p in chances):
            raise BakeFault("foreseen", "holds what is no probability", "give numbers from 0 to 1")
    if both := sorted(set(bake.seen) & set(bake.absent)):
        raise BakeFault(both[0], "is given as seen and as not seen", "keep one")
    if bake.follows is not None and bake.follows == bake.key:
        raise BakeFault("follows", "the bake follows itself", "name an earlier one")
    for name, texts in _texts_of(bake).items():
        if len(texts) > MOST_PARTS:
            raise BakeFault(name, f"has {len(texts)} parts", f"give at most {MOST_PARTS}")
        if not all(map(is_plain, texts)):
            raise BakeFault(name, f"is no plain text of at most {LONGEST} letters", "shorten it")
    return replace(
        bake,
        seen=tuple(sorted(set(bake.seen))),
        absent=tuple(sorted(set(bake.absent))),
        notes=bake.notes or None,
        photo=bake.photo or None,
        lots={name: lot for name, lot in sorted(bake.lots.items()) if lot},
    )


def _texts_of(bake: Bake) -> dict[str, tuple[str, ...]]:
    one = ("key", "formula", "formula_text", "photo", "notes", "followed", "follows")
    found = {name: (text,) for name in one if (text := getattr(bake, name)) is not None}
    foreseen = bake.foreseen
    return found | {
        "symptoms": (*bake.seen, *bake.absent),
        "amounts": tuple(text for a in bake.amounts for text in (a.ingredient, a.name)),
        "steps": tuple(text for pair in bake.steps.items() for text in pair),
        "lots": tuple(text for pair in bake.lots.items() for text in pair),
        "foreseen": () if foreseen is None else (foreseen.cause or "", *foreseen.risk),
    }


def is_plain(text: str) -> bool:
    """Tell whether a text can be kept: not too long, whole letters, and none that ends it before its end."""
    return len(text) <= LONGEST and "\0" not in text and not any("\ud800" <= c <= "\udfff" for c in text)
