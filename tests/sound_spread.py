"""How bands lie to the sound formulas: `PYTHONPATH=.:tests python tests/sound_spread.py [--verdicts]`.

All sound formulas are measured: our own, and those of strangers by round, read as a person reads them where the
program misreads them (tests/outside/strangers/sound_as_meant.json). For each band, by kind and structure, and each of
its edges, a line tells how many formulas it judges, their middle and spread, the edge, the tolerance limit, how many
lie outside, and how many of a round lie outside the limit made from the other rounds.

The rule by which `calibrated` edges that name this file are made: an edge outside of which two formulas or more lie,
and more than `OUTSIDE` of all, moves out to the one-sided tolerance limit `EDGE` of one further formula, and its step
ends at the limit `FULL`. Spread by the median's deviations, drawn towards that of the measure over all kinds as if
`PRIOR` formulas had shown it; Student's t for the small number. Edges are not drawn in: sound formulas show what bakers
do and not what a loaf bears, and edges drawn in to them alarmed on the next round's.

`--verdicts` examines each round with the edges that the other rounds give, and the gross errors that bakers marked.
"""

from __future__ import annotations

import dataclasses
import json
import math
import statistics
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path

from blind_gross import wilson
from case_files import balanced_names, demo, sound_cases
from scipy import stats

from advisor import default_advisor, load_knowledge, read_formula
from advisor.diagnosis.pipeline import Examiner, Measured
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Band

STRANGERS = Path(__file__).parent / "outside" / "strangers"
OUTSIDE, EDGE, FULL, PRIOR = 0.1, 0.95, 0.98, 16
STRAIGHT = {"pull_margin_min", "oven_set_c", "toasting_min", "dough_temp_c"}
"""Measures that lie as degrees and minutes do; others by their logarithm, or by their root where only much is amiss."""
NOT_BY_SPREAD = {
    "core_at_pull_c", "door_margin_min", "probe_margin_min", "lift_shortfall", "residual_soda_meq", "residual_acid_meq",
    "gluten_pct_of_dry", "psyllium_pct_of_dry", "early_gas_share", "late_gas_share", "co2_chemical", "rise_over_pan",
    "collagen_share", "whey_share", "film_strength", "inhibitor_per_yeast", "polyol_g_per_slice",
}  # fmt: skip
"""Limits of physics and taste, and shares that are nought in most doughs."""


@dataclasses.dataclass(frozen=True, slots=True)
class Sound:
    """One sound formula, measured; `values` are (band that judges it, value)."""

    round: str
    id: str
    formula: Formula
    measured: Measured
    values: tuple[tuple[Band, float], ...]


@dataclasses.dataclass(frozen=True, slots=True)
class Spread:
    """Formulas under one band in its own form: middle, deviation of one further formula, degrees of freedom."""

    form: str
    middle: float
    deviation: float
    freedom: float

    def limit(self, share: float, side: int) -> float:
        """The value that a further formula stays within, on one side, with this chance."""
        return back(self.form, self.middle + side * float(stats.t.ppf(share, self.freedom)) * self.deviation)


def form_of(band: Band) -> str:
    """How values of a band are laid out before their spread is taken."""
    return "straight" if band.measure in STRAIGHT else "root" if band.low is None else "log"


def laid_out(form: str, value: float) -> float:
    """A value in its form."""
    if form == "straight":
        return value
    return math.sqrt(max(value, 0.0)) if form == "root" else math.log(max(value, 1e-3))


def back(form: str, value: float) -> float:
    """A value out of its form."""
    return value if form == "straight" else max(value, 0.0) ** 2 if form == "root" else math.exp(value)


def texts() -> Iterator[tuple[str, str, Formula]]:
    """All sound formulas with their round and id."""
    yield from (("own", name, demo(name)) for name in balanced_names())
    yield from (("own", case.id, read_formula(case.text)) for case in sound_cases())
    meant = json.loads((STRANGERS / "sound_as_meant.json").read_text("utf-8"))
    for folder in sorted(STRANGERS.glob("round_*")):
        for kind in ("sound", "bakes"):
            path = folder / f"{kind}.json"
            for entry in json.loads(path.read_text("utf-8")) if path.exists() else ():
                if kind == "bakes" and entry["fault_type"] != "sound":
                    continue
                name = f"{kind} {entry['id']}"
                with suppress(
                    FormulaFault
                ):  # of the later rounds some are refused, and nobody has gone over them
                    yield folder.name, name, read_formula(meant.get(folder.name, {}).get(name, entry["text"]))


