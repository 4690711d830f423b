"""What only the whole text decides: what was added last, how warm the water is, how many loaves, the total."""

from __future__ import annotations

import re
from dataclasses import replace

from advisor.formula.asking import missing_of, not_used
from advisor.formula.draft import Draft
from advisor.formula.faults import LineFault, Problem, shown
from advisor.formula.formula import Formula, Line, Process
from advisor.formula.left_out import leave_out_what_is_small
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.units import UnitTable
from advisor.formula.method.numbers_not_taken import tell_without_home
from advisor.formula.method.process_from_method import take_method
from advisor.formula.method.told_ages import take_told_ages
from advisor.formula.process.as_said import said_pan
from advisor.formula.process.pan_lines import shape_in_words
from advisor.formula.process.process_values import Value
from advisor.formula.process.rolls_named import names_rolls
from advisor.formula.spelling import words_of
from advisor.knowledge_base.ingredient import Ingredient

_TOTAL_WITHIN = 0.02
"""A written total may differ from the sum by so much before it is doubted: cards round."""

_WITHIN_MADE = 1.1
"""A line weighs at most so many times what its section makes, else it is not that: water and crumbs are lost."""
_LEAST_MADE = 0.95
"""Share of what a section makes from which all of it is meant."""
_FLAT = re.compile(
    r"focaccia|flat\s?bread|cracker|crisp|kn[aä]cke|pizza|lavash|tortilla|wrap|naan|kulcha|roti",
    re.IGNORECASE,
)
"""Titles of what is spread or rolled out, whose tray is no shape of its own."""
_MOST_LOAVES = 3
""""Makes 2" without a noun is taken for loaves up to this number, beyond it for slices."""


def formula_of(
    draft: Draft, names: NameIndex, units: UnitTable, text: str, left_out: tuple[float, float]
) -> tuple[Formula | None, Formula | None]:
    """Give the formula of a draft, or what the lines without a problem say; problems of the whole text are added.

    `left_out`: up to which share of the dough (0..1) what is not known is left out, and the heaviest spoon of it, g/mL.
    """
    leave_out_what_is_small(draft, *left_out)
    if draft.added_last is not None:
        draft.attempt(draft.added_last, lambda: _name_added_last(draft, names))
    if not draft.lines and not draft.tried and not draft.problems:
        draft.problems.append(
            Problem(
                line=1, column=1, what="no line holds an ingredient", do="write lines such as '200 g water'"
            )
        )
    elif not draft.lines and not draft.problems:
        number = draft.unweighed[0].number if draft.unweighed else 1
        draft.problems.append(
            Problem(
                line=number,
                column=1,
                what="no ingredient has a weight",
                do="write lines such as '200 g water'",
            )
        )
    _count_leavens_once(draft, names)
    if not draft.problems:
        return _built(draft, text, units), None
    return None, _built(draft, text, units) if draft.lines else None


def _count_leavens_once(draft: Draft, names: NameIndex) -> None:
    """Take out "300 g levain" under Dough where Levain above says of what it is made; of less, a share is counted."""
    for line in tuple(draft.lines):
        if "natural_leaven" not in line.ingredient.traits:
            continue
        before = [x for x in draft.lines if x.number < line.number and x.section not in ("", line.section)]
        made = [x for x in before if _is_leaven_of(line, x.section, names)]
        whole_g = sum(x.grams for x in made)
        if len(made) < 2 or line.grams > _WITHIN_MADE * whole_g:
            continue
        share = line.grams / whole_g if line.grams < _LEAST_MADE * whole_g else 1.0
        draft.lines = [
            replace(x, grams=x.grams * share) if x in made else x for x in draft.lines if x is not line
        ]
        draft.assumed.append(
            f"line {line.number}: '{shown(line.text)}' is what {made[0].section} above makes: counted once"
        )


def _is_leaven_of(line: Line, section: str, names: NameIndex) -> bool:
    words = words_of(line.text)
    whole = [section] if set(words_of(section)) <= set(words) else []
    for name in (*whole, *(set(words_of(section)) & set(words))):
        match = names.match(name)
        if match is not None and "natural_leaven" in match.ingredient.traits:
            return True
    return False


def _built(draft: Draft, text: str, units: UnitTable) -> Formula:
    take_told_ages(draft, text)
    take_method(draft, text)
    _take_totals(draft)
    shaped = _take_shape(draft, text)
    _take_warmth(draft)
    _tell_what_was_passed_over(draft)
    tell_without_home(draft, text, units)
    process = Process(**draft.fields)  # type: ignore[arg-type]
    if unused := not_used(process):
        draft.warnings.append(unused)
    return Formula(
        name=draft.title or draft.name,
        lines=tuple(draft.lines),
        process=process,
        assumed=tuple(dict.fromkeys(draft.assumed)),
        warnings=tuple(dict.fromkeys(draft.warnings)),
        unweighed=tuple(draft.unweighed),
        asked=missing_of(process, draft.unweighed, shaped=shaped),
        bake_told="oven" not in draft.key_lines and any(fact.topic == "oven" for _, fact in draft.facts),
        source_text=text,
    )


