"""How far the product agrees with findings kept apart: python tests/outside/kept_apart.py FILE...

Each entry of a file is a base formula and a changed one, as text, with the sign that a source found for some measures.
Both are measured, and each sign is `right`, `wrong` or `silent`. Silence counts against: a move smaller than a step
that a baker would notice, or no value at all. A `0` is right where the move is smaller than the step. The same count
is given at half a step. Intervals are Wilson's, with the number of trials lowered for signs of one finding going
together. Printed numbers are held against the tolerances below, which are fixed before a run.

The last hex digit of sha256(id) parts a file of findings in two halves: even is kept apart, odd is to build on.
"""

from __future__ import annotations

import hashlib
import math
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

import yaml  # noqa: E402
from edited_texts import wilson  # noqa: E402

from advisor import default_advisor, load_knowledge  # noqa: E402
from advisor.formula.faults import FormulaFault  # noqa: E402
from advisor.formula.reading import read_formula_text  # noqa: E402

UNREAD: list[str] = []
"""Texts of formulas that could not be read."""
Outcome = Literal["right", "wrong", "silent"]


@dataclass(frozen=True)
class Reading:
    """How a published measure is read off the product: which of ours, and the least move that a baker would notice.

    `share` is a relative step, `step` an absolute one in our unit; `turned` where ours grows as theirs falls.
    """

    ours: str
    share: float = 0.0
    step: float = 0.0
    turned: bool = False

    def least(self, was: float) -> float:
        """The step from a value, in our unit."""
        return self.step + self.share * abs(was)


READINGS = {
    "specific_volume": Reading("cooled_volume", share=0.05),
    "loaf_height": Reading("cooled_height_cm", share=0.05),
    "crumb_hardness": Reading("crumb_firmness", share=0.10),
    "crumb_softness_on_day_2": Reading("firmness_day_2", share=0.10, turned=True),
    "firming_rate": Reading("firming_per_day", share=0.10),
    "chewiness": Reading("chew", share=0.10),
    "cohesiveness": Reading("slice_strength", share=0.10),
    "slice_strength": Reading("slice_strength", share=0.10),
    "springiness": Reading("springiness", share=0.03),
    "crust_lightness": Reading("crust_lightness", step=2.0),
    "crust_browning": Reading("crust_lightness", step=2.0, turned=True),
    "crumb_lightness": Reading("crumb_lightness", step=2.0),
    "ph": Reading("crumb_ph", step=0.1),
    "sourness": Reading("crumb_ph", step=0.1, turned=True),
    "bake_loss": Reading("bake_loss_pct", step=0.5),
    "crumb_moisture": Reading("crumb_moisture_pct", step=0.5),
    "water_absorption": Reading("water_need_pct", step=1.5),
    "dough_stiffness": Reading("dough_stiffness", share=0.10),
    "dough_stickiness": Reading("dough_stiffness", share=0.10, turned=True),
    "gas_production": Reading("gas_before_set", share=0.05),
    "proof_time_needed": Reading("proof_need_min", share=0.05),
    "cell_size": Reading("cell_size", share=0.10),
    "shelf_life_mould": Reading("days_without_mould", share=0.10),
}
"""Steps are our judgement of what is noticed: 5 % of volume, a tenth of firmness, two points of lightness, half a point
of loss, a tenth of pH, a point and a half of absorption (common practice, no source)."""


@dataclass(frozen=True)
class Tolerance:
    """How near a number must come: within `step` of it, or the ratio changed over base within a `factor`."""

    step: float | None = None
    factor: float | None = None


TOLERANCES = {
    "specific_volume": Tolerance(factor=1.12),
    "loaf_height": Tolerance(factor=1.12),
    "crumb_hardness": Tolerance(factor=1.5),
    "firming_rate": Tolerance(factor=1.5),
    "chewiness": Tolerance(factor=1.5),
    "crust_lightness": Tolerance(step=6.0),
    "crumb_lightness": Tolerance(step=6.0),
    "ph": Tolerance(step=0.3),
    "bake_loss": Tolerance(step=2.0),
    "crumb_moisture": Tolerance(step=3.0),
    "water_absorption": Tolerance(factor=1.08),
    "gas_production": Tolerance(factor=1.15),
    "proof_time_needed": Tolerance(factor=1.2),
    "shelf_life_mould": Tolerance(factor=1.4),
}


@dataclass(frozen=True)
class Tried:
    """One sign of one finding with what the product made of it, at the whole step and at half of it."""

    finding: str
    measure: str
    sign: str
    whole: Outcome
    half: Outcome
    said: str


def kept_apart(finding_id: str) -> bool:
    """Whether a finding is kept apart: the last hex digit of its id's sha256 is even."""
    return int(hashlib.sha256(finding_id.encode()).hexdigest()[-1], 16) % 2 == 0


@cache
def _values(text: str) -> dict[str, float | None]:
    try:
        formula = read_formula_text(text, load_knowledge(), name="kept apart")
    except FormulaFault:
        # A formula that cannot be read is silence on all its signs, and is counted below the table.
        UNREAD.append(text)
        return {}
    measures = default_advisor().examiner.measured(formula).workings.measures
    return {name: measure.value for name, measure in measures.by_id.items()}


def _outcome(sign: str, move: float, least: float) -> Outcome:
    if sign == "0":
        return "right" if abs(move) < least else "wrong"
    if abs(move) < least:
        return "silent"
    return "right" if (move > 0) == (sign == "+") else "wrong"