def sound_formulas(examiner: Examiner) -> list[Sound]:
    """Measure every sound formula, and find the band that judges each of its measures."""
    found = []
    for round_, name, formula in texts():
        measured = examiner.measured(formula)
        view = examiner.kinds.of(measured.workings.dough_state)
        judged = examiner.examine(formula, after_bake=False, measured=measured, ranked=False).inference.judged
        structure = max(measured.structures, key=lambda s: measured.structures[s])
        values = []
        for measure, one in judged.items():
            bands = view.bands.by_measure.get(measure, {})
            band = bands.get(structure, bands.get("any"))
            if band is not None and measure not in NOT_BY_SPREAD:
                values.append((band, one.value))
        found.append(Sound(round_, name, formula, measured, tuple(values)))
    return found


def by_band(formulas: Iterable[Sound]) -> dict[Band, list[float]]:
    """Values under each band."""
    out: dict[Band, list[float]] = defaultdict(list)
    for one in formulas:
        for band, value in one.values:
            out[band].append(value)
    return out


def spreads(values: Mapping[Band, list[float]]) -> dict[Band, Spread]:
    """Spread under each band, drawn towards that of its measure under all bands."""
    kept: dict[Band, tuple[list[float], float, float]] = {}
    pooled: dict[tuple[str, str], list[tuple[int, float]]] = defaultdict(list)
    for band, raw in values.items():
        form = form_of(band)
        laid = [laid_out(form, v) for v in raw]
        middle = statistics.median(laid)
        typical = 1.4826 * statistics.median([abs(v - middle) for v in laid])
        kept[band] = (laid, middle, typical)
        if len(laid) >= 4:
            pooled[band.measure, form].append((len(laid) - 1, typical**2))
    out = {}
    for band, (laid, middle, typical) in kept.items():
        form = form_of(band)
        over_all = pooled[band.measure, form]
        prior = sum(n * v for n, v in over_all) / sum(n for n, _ in over_all) if over_all else 0.0
        far = 3 * max(typical, math.sqrt(prior))
        if prior <= 0:
            continue
        held = [
            min(max(v, middle - far), middle + far) for v in laid
        ]  # one that is read wrongly may not widen a band
        mean = statistics.fmean(held)
        freedom = PRIOR + len(held) - 1
        variance = (PRIOR * prior + sum((v - mean) ** 2 for v in held)) / freedom
        out[band] = Spread(form, mean, math.sqrt(variance * (1 + 1 / len(held))), freedom)
    return out


def outside(band: Band, side: int, values: Iterable[float]) -> int:
    """How many values lie past one edge of a band."""
    edge = band.low if side < 0 else band.high
    return 0 if edge is None else sum((v - edge) * side > 1e-9 for v in values)


def moved(band: Band, spread: Spread, values: list[float]) -> Band:
    """The band with the edges moved that too many sound formulas lie outside of."""
    changes: dict[str, float | None] = {"low": band.low, "high": band.high, "scale": None}
    changes |= {"low_scale": band.step_below, "high_scale": band.step_above}
    for name, side, step in (("low", -1, band.step_below), ("high", 1, band.step_above)):
        edge = band.low if side < 0 else band.high
        past = outside(band, side, values)
        if edge is None or step is None or past < 2 or past <= OUTSIDE * len(values):
            continue
        new = side * max(side * edge, side * spread.limit(EDGE, side))
        end = side * max(side * (edge + side * step), side * spread.limit(FULL, side))
        changes |= {name: new, f"{name}_scale": max(side * (end - new), step / 2)}
    return band.model_copy(update=changes)


def knowledge_with(knowledge: Knowledge, new: Mapping[Band, Band]) -> Knowledge:
    """The knowledge with some bands exchanged."""

    def exchanged(bands: tuple[Band, ...]) -> tuple[Band, ...]:
        return tuple(new.get(band, band) for band in bands)

    kinds = {
        name: kind.model_copy(
            update={
                "bands": exchanged(kind.bands),
                "variants": tuple(v.model_copy(update={"bands": exchanged(v.bands)}) for v in kind.variants),
            }
        )
        for name, kind in knowledge.kinds.items()
    }
    return dataclasses.replace(knowledge, bands=exchanged(knowledge.bands), kinds=kinds)


