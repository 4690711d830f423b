"""A list to print and to weigh by: what goes on the scale, rounded as a scale can show it, in the order of the text."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula, Line
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.formula.writing.as_text import one_line


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaleSteps:
    """What the scales can show, g: a fine one up to a weight, a coarse one above it (common practice, no source)."""

    fine_g: float = 0.1
    fine_up_to_g: float = 20.0
    coarse_g: float = 1.0

    def shown(self, grams: float) -> float:
        """Round grams to what the scale shows; something is never rounded to nothing."""
        step = self.fine_g if grams < self.fine_up_to_g else self.coarse_g
        return round(max(round(grams / step), 1) * step, 6)


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighingEntry:
    """One thing to weigh; `grams` is what the scale shows, `None` where the formula gives no weight."""

    section: str
    name: str
    grams: float | None
    note: str = ""
    running_g: float | None = None


def weighing_list(formula: Formula, steps: ScaleSteps | None = None) -> tuple[WeighingEntry, ...]:
    """Give the entries in the order of the text, each with the running sum of what is in the bowl, g."""
    scale = steps or ScaleSteps()
    entries: list[WeighingEntry] = []
    total = 0.0
    for line in formula.lines:
        grams = scale.shown(line.grams)
        total = round(total + grams, 6)
        entries.append(
            WeighingEntry(
                section=line.section,
                name=line.ingredient.name,
                grams=grams,
                note=_note(line),
                running_g=total,
            )
        )
    entries += (
        WeighingEntry(section=e.section, name=e.ingredient.name, grams=None, note="no weight given")
        for e in formula.unweighed
    )
    return tuple(entries)


def _note(line: Line) -> str:
    pieces = "" if line.counted is None else f"{line.counted} x"
    states = [WORD_FOR_TRAIT[t] for t in line.traits if t in WORD_FOR_TRAIT]
    return ", ".join([p for p in (pieces, *states) if p])


def write_weighing_list(formula: Formula, steps: ScaleSteps | None = None) -> str:
    """Give the list as text to print, one box to tick an entry, with the running sum behind it."""
    entries = weighing_list(formula, steps)
    out = [one_line(formula.name)]
    width = max((len(_called(entry)) for entry in entries), default=0)
    section = ""
    for entry in entries:
        if entry.section != section:
            section = entry.section
            out.append(f"{section}:" if section else "")
        if entry.grams is None:
            out.append(f"[ ] {'':>9}  {_called(entry)}")
            continue
        out.append(
            f"[ ] {_grams(entry.grams):>7} g  {_called(entry):{width}}  {_grams(entry.running_g or 0.0):>8} g"
        )
    total = next((e.running_g for e in reversed(entries) if e.running_g is not None), 0.0)
    out.append(f"    {_grams(total or 0.0):>7} g  in all")
    return "\n".join(out) + "\n"


def _called(entry: WeighingEntry) -> str:
    return f"{entry.name} ({entry.note})" if entry.note else entry.name


def _grams(grams: float) -> str:
    return f"{grams:.1f}" if grams < 100 and grams != int(grams) else f"{grams:.10g}"