def try_sign(finding: str, measure: str, sign: str, was: float | None, now: float | None) -> Tried:
    """Judge one sign from our values before and after the change."""
    reading = READINGS.get(measure)
    if reading is None or was is None or now is None:
        return Tried(finding, measure, sign, "silent", "silent", "no value")
    move = (was - now) if reading.turned else (now - was)
    least = reading.least(was)
    said = f"{reading.ours} {was:.3g} to {now:.3g}"
    return Tried(
        finding, measure, sign, _outcome(sign, move, least), _outcome(sign, move, least / 2), said
    )  # fmt: skip


def try_entry(entry: dict[str, Any]) -> list[Tried]:
    """Measure both formulas of a finding and judge each of its signs."""
    was, now = _values(entry["base"]), _values(entry["changed"])
    out = []
    for measure, sign in entry["findings"].items():
        ours = READINGS[measure].ours if measure in READINGS else measure
        out.append(try_sign(entry["id"], measure, str(sign), was.get(ours), now.get(ours)))
    return out


def try_numbers(entry: dict[str, Any]) -> list[tuple[str, bool, str]]:
    """Hold the printed numbers of a finding against ours: (measure, near enough, what was said)."""
    out = []
    for measure, numbers in (entry.get("numbers") or {}).items():
        within, reading = TOLERANCES.get(measure), READINGS.get(measure)
        if within is None or reading is None or len(numbers) < 2:
            continue
        base, changed = (x if isinstance(x, int | float) else None for x in numbers[:2])
        was, now = (_values(entry[side]).get(reading.ours) for side in ("base", "changed"))
        near = was is not None and now is not None and _near(within, base, changed, was, now)
        out.append((measure, near, f"{entry['id']} {measure} {base} to {changed}, ours {was} to {now}"))
    return out


def _near(within: Tolerance, base: float | None, changed: float | None, was: float, now: float) -> bool:
    if within.factor is not None:
        if not (base and changed and was and now):
            return False
        return abs(math.log(now / was) - math.log(changed / base)) <= math.log(within.factor)
    pairs = [(p, o) for p, o in ((base, was), (changed, now)) if p is not None]
    return bool(pairs) and all(abs(o - p) <= (within.step or 0.0) for p, o in pairs)


def clustered(hits: Sequence[tuple[str, bool]]) -> tuple[float, float]:
    """Wilson's interval with the trials lowered by how far signs of one finding go together.

    Design effect: variance of the share taken over findings, over that of independent signs (Kish 1965), at least 1.
    """
    n = len(hits)
    p = sum(hit for _, hit in hits) / n
    apart = sum((sum(hit - p for i, hit in hits if i == one)) ** 2 for one in {i for i, _ in hits})
    alone = n * p * (1 - p)
    effect = max(apart / alone, 1.0) if alone > 0 else 1.0
    return wilson(p * n / effect, n / effect)  # type: ignore[arg-type]


def _row(name: str, tried: Sequence[Tried]) -> str:
    count = [sum(t.whole == o for t in tried) for o in ("right", "wrong", "silent")]
    low, high = clustered([(t.finding, t.whole == "right") for t in tried])
    half = sum(t.half == "right" for t in tried)
    share = f"{100 * count[0] / len(tried):.0f} % ({100 * low:.0f} to {100 * high:.0f})"
    cells = (
        name,
        len({t.finding for t in tried}),
        len(tried),
        *count,
        share,
        f"{100 * half / len(tried):.0f} %",
    )
    return "| " + " | ".join(map(str, cells)) + " |"


def table(tried: Sequence[Tried]) -> str:
    """Write the counts: a row a measure, then all."""
    lines = [
        "| measure | findings | signs | right | wrong | silent | right (95 %) | at half a step |",
        "|" + "---|" * 8,
    ]
    names = sorted({t.measure for t in tried}, key=lambda m: (-sum(t.measure == m for t in tried), m))
    lines += [_row(name, [t for t in tried if t.measure == name]) for name in names]
    return "\n".join([*lines, _row("all", tried)])


def entries(paths: Iterable[Path]) -> list[dict[str, Any]]:
    """Read the files of findings; the loader is plain, since these files are not the product's."""
    return [entry for path in paths for entry in yaml.safe_load(path.read_text("utf-8"))]


def main(argv: Sequence[str]) -> None:
    """Print the tables; `--each` also lists the signs, which is for findings to build on only."""
    UNREAD.clear()
    found = entries(Path(a) for a in argv if not a.startswith("--"))
    for kind in sorted({e["evidence"] for e in found}):
        some = [e for e in found if e["evidence"] == kind]
        tried = [t for e in some for t in try_entry(e)]
        print(f"\nEvidence {kind}\n\n{table(tried)}")
        numbers = [n for e in some for n in try_numbers(e)]
        if numbers:
            print(
                f"\nNumbers within their tolerance: {sum(near for _, near, _ in numbers)} of {len(numbers)}"
            )
        if "--each" in argv:
            for t in tried:
                print(f"{t.whole:7}{t.half:7}{t.finding} {t.measure} {t.sign}: {t.said}")
            for _, near, said in numbers:
                print(f"{'near' if near else 'far':7}{said}")
    print(f"\nFormulas that could not be read: {len(UNREAD)}")


if __name__ == "__main__":
    main(sys.argv[1:])