def derived(formulas: list[Sound]) -> dict[Band, Band]:
    """Bands that these formulas move by more than the rounding of what is written, with what they become."""
    values = by_band(formulas)
    new = {band: moved(band, spread, values[band]) for band, spread in spreads(values).items()}

    def stays(before: float | None, after: float | None) -> bool:
        return math.isclose(before or 0.0, after or 0.0, rel_tol=0.01)

    return {b: one for b, one in new.items() if not (stays(b.low, one.low) and stays(b.high, one.high))}


def table(formulas: list[Sound]) -> Iterator[str]:
    """One line an edge."""
    values, rounds = by_band(formulas), sorted({one.round for one in formulas} - {"own"})
    whole = spreads(values)
    without = {r: spreads(by_band(one for one in formulas if one.round != r)) for r in rounds}
    for band in sorted(whole, key=lambda b: (b.measure, b.structures, b.low or 0, b.high or 0)):
        for side, edge in ((-1, band.low), (1, band.high)):
            if edge is None:
                continue
            further = missed = 0
            for r in rounds:
                there = by_band(one for one in formulas if one.round == r).get(band, [])
                if there and band in without[r]:
                    further += len(there)
                    missed += sum((v - without[r][band].limit(EDGE, side)) * side > 0 for v in there)
            spread, form, end = whole[band], whole[band].form, "low" if side < 0 else "high"
            yield (
                f"{band.measure} {'/'.join(band.structures)} {end}: {len(values[band])} formulas, "
                f"middle {back(form, spread.middle):.3g}, spread {spread.deviation:.2g} ({form}); edge {edge:.3g}, "
                f"limit {spread.limit(EDGE, side):.3g}, outside the edge {outside(band, side, values[band])}, "
                f"outside the others' limit {missed} of {further}"
            )


def verdict(examiner: Examiner, formula: Formula, measured: Measured | None = None) -> str:
    """Quiet, alarm or not judged."""
    found = examiner.examine(formula, after_bake=False, measured=measured, ranked=False)
    worst = max(risk.risk for risk in found.diagnosis.risks.values())
    if worst >= examiner.knowledge.coefficient("risk_limit") or found.far_out:
        return "alarm"
    return "not judged" if found.no_all_clear else "quiet"


def gross_errors() -> list[tuple[str, str, str]]:
    """Round, mark and text of every gross error."""
    files = (STRANGERS / "gross_errors_1_and_2.json", *sorted(STRANGERS.glob("round_*/gross.json")))
    entries = [e for path in files for e in json.loads(path.read_text("utf-8"))]
    return [(f"round_{e['round']}", e["mark"], e["edited_text"]) for e in entries]


def verdicts(formulas: list[Sound]) -> Iterator[str]:
    """Each round with the edges that the others give: sound formulas quiet, gross errors caught."""
    gross = gross_errors()
    for left_out in sorted({one.round for one in formulas} - {"own"}):
        others = derived([one for one in formulas if one.round != left_out])
        examiner = Examiner(knowledge_with(load_knowledge(), others))
        here = [one for one in formulas if one.round == left_out]
        quiet = sum(verdict(examiner, one.formula, one.measured) == "quiet" for one in here)
        line = f"{left_out} left out: sound and quiet {wilson(quiet, len(here))}"
        for mark in ("spoils", "harmless", "unsure"):
            found = []
            for _, _, text in (e for e in gross if e[:2] == (left_out, mark)):
                try:
                    found.append(verdict(examiner, read_formula(text)))
                except FormulaFault:
                    found.append("refused")
            if found:
                line += f"; {mark}, caught {wilson(found.count('alarm'), len(found))}"
        yield line


def main() -> None:
    """Print the table, the edges that have to move, and the verdicts if they are asked for."""
    formulas = sound_formulas(default_advisor().examiner)
    print("\n".join(table(formulas)))
    for band, new in derived(formulas).items():
        print(f"MOVE {band.measure} {'/'.join(band.structures)}: {band.low} to {band.high} -> "
              f"{new.low} (step {new.low_scale}) to {new.high} (step {new.high_scale})")  # fmt: skip
    if "--verdicts" in sys.argv:
        print("\n".join(verdicts(formulas)))


if __name__ == "__main__":
    main()
