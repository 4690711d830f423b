"""Many formulas at once: from texts, files, tables and folders to rows, CSV or a data frame."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from advisor.api.pool import in_order
from advisor.api.shared import default_advisor, load_knowledge, read_formula
from advisor.api.sources import Source, sources_of
from advisor.formula.files import formula_from_file
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.constraints import Constraints
from advisor.rendering.checked import AskedOfMany, Checked, checked, program_fault

if TYPE_CHECKING:
    import pandas as pd  # type: ignore[import-untyped,import-not-found,unused-ignore]  # an extra without types

Cell: TypeAlias = "str | float | int | bool | None"
Given: TypeAlias = "str | Path | Formula"
COLUMNS = (
    "formula",
    "exit",
    "risk",
    "symptom",
    "cause",
    "limit_broken",
    "no_all_clear",
    "guesses",
    "problems",
)
"""Columns before the figures: see `Checks.rows`."""
_RUNS = ("=", "+", "-", "@", "\t", "\r")
"""Starts of a cell that a spreadsheet would take for something to work out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checks:
    """What was found of many formulas, in the order in which they were given."""

    results: tuple[Checked, ...]

    def __iter__(self) -> Iterator[Checked]:
        """Go through the results."""
        return iter(self.results)

    def __len__(self) -> int:
        """How many formulas there are."""
        return len(self.results)

    def __repr__(self) -> str:
        """Say in a line how many came out how."""
        exits = [one.exit for one in self.results]
        parts = [f"{exits.count(0)} sound", f"{exits.count(1)} at risk or past a limit"]
        parts += [f"{exits.count(2)} not read"] if exits.count(2) else []
        parts += [f"{exits.count(3)} stopped by a fault of the program"] if exits.count(3) else []
        return f"<{len(exits)} formulas checked: {', '.join(parts)}>"

    def rows(self) -> list[dict[str, Cell]]:
        """Give a row a formula: its name, exit, largest risk with its symptom, first cause, problems, figures.

        `exit` is 0 where all risks are below the limit, 1 where not, 2 where it cannot be read, 3 for a fault of the
        program. The figures have their unit in the name; `None` stands where there is none.
        """
        knowledge = load_knowledge()
        names = list(dict.fromkeys(name for one in self.results for name in one.figures))
        return [row_of(one, knowledge, names) for one in self.results]

    def to_dict(self) -> dict[str, list[dict[str, Cell]]]:
        """Give the rows under one key."""
        return {"checks": self.rows()}

    def to_csv(self) -> str:
        """Give the rows as CSV (RFC 4180) with a heading; no cell of text can be taken for a sum by a spreadsheet."""
        return "".join(csv_lines(self.rows()))

    def to_frame(self) -> pd.DataFrame:
        """Give the rows as a data frame.

        Raises:
            ImportError: pandas is not installed; `rows` and `to_csv` do without it.
        """
        try:
            import pandas as pd  # type: ignore[import-untyped,import-not-found,unused-ignore]  # an extra without types
        except ImportError:
            raise ImportError(
                "a data frame needs pandas: pip install 'dough-advisor[frame]'; rows() and to_csv() do without it"
            ) from None
        rows = self.rows()
        return pd.DataFrame(rows, columns=list(rows[0]) if rows else list(COLUMNS))

    def _repr_html_(self) -> str:
        from advisor.explanation.blocks import Table
        from advisor.rendering.html import html_part

        rows = tuple(tuple((str(row[name]),) for name in _IN_NOTEBOOK) for row in self._short())
        table = Table(caption="Formulas", head=_IN_NOTEBOOK, rows=rows, figures=frozenset({1}))
        return html_part((table,))

    def _short(self) -> Iterator[Mapping[str, Cell]]:
        for row in self.rows():
            risk = row["risk"]
            yield {**row, "risk": "-" if risk is None else f"{100 * float(risk):.0f} %"}


_IN_NOTEBOOK = ("formula", "risk", "symptom", "cause", "problems")


