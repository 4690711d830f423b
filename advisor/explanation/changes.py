"""A change of a formula as an instruction, with its quantities: what, how much more or less, from and to."""

from __future__ import annotations

from advisor.explanation.blocks import Quantity, Runs, Unit
from advisor.explanation.quantities import runs_of
from advisor.explanation.wording import step_between
from advisor.formula.writing.as_text import pieces
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import Change

_UNITS: dict[str, Unit] = {"g": "g", "C": "C", "min": "min", "cm": "cm", "mL": "mL"}
_MORE_LESS = {"min": ("longer", "shorter")}
_SPOONS = ("cup", "tbsp", "tsp")


class ChangeWords:
    """Says changes in words, with what a millilitre of each ingredient weighs so that spoons can be named."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._ml = {name: ml for name in _SPOONS if (ml := knowledge.units[name].millilitres)}
        self._ingredients = {entry.name: entry for entry in knowledge.ingredients.values()}

    def g_per_ml(self, ingredient: str) -> float | None:
        """Weight of a millilitre as it is spooned, by the largest measure whose weight is known; water weighs 1."""
        entry = self._ingredients.get(ingredient)
        if entry is None:
            return None
        for name, ml in self._ml.items():
            if (weight := entry.weights.get(name)) is not None:
                return weight.grams / ml
        return 1.0 if _is_water(entry) else None

    def in_short(self, changes: tuple[Change, ...]) -> Runs:
        """Some changes in one phrase: one of them whole, of several the steps alone."""
        return joined(tuple(self.runs(change, whole=len(changes) == 1) for change in changes), ", ")

    def runs(self, change: Change, *, whole: bool = True) -> Runs:
        """The instruction, without a full stop; if not `whole`, a weight only by how much it changes."""
        what, before, after = change.what, change.before, change.after
        if before is None or after is None:
            # Handling says it in a sentence; a process field that was not stated has only its new value.
            return (
                runs_of(what.rstrip("."))
                if after is None
                else (f"{what}: ", self._amount(after, change, bare=True))
            )
        if change.count_before is not None and change.count_after is not None:
            return self._counted(change, change.count_before, change.count_after)
        if before == 0 and change.unit == "g":
            return ("add ", self._amount(after, change), f" {what}")
        if after == 0 and change.unit == "g":
            return (f"leave out the {what} (", self._amount(before, change, bare=True), ")")
        step = self._amount(abs(step_between(before, after, change.unit)), change, difference=True)
        from_to: Runs = (
            self._amount(after, change, bare=True),
            " instead of ",
            self._amount(before, change, bare=True),
        )
        if change.unit == "g":
            return (
                step,
                f" {'more' if after > before else 'less'} {what}",
                *((": ", *from_to) if whole else ()),
            )
        if change.unit in ("C", "cm"):
            # Rounded to a dial or a rule, the step seldom fits both ends, which say it themselves.
            return (f"{what}: ", *from_to)
        more, less = _MORE_LESS.get(change.unit, ("more", "less"))
        return (f"{what}: ", *from_to, " (", step, f" {more if after > before else less})")

    def _amount(
        self, value: float, change: Change, *, bare: bool = False, difference: bool = False
    ) -> Quantity | str:
        """A number of slices or loaves has no unit."""
        if (unit := _UNITS.get(change.unit)) is None:
            return f"{round(value, 2):g} {change.unit}".rstrip()
        return Quantity(
            value=value,
            unit=unit,
            difference=difference,
            g_per_ml=None if bare or change.unit != "g" else self.g_per_ml(change.what),
        )

    def _counted(self, change: Change, before: int, after: int) -> Runs:
        was, now = (self._amount(x or 0.0, change, bare=True) for x in (change.before, change.after))
        if after == 0:
            what = change.what if before == 1 else pieces(before, change.what)
            return (f"leave out the {what} (", was, ")")
        if before == 0:
            return (f"add {pieces(after, change.what)} (", now, ")")
        plural = pieces(abs(after - before), change.what).partition(" ")[2]
        said = f"{abs(after - before)} {'more' if after > before else 'fewer'} {plural}: {after} instead of {before} ("
        return (said, now, " instead of ", was, ")")


def _is_water(entry: Ingredient) -> bool:
    return entry.per_100g.water >= 99


def joined(some: tuple[Runs, ...], between: str = "; ") -> Runs:
    """Several runs as one."""
    out: list[object] = []
    for place, runs in enumerate(some):
        out += ([between] if place else []) + list(runs)
    return tuple(out)  # type: ignore[arg-type]  # every element came out of Runs


def capital(runs: Runs) -> Runs:
    """Runs that begin a sentence."""
    first, *rest = runs
    return (first[:1].upper() + first[1:], *rest) if isinstance(first, str) else runs
