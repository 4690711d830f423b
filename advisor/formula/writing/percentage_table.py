"""A formula as percentages: the dry base is 100 %, and each ingredient is given as a share of it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import one_line
from advisor.formula.writing.numerals import kitchen_grams


@dataclass(frozen=True, slots=True, kw_only=True)
class PercentageRow:
    """One ingredient over all its lines: grams, per cent of the dry base, per cent of the dough."""

    name: str
    grams: float
    of_base_pct: float
    of_dough_pct: float
    in_base: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PercentageTable:
    """The rows, dry base first and by falling weight, with the mass of base and dough in grams."""

    name: str
    base_g: float
    dough_g: float
    rows: tuple[PercentageRow, ...]
    unweighed: tuple[str, ...] = ()

    @property
    def total_pct(self) -> float:
        """All ingredients together, per cent of the dry base."""
        return 100 * self.dough_g / self.base_g


def percentage_table(formula: Formula) -> PercentageTable:
    """Give a formula as a table in which its dry base (flours, meals, proteins, fibres, gums) is 100 %.

    Raises:
        ValueError: no ingredient belongs to the dry base, so that nothing is 100 %.
    """
    sums: dict[str, float] = {}
    dry: dict[str, bool] = {}
    for line in formula.lines:
        sums[line.ingredient.name] = sums.get(line.ingredient.name, 0.0) + line.grams
        dry[line.ingredient.name] = line.ingredient.dry_base
    base = sum(grams for name, grams in sums.items() if dry[name])
    if base <= 0:
        raise ValueError(f"no ingredient of '{one_line(formula.name)}' belongs to the dry base")
    dough = sum(sums.values())
    rows = [
        PercentageRow(
            name=name,
            grams=grams,
            of_base_pct=100 * grams / base,
            of_dough_pct=100 * grams / dough,
            in_base=dry[name],
        )
        for name, grams in sums.items()
    ]
    rows.sort(key=lambda row: (not row.in_base, -row.grams, row.name))
    unweighed = tuple(dict.fromkeys(entry.ingredient.name for entry in formula.unweighed))
    return PercentageTable(
        name=formula.name, base_g=base, dough_g=dough, rows=tuple(rows), unweighed=unweighed
    )


def write_percentage_table(table: PercentageTable) -> str:
    """Give the table as text in columns, for people."""
    width = max(len(row.name) for row in table.rows)
    width = max(width, len("dry base"))
    out = [one_line(table.name), f"{'':{width}}  {'% of base':>9}  {'% of dough':>10}  {'g':>7}"]

    def row(name: str, of_base: float, of_dough: float, grams: float) -> str:
        return f"{name:{width}}  {of_base:9.1f}  {of_dough:10.1f}  {kitchen_grams(grams):>7}"

    out += (row(r.name, r.of_base_pct, r.of_dough_pct, r.grams) for r in table.rows if r.in_base)
    out.append(row("dry base", 100.0, 100 * table.base_g / table.dough_g, table.base_g))
    out += (row(r.name, r.of_base_pct, r.of_dough_pct, r.grams) for r in table.rows if not r.in_base)
    out.append(row("dough", table.total_pct, 100.0, table.dough_g))
    out += (f"{name:{width}}  no weight" for name in table.unweighed)
    return "\n".join(out) + "\n"
