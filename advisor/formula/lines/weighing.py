"""From an amount and an ingredient to grams: by which weight, how well known, and what was assumed."""

from __future__ import annotations

from dataclasses import replace

from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.grammar import Written
from advisor.formula.lines.guesses import guessed
from advisor.formula.lines.quantities import Amount, Part, finer_than, whole
from advisor.formula.lines.states import UNTOLD_TEMPERATURE, size_in
from advisor.formula.lines.units import GRADES, OUNCES, UnitTable
from advisor.formula.lines.weighed import BareNumber, Weighed, with_more
from advisor.knowledge_base.entry import Grade, Graded
from advisor.knowledge_base.ingredient import HouseholdWeight, Ingredient

MOST_GRAMS = 50_000.0
_MOST_PIECES_UNASKED = 30
_MOST_CAKES = 3
"""Pieces up to which a bare number of what is sold by the piece and by weight counts them: "1 cake yeast"."""
_MOST_PIECES_IN_GRAMS = 12
"""Pieces up to which a bare number of eggs counts them, also where the other rows are in grams."""
_PIECES = ("large", "piece", "medium")
_DOUBTFUL_RATIO = 1.3
_MAKES_DIFFER = "makes differ"
"""How the note of a household weight begins that the reader is warned of."""
_POURED = frozenset({"water", "liquid"})


def _worst(*grades: Grade) -> Grade:
    return max(grades, key=GRADES.index)


def _cited(entry: Graded) -> str:
    return f"[{', '.join((entry.grade, *entry.sources))}]"


def _makes_differ(weight: HouseholdWeight, ingredient: Ingredient) -> tuple[str, ...]:
    note = weight.note or ""
    return (f"{ingredient.name} by the spoon: {note}",) if note.startswith(_MAKES_DIFFER) else ()


def is_poured(ingredient: Ingredient) -> bool:
    """Tell whether "8 oz" of it could mean fluid ounces: water, drinks, liquid acids, oils."""
    roles = set(ingredient.roles)
    if roles & _POURED:
        return True
    if "acid" in roles:
        return ingredient.per_100g.water >= 50
    return "fat" in roles and "oil" in ingredient.name.lower().replace("-", " ").split()