def row_of(one: Checked, knowledge: Knowledge, figures: Iterable[str]) -> dict[str, Cell]:
    """Give one result as a row: names of symptom and cause as people read them, figures by the names asked for."""
    symptom = knowledge.symptoms.get(one.symptom or "")
    cause = knowledge.causes.get(one.cause or "")
    row: dict[str, Cell] = {
        "formula": one.source,
        "exit": one.exit,
        "risk": None if one.risk is None else round(one.risk, 4),
        "symptom": symptom.name.lower() if symptom else None,
        "cause": cause.name.lower() if cause else None,
        "limit_broken": one.broken,
        "no_all_clear": one.no_all_clear,
        "guesses": "; ".join(one.guesses) or None,
        "problems": "; ".join(one.problems) or None,
    }
    return row | {name: one.figures.get(name) for name in figures}


def csv_lines(rows: Iterable[Mapping[str, Cell]]) -> Iterator[str]:
    """Give rows as lines of CSV, the heading first; all have the keys of the first."""
    heading: list[str] = []
    for row in rows:
        if not heading:
            heading = list(row)
            yield _line(heading)
        yield _line([_cell(row.get(name)) for name in heading])


def _line(cells: Iterable[str]) -> str:
    stream = io.StringIO(newline="")
    csv.writer(stream, lineterminator="\r\n").writerow(cells)
    return stream.getvalue()


def _cell(value: Cell) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float():
            return f"{value:.6g}"
        case int():
            return str(value)
    text = str(value)
    return f"'{text}" if text.startswith(_RUNS) else text


def check_many(
    given: Given | Iterable[Given],
    constraints: Constraints | None = None,
    *,
    region: str = "us",
    jobs: int = 1,
    in_full: bool = False,
) -> Checks:
    """Check many formulas; one that cannot be read stops no other.

    Args:
        given: folders, files, tables of several formulas (.csv, .tsv, .xlsx), names of demo formulas, formulas
            already read, or texts (what has a line break); one of them or many.
        constraints: limits that count as a fault when broken.
        region: whose cups and spoons (us, metric, uk, au).
        jobs: processes that work beside each other.
        in_full: also keep the whole answer, with proposals, as JSON text in `Checked.document`.

    Raises:
        advisor.knowledge_base.faults.InputFault: a folder that holds no formula.
    """
    knowledge = load_knowledge()
    asked = AskedOfMany(
        limits=constraints or Constraints(),
        risk_limit=knowledge.coefficient("risk_limit"),
        region=region,
        documents=in_full,
    )
    some = [given] if isinstance(given, str | Path | Formula) else list(given)
    things = [thing for number, one in enumerate(some, 1) for thing in _things(one, number, knowledge)]
    return Checks(results=tuple(in_order(partial(_check, asked=asked), things, jobs, _killed)))


_Thing: TypeAlias = "tuple[str, Source | Formula | str]"


def _things(one: Given, number: int, knowledge: Knowledge) -> list[_Thing]:
    if isinstance(one, Formula):
        return [(one.name, one)]
    if isinstance(one, str) and "\n" in one:
        return [(f"formula {number}", one)]
    return [(source.name, source) for source in sources_of([str(one)], knowledge)]


def _check(thing: _Thing, asked: AskedOfMany) -> Checked:
    name, what = thing
    if isinstance(what, Source):
        return check_source(what, asked)

    def read() -> Formula:
        return what if isinstance(what, Formula) else read_formula(what, name=name, region=asked.region)

    return checked(name, read, default_advisor, asked)


def check_source(source: Source, asked: AskedOfMany) -> Checked:
    """Check one formula of a folder, file or table; what is wrong with it stands in the answer."""
    if source.problem:
        return Checked(source=source.name, exit=2, problems=(source.problem,))
    return checked(
        source.name,
        lambda: formula_from_file(source.path, load_knowledge(), region=asked.region, part=source.part),
        default_advisor,
        asked,
    )


def _killed(thing: _Thing, fault: BaseException) -> Checked:
    return killed(thing[0], fault)


def killed(name: str, fault: BaseException) -> Checked:
    """Answer for a formula that kills whatever checks it."""
    return Checked(source=name, exit=3, problems=(program_fault(name, fault),))