def _take_totals(draft: Draft) -> None:
    for number, named, count in draft.totals:
        field = _field_of_pieces(draft, count) if named == "pieces" else named
        if named == "pieces" and names_rolls(draft.title) and "pan" not in draft.key_lines:
            draft.fields.setdefault("pan_kind", "rolls")
        if field == "rolls":
            if "pan" not in draft.key_lines:
                draft.fields.setdefault("pan_kind", "rolls")
            continue
        known = draft.fields.get(field)
        if named == "pieces" and field == "slices":
            draft.fields.setdefault("pieces", count)
        if known is None:
            draft.fields[field] = count
            draft.assumed.append(f"line {number}: taken as {field}: {count}")
        elif known != count:
            draft.warnings.append(
                f"line {number}: {field} would be {count}; {known} is used, as another line says"
            )
    dough_g = sum(line.grams for line in draft.lines)
    for number, total in draft.whole_g:
        if abs(total - dough_g) > _TOTAL_WITHIN * dough_g:
            draft.warnings.append(
                f"line {number}: the total says {total:g} g; the lines add up to {dough_g:.4g} g"
            )


def _take_shape(draft: Draft, text: str) -> bool:
    """Take the kind of pan that words tell without a size, where nothing else tells it; tell whether they do.

    A tin without a size stays the assumption that it is, and nobody is asked whether it is one.
    """
    told = ("griddle_side_min", "steam_min", "microwave_min", "pan_kind", "pieces", "thickness_cm")
    if any(draft.fields.get(f) for f in told) or "pan" in draft.key_lines or _FLAT.search(draft.title):
        return False
    single = names_rolls(draft.title)
    found = shape_in_words(text, single=single)
    if draft.fields.get("baked_on") == "hot pot" and not single:
        found = ("free_standing", "hot pot")
    if found is not None and found[0] not in ("tin", ""):
        draft.fields["pan_kind"] = found[0]
        draft.assumed.append(f"'{shown(found[1])}' is taken as pan: {said_pan({'pan_kind': found[0]})}")
    return found is not None


def _field_of_pieces(draft: Draft, count: int) -> str:
    """Tell what "makes 6" counts: rolls where the title is one of rolls, a few loaves, else slices."""
    return "loaves" if count <= _MOST_LOAVES and not names_rolls(draft.title) else "slices"


def _take_warmth(draft: Draft) -> None:
    if not draft.warmth:
        return
    water_g = sum(line.grams for line in draft.lines if "water" in line.ingredient.roles)
    # A warm drink is the dough's water where it is most of it; a little scalded paste in it is not.
    waters = [w for w in draft.warmth if w.is_water] or [w for w in draft.warmth if w.grams >= water_g]
    if not waters:
        return
    chosen = max(waters, key=lambda w: w.grams)
    if "water temp" not in draft.key_lines:
        draft.fields["water_c"] = chosen.celsius
        draft.assumed.append(f"line {chosen.number}: taken as water temp: {chosen.celsius:.4g} C")
        waters = [w for w in waters if w is not chosen]
    used = _number(draft.fields["water_c"])
    for warmth in waters:
        if warmth.is_water and abs(warmth.celsius - used) > 0.5:
            draft.warnings.append(
                f"line {warmth.number}: the temperature of {warmth.name}, {warmth.celsius:.4g} C, is not used; "
                f"water temp is {used:.4g} C"
            )


def _number(value: Value) -> float:
    return float(value) if isinstance(value, int | float) else 0.0


def _tell_what_was_passed_over(draft: Draft) -> None:
    if not draft.passed_over:
        return
    numbers = ", ".join(map(str, draft.passed_over[:12])) + (" ..." if len(draft.passed_over) > 12 else "")
    draft.warnings.append(
        f"line {numbers}: under a heading of the method and not read; "
        f"what matters there can be written as lines such as 'oven: 175 C for 70 min'"
    )


def _name_added_last(draft: Draft, names: NameIndex) -> None:
    """Turn what was added last into the name of an ingredient of the formula."""
    said = str(draft.fields["added_last"])
    here = {line.ingredient.id: line.ingredient for line in draft.lines}
    found = names.match(said)
    if found is not None and found.ingredient.id in here:
        draft.fields["added_last"] = found.ingredient.name
        return
    wanted = set(words_of(said))
    close = [e for e in here.values() if wanted and _is_called(e, wanted)]
    if len(close) != 1:
        if draft.problems:
            return  # its line may be among those that could not be read
        what = "is no ingredient of this formula" if not close else "can be more than one ingredient"
        called = ", ".join(e.name for e in (close or list(here.values()))[:6])
        raise LineFault(said, f"'{shown(said)}' {what}", f"write one of: {called}")
    draft.fields["added_last"] = close[0].name


def _is_called(ingredient: Ingredient, wanted: set[str]) -> bool:
    names = (ingredient.name, *ingredient.also, *ingredient.roles)
    return any(wanted <= set(words_of(name.replace("_", " "))) for name in names)