class Scale:
    """Weighs the lines of one text: one unit table, one region, one base for percentages."""

    def __init__(
        self, units: UnitTable, region: str, base_g: float | None, bare: BareNumber = "either"
    ) -> None:
        self._bare_is = bare
        self._units = units
        self._region = region
        self._base_g = base_g

    def weigh(self, written: Written, ingredient: Ingredient, states: tuple[tuple[str, ...], ...]) -> Weighed:
        """Give the grams of a line; a weight in brackets wins.

        Raises:
            LineFault: no weight is known, fluid or weight ounces, too many pieces, more than 50 kg.
        """
        found = self._of_line(written, ingredient, states)
        if not 0 < found.grams <= MOST_GRAMS:
            raise LineFault(
                written.amount.parts[0].text,
                f"{found.grams:g} g of {ingredient.name} is not between 0 and {MOST_GRAMS / 1000:g} kg",
                "write the amount for one batch",
            )
        if not (set(ingredient.roles) & _POURED):
            return found
        untold = next((s for s in states if s in UNTOLD_TEMPERATURE), None)
        if untold is None:
            return found
        words = " ".join(untold)
        said = f"'{words}' gives {ingredient.name} no temperature (a line such as 'water temp: 32 C' does)"
        return with_more(found, said=(said,))

    def _of_line(
        self, written: Written, ingredient: Ingredient, states: tuple[tuple[str, ...], ...]
    ) -> Weighed:
        bracket = written.bracket
        if bracket is None:
            return self._of_amount(written.amount, ingredient, states)
        if written.amount is not bracket and finer_than(written.amount.parts[0], bracket.parts[0]):
            taken = self._of_amount(written.amount, ingredient, states)
            return with_more(
                taken, said=(f"'({bracket.parts[0].text})' is not used beside {taken.grams:g} g",)
            )
        weight = self._of_amount(bracket, ingredient, states)
        if written.amount is bracket:
            return weight
        pieces = self._pieces(written.amount.parts[0], ingredient, states)
        outer = written.amount.parts[0]
        packed = bool(outer.container) and not any(p.unit is None for p in bracket.parts)
        if all(p.weighs for p in bracket.parts) or packed:
            if packed and outer.value > 1 and not (written.each or written.in_total):
                inside = bracket.parts[0].text
                raise LineFault(
                    outer.text,
                    f"'({inside})' can be the content of one of {outer.text} or of all",
                    f"write ({inside} each) or ({inside} in total)",
                )
            times = outer.value if written.each else 1.0
            weight = with_more(weight, grams=weight.grams * times, counted=pieces)
            how = f"{outer.text} x {bracket.parts[0].text}" if written.each else "in brackets"
            weight = with_more(
                weight, conversion=", ".join(filter(None, (f"weight {how}", weight.conversion)))
            )
            return with_more(weight, doubts=self._doubts(written.amount, weight, ingredient, states))
        if outer.pours and outer.unit is not None and not outer.unit.grams:
            return with_more(weight, conversion=f"volume in brackets, {weight.conversion}")
        taken = self._of_amount(written.amount, ingredient, states)
        return with_more(taken, said=(f"'({bracket.parts[0].text})' is not used beside {outer.text}",))

    def _doubts(
        self, outer: Amount, weight: Weighed, ingredient: Ingredient, states: tuple[tuple[str, ...], ...]
    ) -> tuple[str, ...]:
        if outer.bare and weight.counted is None:
            return ()
        try:
            other = self._of_amount(outer, ingredient, states).grams
        except LineFault:
            return ()
        if 1 / _DOUBTFUL_RATIO <= other / weight.grams <= _DOUBTFUL_RATIO:
            return ()
        written = " + ".join(p.text for p in outer.parts)
        said = f"{weight.grams:.4g} g"
        return (f"{written} {ingredient.name} would weigh {other:.4g} g; the bracket says {said}",)

    def _of_amount(
        self, amount: Amount, ingredient: Ingredient, states: tuple[tuple[str, ...], ...]
    ) -> Weighed:
        terms = [self._of_part(part, ingredient, states) for part in amount.parts]
        counted = terms[0].counted if len(terms) == 1 else None
        return Weighed(
            grams=sum(t.grams for t in terms),
            conversion=" + ".join(t.conversion for t in terms if t.conversion),
            grade=_worst(*(t.grade for t in terms)),
            counted=counted,
            said=(*amount.said, *(s for t in terms for s in t.said)),
            doubts=tuple(d for t in terms for d in t.doubts),
            regional=tuple(s for t in terms for s in t.regional),
        )

    def _of_part(self, part: Part, ingredient: Ingredient, states: tuple[tuple[str, ...], ...]) -> Weighed:
        if part.percent:
            return self._of_base(part)
        if part.container and (packing := self._units.packing(part.container)) is not None:
            return self._of_part(replace(part, unit=packing, container=""), ingredient, states)
        if part.container:
            raise LineFault(
                part.text,
                f"no weight of one '{shown(part.container)}' of {ingredient.name} is known",
                f"write the weight on it in brackets: {part.text} (400 g) {ingredient.name}",
            )
        unit = part.unit
        if unit is None:
            return self._bare(part, ingredient, states)
        size = self._units.size(unit, self._region)
        if unit.grams and size and not unit.millilitres and not unit.guess:
            if unit.id in OUNCES and is_poured(ingredient):
                if part.beside is not None and part.beside.pours:  # "1 cup / 8 oz milk"
                    return self._of_part(part.beside, ingredient, states)
                if self._units.ounces_alike(ingredient, self._region):
                    taken = f"'{part.text}' of {ingredient.name} is taken as a weight: by volume it is about the same"
                    return Weighed(grams=part.value * unit.grams, grade=unit.grade, said=(taken,))
                raise LineFault(
                    part.text,
                    f"'{part.text}' of {ingredient.name} can be a weight or a volume",
                    f"write {part.value:g} fl oz, or the weight: {part.value * unit.grams:.0f} g",
                    (f"{part.value:g} fl oz", f"{part.value * unit.grams:.0f} g"),
                )
            how = "" if size == 1 else f"{part.text} at {size:g} g {_cited(unit)}"
            return Weighed(grams=part.value * size, conversion=how, grade=unit.grade)
        found = self._units.household(unit, ingredient, self._region, part.value)
        regional: tuple[str, ...] = ()
        if unit.regions and unit.millilitres:
            where = self._region if self._region in unit.regions else "default"
            regional = (f"a {unit.names[0]} is {size:.4g} mL (region {where})",)
        if found is not None:
            how = f"{part.text} at {found.said} {_cited(found.weight)}"
            return Weighed(
                grams=part.value * found.grams,
                conversion=how,
                grade=_worst(unit.grade, found.weight.grade),
                said=() if found.unit == unit.id else guessed(part, part.value * found.grams, ingredient),
                counted=whole(part.value) if ingredient.countable and not unit.millilitres else None,
                doubts=_makes_differ(found.weight, ingredient),
                regional=regional,
            )
        if unit.grams:  # a pinch of something that no spoon was weighed of
            how = f"{part.text} at {unit.grams:g} g {_cited(unit)}"
            grams = part.value * unit.grams
            said = guessed(part, grams, ingredient)
            return Weighed(grams=grams, conversion=how, grade=unit.grade, said=said, regional=regional)
        if (
            not unit.millilitres
            and ingredient.countable
            and (unit.id in ("piece", "large", "medium", "small"))
        ):
            return self._bare(part, ingredient, (*states, (unit.id,)))
        raise LineFault(
            part.text,
            f"no weight of a {unit.names[0]} of {ingredient.name} is known",
            f"write grams, or weigh it and write the weight in brackets: {part.text} {ingredient.name} (… g)",
        )

    def _of_base(self, part: Part) -> Weighed:
        if self._base_g is None:
            raise LineFault(
                part.text,
                f"'{part.text}' is a share of a base that the text does not give",
                "add a line such as 'base: 500 g'",
            )
        if part.value <= 0:
            raise LineFault(part.text, f"'{part.text}' is no amount", "leave the line out, or write more")
        return Weighed(
            grams=part.value / 100 * self._base_g,
            conversion=f"{part.value:g} % of a base of {self._base_g:g} g",
        )

    def _pieces(self, part: Part, ingredient: Ingredient, states: tuple[tuple[str, ...], ...]) -> int | None:
        """Count pieces where the weight in brackets makes a household weight needless."""
        by_piece = part.unit is None or not (part.unit.grams or part.unit.millilitres)
        return whole(part.value) if ingredient.countable and by_piece and not part.percent else None

    def _bare(self, part: Part, ingredient: Ingredient, states: tuple[tuple[str, ...], ...]) -> Weighed:
        size = size_in(states)
        if self._bare_is == "share" and size is None:
            return self._of_base(replace(part, percent=True))
        if self._bare_is == "kilos" and size is None and ingredient.countable is None:
            said = f"'{part.text}' of {ingredient.name} is taken as kg, as the text says"
            return Weighed(grams=1000 * part.value, conversion="bare number taken as kg", said=(said,))
        if self._bare_is == "grams" and size is None and part.value > _MOST_PIECES_IN_GRAMS:
            said = f"'{part.text}' of {ingredient.name} is taken as grams, as the other rows are"
            return Weighed(grams=part.value, conversion="bare number taken as grams", said=(said,))
        many = part.value > _MOST_CAKES and "yeast" in ingredient.roles  # nobody takes twelve cubes of yeast
        by_piece = ingredient.countable is not None or any(k in ingredient.weights for k in _PIECES)
        if (many or not by_piece) and (size is None or part.value > _MOST_PIECES_IN_GRAMS):  # "30 medium rye"
            said = f"'{part.text}' has no unit: taken as grams of {ingredient.name}"
            return Weighed(grams=part.value, conversion="bare number taken as grams", said=(said,))
        few = part.value <= _MOST_CAKES and "piece" in ingredient.weights
        if size is None and ((ingredient.countable is None and not few) or part.value > _MOST_PIECES_UNASKED):
            known = next(k for k in _PIECES if k in ingredient.weights) if ingredient.weights else "large"
            raise LineFault(
                part.text,
                f"'{part.text}' of {ingredient.name} can be a count or grams",
                f"write {part.text} g {ingredient.name}, or {part.text} {known} {ingredient.name}",
            )
        key, weight = self._piece(ingredient, size)
        plain = key.replace("_", " ")
        if weight is None:
            raise LineFault(
                part.text,
                f"no weight of one {plain} {ingredient.name} is known",
                f"write grams of {ingredient.name}",
            )
        said_of_size: tuple[str, ...] = ()
        if size is None and key != "piece":
            said_of_size = (f"{part.text} {ingredient.name}: taken as {plain}, {weight.grams:g} g each",)
        elif self._region != "us" and size is not None and not key.endswith(self._region):
            said_of_size = (
                f"{plain} {ingredient.name}: taken at {weight.grams:g} g each, a weight of region us",
            )
        return Weighed(
            grams=part.value * weight.grams,
            conversion=f"{part.value:g} {plain} at {weight.grams:g} g {_cited(weight)}",
            grade=weight.grade,
            counted=whole(part.value) if ingredient.countable else None,
            said=said_of_size,
        )

    def _piece(self, ingredient: Ingredient, size: str | None) -> tuple[str, HouseholdWeight | None]:
        for name in (size,) if size else _PIECES:
            for key in (f"{name}_{self._region}", f"{name}", f"{name}".replace("_", "-")):
                if weight := ingredient.weights.get(key):
                    return key, weight
        return size or "piece", None
