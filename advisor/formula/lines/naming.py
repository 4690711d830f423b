"""From the name and notes of a line to one ingredient and its states; what was not used of them is told."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import permutations

from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.alternatives import alike, first_of, is_alternative, is_strewn, says_which
from advisor.formula.lines.around_names import shorter_names, taken_back
from advisor.formula.lines.grammar import Written
from advisor.formula.lines.matching import Match, NameIndex
from advisor.formula.lines.prose_words import is_for_dough
from advisor.formula.lines.quantities import amount_at, without_packing
from advisor.formula.lines.states import denies, only_states, state_spans
from advisor.formula.lines.units import UnitTable
from advisor.formula.spelling import words_of

_CODE = re.compile(r"\b(?:(?:type|typ|tipo|no\.?|grade)\s*)?[a-z]?[0-9]{1,4}[a-z]?\b(?!\s*%)", re.IGNORECASE)
_MILLED = re.compile(
    r"(?P<front>[^\W\d]{3,}(?:\s[^\W\d]{3,})?)\s+(?:(?:type|typ|tipo|[tw])\s?[0-9]{2,4}|[0-9]{3,4}|00?)"
    r"|(?:(?:type|typ|tipo|[tw])\s?[0-9]{2,4}|[0-9]{3,4}|00?)\s+(?P<behind>[^\W\d]{3,}(?:\s[^\W\d]{3,})?)",
    re.IGNORECASE,
)
"""A grain with the number of its milling, which says that it is flour."""
_FORM = re.compile(r"\s+(?:powder|powdered|granules|crystals|flakes)$", re.IGNORECASE)
_GROUND, _ROUGHLY = frozenset({"ground", "milled"}), frozenset({"coarse", "coarsely", "roughly"})
_BESIDE = re.compile(r"\s*[/=|]\s*")
_FEW, _SHORT, _MOST_COUNTED = 3, 4, 12
_LEAST_BARE_G = 15.0
_DRY = 15.0
"""Water, g per 100 g, up to which an ingredient is a powder as it is bought."""
_MORE = re.compile(r"(?:plus\b|\+|and\b|&)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """The match of a line, what was assumed to get it, and what is doubtful about it."""

    match: Match
    said: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()


class Naming:
    """Finds the ingredient of a line by its name and its notes."""

    def __init__(self, names: NameIndex, units: UnitTable) -> None:
        self._names = names
        self._units = units

    def of_line(self, written: Written) -> Named | None:
        """Match the name with its notes (flaxseed, ground), then alone, then its first alternative.

        Raises:
            LineFault: a note is another ingredient, or a name is that of two.
        """
        return _telling_what_counts(self._ground(self._of_line(written)))

    def _of_line(self, written: Written) -> Named | None:
        corrected = taken_back(written.name, written.notes)
        if corrected is None and len(written.notes) == 1:  # "flaxseed (no wait, chia seeds)"
            corrected = taken_back(f"{written.name}, {written.notes[0]}", ())
        if corrected:
            name, notes, wrong = corrected
            found_right = self._of_line(replace(written, name=name, notes=notes))
            if found_right is not None:
                said_so = f"'{shown(wrong)}' was taken back for '{shown(name)}'"
                return replace(found_right, said=(*found_right.said, said_so))
        name, notes = written.name, written.notes
        if not notes:
            if found := self._names.match(name):
                return Named(match=found)
        else:
            all_notes = " ".join(notes)
            # "200 g lentils, soaked" were weighed dry, "200 g soaked lentils" wet.
            orders = (f"{name} {all_notes}", *(() if _is_soaked(all_notes) else (f"{all_notes} {name}",)))
            if found := self._names.match(*orders):
                return Named(match=found)
        said: list[str] = []
        doubts: list[str] = []
        found = self._names.match(name) or self._loosely(written, said, doubts)
        return None if found is None else self._with_notes(found, written, said, doubts)

    def _ground(self, named: Named | None) -> Named | None:
        """Take a seed that was ground ("golden flax, milled fine") as its meal, where it has a name of its own."""
        words = {word for state in named.match.states for word in state} if named else set()
        if named is None or not words & _GROUND or words & _ROUGHLY:
            return named
        whole = named.match.ingredient
        for name in (whole.name, *whole.also):
            found = self._names.match(f"ground {name}")
            if found is None or (food := found.ingredient).id == whole.id:
                continue
            # Written so, and not only heard so: ground nuts are no groundnuts.
            if words_of(f"ground {name}") in map(words_of, (food.name, *food.also)):
                return replace(named, match=replace(found, states=named.match.states))
        return named

    def _loosely(self, written: Written, said: list[str], doubts: list[str]) -> Match | None:
        name = written.name
        if found := self._names.match_ignoring_percent(name):
            doubts.append(f"'{shown(name)}' is taken as {found.ingredient.name}, whatever its percentage")
            return found
        weighs = written.bracket is not None or written.amount.parts[0].unit is not None
        if weighs and (inside := without_packing(name)) and (found := self._names.match(inside)):
            return found
        return (
            self._first_alternative(name, said)
            or self._shorter(name, said)
            or self._mended(written, said, measured=weighs)
            or self._turned(name, said)
            or self._turned_round(name)
            or self._without_codes(name, said)
            or self._without_form(name, said)
            or self._shortened(name, said)
            or (self._by_its_kind(name, doubts) if weighs or _is_bare_weight(written) else None)
            or self._said_twice(written, said)
        )

    def _by_its_kind(self, name: str, doubts: list[str]) -> Match | None:
        found = self._names.match_by_kind(name)
        if found is None or denies(words_of(name), found.ingredient):
            return None
        if self._names.is_near_another(name, found.ingredient):  # "silium husks" is asked
            return None
        counted = f"counted as {found.ingredient.name}; look up its allergens"
        doubts.append(f"'{shown(name)}' is not known: {counted}")
        return found

    def _shorter(self, name: str, said: list[str]) -> Match | None:
        for short, behind, bound in shorter_names(name):
            if bound and self._names.speaks_of_food(words_of(behind)):
                continue
            if found := self._names.match(short):
                said.append(f"'{shown(behind)}' behind {found.ingredient.name} is not used")
                return found
        return None

    def _said_twice(self, written: Written, said: list[str]) -> Match | None:
        """Match a name in another tongue by the one beside it: "magere kwark (low fat quark)", "ovos / eggs"."""
        for other in (*reversed(_BESIDE.split(written.name)[1:]), *written.in_brackets):
            if other and not only_states(words_of(other)) and (found := self._names.match(other)):
                said.append(f"'{shown(written.name)}' is taken as {found.ingredient.name}")
                return found
        return None

    def _turned(self, name: str, said: list[str]) -> Match | None:
        """Match "gluten of wheat" as wheat gluten, in the order of other languages."""
        what, of, kind = name.partition(" of ")
        found = self._names.match(f"{kind} {what}") if of and kind.strip() else None
        if found is not None:
            said.append(f"'{shown(name)}' is taken as {found.ingredient.name}")
        return found

    def _turned_round(self, name: str) -> Match | None:
        """Match "flour strong", "rye coarse" and "psyllium whole husk", whose words stand in another order."""
        words = name.split()
        if not 2 <= len(words) <= _FEW:
            return None
        turns = (" ".join(turn) for turn in permutations(words) if list(turn) != words)
        found = {m.ingredient.id: m for turn in turns if (m := self._names.match(turn))}
        return next(iter(found.values())) if len(found) == 1 else None

    def _without_codes(self, name: str, said: list[str]) -> Match | None:
        """Match a name without the numbers of its make: "flour 00 W280", "T65 flour"."""
        plain = _CODE.sub(" ", name).strip()
        ways = [plain] if plain and plain != name.strip() else []
        if milled := _MILLED.fullmatch(name.strip()):  # "Wheat T80"
            ways.append(f"{milled['front'] or milled['behind']} flour")
        found = next((match for way in ways if (match := self._names.match(way))), None)
        if found is not None:
            said.append(f"'{shown(name)}' is taken as {found.ingredient.name}")
        return found

    def _without_form(self, name: str, said: list[str]) -> Match | None:
        """Match "wheat gluten powder" as what is a dry powder without saying so."""
        plain = _FORM.sub("", name)
        found = self._names.match(plain) if plain != name else None
        if found is None or found.ingredient.per_100g.water > _DRY:
            return None
        said.append(f"'{shown(name)}' is taken as {found.ingredient.name}")
        return found

    def _mended(self, written: Written, said: list[str], *, measured: bool = False) -> Match | None:
        counted = written.amount.bare and written.amount.parts[0].value <= _MOST_COUNTED
        found = self._names.match_mended(written.name, measured=measured or counted)
        if found is None or not (measured or found[0].ingredient.countable or len(written.name) > _SHORT):
            return None  # a short word behind a bare number is mended where such things are counted: "1 wite"
        match, mended = found
        said += (f"'{shown(wrong)}' is read as {right}" for wrong, right in mended)
        return match

    def _shortened(self, name: str, said: list[str]) -> Match | None:
        """Match "alm fl" and "psy pdr", whose words are cut short.

        Raises:
            UnknownName: it can be short for several ingredients, of which none is far more usual.
        """
        meant = self._names.short_for(name)
        if meant is None:
            return None
        if not meant.sure:
            raise self._names.unknown(name)
        found = self._names.match(" ".join(meant.names[0]))
        if found is not None:
            said.append(f"'{shown(name)}' is read as {found.ingredient.name}")
        return found

    def _first_alternative(self, name: str, said: list[str]) -> Match | None:
        first = first_of(name, self._names)
        if first is None:
            return None
        match, _, other = first
        said.append(f"'{shown(name)}' is taken as {match.ingredient.name}, not {shown(other)}")
        return match

    def _with_notes(self, found: Match, written: Written, said: list[str], doubts: list[str]) -> Named:
        states: list[tuple[str, ...]] = list(found.states)
        for note in written.notes:
            words = words_of(note)
            states += (words[a:b] for a, b in state_spans(words))
            unit = self._units.unit_at(note, 0)
            if not words or only_states(words) or (unit is not None and unit[1] == len(note)):
                continue
            if (other := is_alternative(note)) and self.of_words(other) is not None:
                said.append(
                    f"'{shown(written.name)}' is taken as {found.ingredient.name}, not {shown(other)}"
                )
                continue
            if (another := self._names.match(note)) is not None:
                if another.ingredient.id == found.ingredient.id:
                    continue
                inside = note in written.in_brackets and alike(found, another)
                if inside or set(words_of(written.name)) < set(words):  # "flour (bread flour)"
                    said.append(f"'{shown(written.name)}' is taken as {another.ingredient.name}")
                    found = another
                    continue
                if is_strewn(another, found) or set(another.ingredient.roles) == {"flavour"}:
                    doubts.append(f"'{shown(note)}' has no amount and is counted as nothing")
                    continue
                if says_which(note, found, another):
                    said.append(
                        f"'{shown(written.name)}, {shown(note)}' is taken as {another.ingredient.name}"
                    )
                    found = another
                    continue
                what = f"behind the comma is another ingredient, {another.ingredient.name}"
                raise LineFault(note, f"'{shown(note)}' {what}", "write one ingredient a line")
            self._refuse_second_ingredient(note, found)
            if _is_soaked(note) and found.ingredient.dry_base and not any(c.isdigit() for c in note):
                doubts.append(
                    f"'{shown(written.name)}' is taken as weighed dry; the water that it soaks up is not counted"
                )
                continue
            doubtful = self._names.speaks_of_food(words) or "?" in note
            (doubts if doubtful else said).append(f"the note '{shown(note)}' is not used")
        match = replace(found, states=tuple(states))
        return Named(match=match, said=tuple(said), doubts=tuple(doubts))

    def of_words(self, text: str) -> Named | None:
        """Match words without an amount: "sea salt", "butter or oil", "oil, any"."""
        plain = text.replace("(", ",").replace(")", ",")
        head = plain.split(",")[0].strip()
        found = self._names.match(" ".join(plain.replace(",", " ").split())) or self._names.match(head)
        said: list[str] = []
        found = found or self._first_alternative(head, said)
        return _telling_what_counts(None if found is None else Named(match=found, said=tuple(said)))

    def _refuse_second_ingredient(self, note: str, found: Match) -> None:
        if not is_for_dough(note):
            return  # "plus 1 tbsp for sprinkling"
        more = _MORE.match(note)
        start = more.end() if more else 0
        amount = amount_at(note, start, self._units) if note[start : start + 1].isdigit() else None
        if amount is None or "%" in note[: amount.end]:  # "70 % beta-glucan" is what the ingredient holds
            return
        rest = note[amount.end :].strip(" .")
        other = self._names.match(rest) if rest else None
        if other is not None and other.ingredient.id == found.ingredient.id and not more:
            return  # "110 g egg (2 eggs)"
        if (more and not rest) or other is not None:
            raise LineFault(note, f"'{shown(note)}' is another ingredient", "write one ingredient a line")


def _is_soaked(note: str) -> bool:
    return words_of(note)[:1] == ("soaked",)


def _is_bare_weight(written: Written) -> bool:
    """Tell whether a bare number can be grams: "3 stages of rye sourdough" weighs nothing."""
    return written.amount.parts[0].value >= _LEAST_BARE_G


def _telling_what_counts(named: Named | None) -> Named | None:
    """Say of another food that it is counted as one near to it: coconut sugar as brown sugar."""
    if named is None or not (food := named.match.counts_for):
        return named
    return replace(named, said=(*named.said, f"{food} is counted as {named.match.ingredient.name}"))
