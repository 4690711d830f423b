"""How far a small slip of the scales carries: each line weighed a twentieth off, and what it does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One line weighed off: by how much, the symptom whose risk rises most, and the measures that leave their band."""

    what: str
    grams: float
    off: float
    symptom: str
    risk: tuple[float, float]
    leaves: tuple[str, ...]

    @property
    def rise(self) -> float:
        """By how much the risk of that symptom rises."""
        return self.risk[1] - self.risk[0]


def slips(
    examiner: Examiner, before: Examination, *, share: float | None = None, lines: Sequence[int] | None = None
) -> tuple[Slip, ...]:
    """Weigh each line off both ways and keep its worse side; the slips that matter most come first.

    `share` is the error (knowledge: `slip_share`); risks are those before a bake.
    """
    part = examiner.knowledge.coefficient("slip_share") if share is None else share
    base = before if not before.after_bake else examiner.examine(before.formula, after_bake=False)
    found = []
    for place, line in enumerate(before.formula.lines):
        if lines is not None and place not in lines:
            continue
        worse = max(
            (_slip(examiner, base, place, sign * part) for sign in (-1.0, 1.0)), key=lambda s: (s.rise, s.off)
        )
        if line.grams > 0:
            found.append(worse)
    return tuple(sorted(found, key=lambda s: (-s.rise, s.what)))


def _slip(examiner: Examiner, base: Examination, place: int, part: float) -> Slip:
    formula = _weighed(base.formula, place, 1 + part)
    after = examiner.examine(formula, after_bake=False)
    risks, then = base.diagnosis.risks, after.diagnosis.risks
    symptom = max(risks, key=lambda s: (then[s].risk - risks[s].risk, s))
    was, now = base.inference.judged, after.inference.judged
    leaves = tuple(n for n in was if was[n].state == "in" and n in now and now[n].state != "in")
    line = base.formula.lines[place]
    return Slip(
        what=line.ingredient.name,
        grams=line.grams,
        off=line.grams * part,
        symptom=symptom,
        risk=(risks[symptom].risk, then[symptom].risk),
        leaves=leaves,
    )


def _weighed(formula: Formula, place: int, factor: float) -> Formula:
    line = formula.lines[place]
    new = replace(line, grams=line.grams * factor)
    return formula.with_lines(tuple(new if n == place else x for n, x in enumerate(formula.lines)))
