"""What many tests ask again of the same formula, at a second each time, is worked out once in a session.

That is what slips of the hand and of the scales would have made of it, and how sure its numbers are. All are frozen and
hang on the formula and on what was told of the loaf alone. `conftest.py` lays this over the package before any test.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import cache, wraps
from typing import Any

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.diagnosis.slip_hypotheses import HypothesisBook
from advisor.explanation import further
from advisor.interface.commands import command_line
from advisor.remedy import assessing

_MOST = 60


class Kept:
    """Results of one function by what it was asked, the last few of them."""

    def __init__(self) -> None:
        self._results: dict[Hashable, Any] = {}

    def of(self, key: Hashable, make: Callable[[], Any], *alive: object) -> Any:
        """Give what was made for a key, or make it; `alive` are the objects whose ids stand in the key."""
        if (found := self._results.get(key)) is not None:
            return found[0]
        result = make()
        self._results[key] = result, alive
        for oldest in list(self._results)[:-_MOST]:
            self._results.pop(oldest, None)
        return result


def key_of(examiner: Examiner, found: Examination) -> tuple[Hashable, ...]:
    """Everything that was examined; ingredients by which they are, since they hold lists."""
    formula, told = found.formula, found.situation
    lines = tuple(
        (x.text, x.number, id(x.ingredient), x.grams, x.conversion, x.grade, x.counted, x.traits, x.section,
         x.age_months, x.celsius)
        for x in formula.lines
    )  # fmt: skip
    return (
        id(examiner), formula.name, lines, formula.process, formula.assumed, formula.warnings, found.after_bake,
        tuple(told.symptoms.items()), tuple(told.answers.items()),
    )  # fmt: skip


def keep_looks() -> None:
    """Lay the kept results over the package."""
    made, slips, sure = HypothesisBook._made, assessing.slips, further.uncertainty_of
    books, off, intervals = Kept(), Kept(), Kept()

    @wraps(made)
    def made_once(self: HypothesisBook, found: Examination) -> Any:
        # The book is made before anything is seen or answered, whatever was.
        resting = key_of(self._examiner, found)[:-3]
        return books.of(resting, lambda: made(self, found), self._examiner, found.formula)

    @wraps(slips)
    def slips_once(examiner: Examiner, before: Examination) -> Any:
        return off.of(key_of(examiner, before), lambda: slips(examiner, before), examiner, before.formula)

    @wraps(sure)
    def sure_once(found: Examination, examiner: Examiner) -> Any:
        key = key_of(examiner, found)
        return intervals.of(key, lambda: sure(found, examiner), examiner, found.formula)

    # Thirty commands with all their options take 8 ms to describe, and hang on nothing.
    command_line.build_parser = cache(command_line.build_parser)
    HypothesisBook._made = made_once
    assessing.slips = slips_once
    further.uncertainty_of = sure_once
