"""The formula that a page asks about: its text, with the amounts and times as they were moved, under the limits set."""

from __future__ import annotations

from argparse import Namespace
from functools import lru_cache
from typing import cast

from advisor import default_advisor, load_knowledge
from advisor.formula.formula import Formula
from advisor.formula.reading import report_on_text
from advisor.formula.reports import ReadReport
from advisor.interface.desk.advisor_choice import constraints_from
from advisor.interface.desk.own_places import record_path
from advisor.interface.desk.record_learnt import in_this_kitchen
from advisor.interface.page.asked import Asked
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.assessing import Advisor
from advisor.remedy.change import with_amounts
from advisor.remedy.constraints import LIMITS, Constraints
from advisor.rendering.baker_units import follow, use_units
from advisor.rendering.quantities import Units

AS_WRITTEN = "written"
UNITS = ("metric", "us", "uk", AS_WRITTEN)
"""What a page may write in; as long as its baker has chosen none of them, in what the formula is written in."""
REGIONS = ("us", "metric", "uk", "au")
MOST_G, HOTTEST_C, LONGEST_MIN, MOST_LIMIT = 1e6, 350.0, 2000.0, 1e5
"""What a field of the page takes at the most."""
NAME = "Your formula"
"""What a formula without a title is called in messages."""


@lru_cache(maxsize=16)
def _report(text: str, region: str) -> ReadReport:
    return report_on_text(text, load_knowledge(), name=NAME, region=region)


def report_asked(asked: Asked) -> ReadReport:
    """Read the text of a page, line by line.

    Raises:
        FormulaFault: the text is refused whole.
        InputFault: what was sent is no text.
    """
    return _report(asked.text("text"), asked.choice("region", REGIONS))


def take_units(asked: Asked) -> None:
    """Write in the units that a page asks for.

    Raises:
        InputFault: there are none of that name.
    """
    wished = asked.choice("units", UNITS)
    use_units("metric" if wished == AS_WRITTEN else cast(Units, wished), chosen=wished != AS_WRITTEN)
    if wished == AS_WRITTEN:
        follow(asked.text("text"))


def formula_asked(asked: Asked) -> Formula:
    """Give the formula of a page as it stands, with what was moved.

    Raises:
        FormulaFault: the text cannot be read as a formula.
        InputFault: a move of something that is not there, or out of bounds.
    """
    formula = report_asked(asked).required()
    moved = asked.numbers("moved", 0.0, MOST_G)
    places = {str(place) for place in range(len(formula.lines))}
    if unknown := sorted(set(moved) - places):
        raise InputFault(f"there is no line {unknown[0]} to move")
    if moved:
        formula = with_amounts(formula, {int(place): grams for place, grams in moved.items()})
        if not formula.lines:
            raise InputFault("nothing is left in the formula; give one line an amount")
    oven, minutes = asked.number("oven_c", 20.0, HOTTEST_C), asked.number("bake_min", 1.0, LONGEST_MIN)
    changes = {name: value for name, value in (("oven_c", oven), ("bake_min", minutes)) if value is not None}
    return formula.with_process(**changes) if changes else formula


def limits_asked(asked: Asked) -> Constraints:
    """Read the limits of a page.

    Raises:
        InputFault: an ingredient or allergen that is not known.
    """
    on_hand = asked.words("on_hand")
    options = Namespace(
        **{limit.name: asked.number(limit.name, 0.01, MOST_LIMIT) for limit in LIMITS},
        avoid=list(asked.words("avoid")),
        on_hand=list(on_hand) or None,
    )
    return constraints_from(options, load_knowledge())


def advisor_here() -> Advisor:
    """The advisor with what this kitchen's own bakes have taught."""
    path = record_path()
    try:
        state = path.stat()
    except OSError:
        return default_advisor()
    return _learnt(str(path), state.st_mtime_ns, state.st_size)


@lru_cache(maxsize=2)
def _learnt(path: str, changed_ns: int, size: int) -> Advisor:
    """Learnt once for each state of the record."""
    return in_this_kitchen(default_advisor(), Namespace(record=None, no_learning=False))


def warmed(asked: Asked) -> None:
    """Look at a formula once, so that all that is made at first use is there when a baker comes."""
    from advisor.formula.files import formula_from_file

    path = next(iter(load_knowledge().formulas.values()))
    advisor_here().check(formula_from_file(path, load_knowledge()))
