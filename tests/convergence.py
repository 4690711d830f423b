"""Check, put the first change in, check again: is a faulty formula soon quiet, and does it stray from its sound one?

`python tests/convergence.py` prints a line a formula; `tests/remedy/test_convergence.py` holds the figures. Formulas
are the failing sisters of the demo formulas, whose sound sister is known, and the faulty texts of strangers' bakes,
whose sound sister is the writer's own text with his remedy put in.

quiet     no risk from `risk_limit` on, and no number far out of its band
further   the distance from the sound formula has grown (grams over the dough; minutes and degrees over themselves)
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from advisor import default_advisor, load_knowledge, read_formula
from advisor.diagnosis.phrases import PhraseReader
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text

ROUNDS = 2
STRANGERS = Path(__file__).parent / "outside" / "strangers"
_PROCESS = ("oven_c", "bake_min", "proof_min", "rest_min", "pan_length_cm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Faulty:
    """A faulty formula, its sound sister where one can be read, and what the baker saw and answered."""

    name: str
    formula: Formula
    sound: Formula | None
    saw: tuple[str, ...] = ()
    answers: dict[str, str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """How it went: changes made, whether it is quiet, risks in turn, distances from the sound formula."""

    name: str
    changes: tuple[str, ...]
    quiet: bool
    risks: tuple[float, ...]
    distances: tuple[float, ...]

    @property
    def further(self) -> bool:
        """Whether it ends further from the sound formula than it began, by more than a hundredth."""
        return len(self.distances) > 1 and self.distances[-1] > self.distances[0] + 0.01


def sisters() -> Iterator[Faulty]:
    """The demo formulas that fail, each with the one that does not."""
    known = load_knowledge()
    for name, path in known.formulas.items():
        text = path.read_text("utf-8")
        differs = next((x for x in text.splitlines() if x.startswith("# differs from")), None)
        if differs is None:
            continue
        sound = known.formulas[differs.split()[3]].read_text("utf-8")
        yield Faulty(
            name=name,
            formula=read_formula_text(text, known, name=name),
            sound=read_formula_text(sound, known, name=name),
        )


def strangers() -> Iterator[Faulty]:
    """The faulty bakes of the rounds in sight that can be read."""
    reader = PhraseReader(load_knowledge())
    for folder in sorted(path.parent for path in STRANGERS.glob("round_*/bakes.json")):
        keys = json.loads((folder / "key.json").read_text("utf-8"))
        for bake in json.loads((folder / "bakes.json").read_text("utf-8")):
            formula = _read(bake["text"])
            if bake["fault_type"] == "sound" or formula is None:
                continue
            saw = tuple(dict.fromkeys(s for phrase in bake["saw"] for s in reader.hear(phrase).taken))
            yield Faulty(
                name=f"{folder.name} {bake['id']}",
                formula=formula,
                sound=_read(bake["remedy_text"] or ""),
                saw=saw,
                answers=keys.get(bake["id"], {}).get("answers"),
            )


def _read(text: str) -> Formula | None:
    try:
        return read_formula(text, region="metric") if text else None
    except FormulaFault:
        return None


def distance(one: Formula, other: Formula) -> float:
    """How far apart two formulas lie: grams that differ over the dough, and each stated number over itself."""
    names = {x.ingredient.id for x in (*one.lines, *other.lines)}
    grams = sum(abs(one.grams_of(n) - other.grams_of(n)) for n in names) / other.dough_g
    for field in _PROCESS:
        a, b = getattr(one.process, field), getattr(other.process, field)
        if a and b:
            grams += abs(a - b) / b
    return grams


def course(faulty: Faulty) -> Course:
    """Check and put the first change in, up to `ROUNDS` times; what was seen counts for the first answer alone."""
    advisor, limit = default_advisor(), load_knowledge().coefficient("risk_limit")
    formula, changes, risks = faulty.formula, [], []
    distances = [] if faulty.sound is None else [distance(formula, faulty.sound)]
    quiet = False
    for turn in range(ROUNDS + 1):
        answer = advisor.check(formula)
        risks.append(round(answer.deciding_risk, 2))
        quiet = answer.deciding_risk < limit
        if turn == ROUNDS or (quiet and turn > 0):
            break
        if turn == 0 and faulty.saw:
            answer = advisor.diagnose(formula, saw=faulty.saw, answers=faulty.answers)
        moved = next((p for p in answer.plans.proposals if p.formula != formula), None)
        if moved is None:
            break
        formula = moved.formula
        changes.append(moved.lever)
        if faulty.sound is not None:
            distances.append(distance(formula, faulty.sound))
    return Course(
        name=faulty.name, changes=tuple(changes), quiet=quiet, risks=tuple(risks), distances=tuple(distances)
    )


def told(found: Course) -> str:
    """One line of the report."""
    way = " ".join(f"{d:.2f}" for d in found.distances)
    state = "quiet" if found.quiet else "LOUD "
    return f"{state} {'FURTHER' if found.further else '       '} {found.name:<44} {found.risks} {way} {found.changes}"


if __name__ == "__main__":
    for title, some in (("demo sisters", sisters()), ("strangers", strangers())):
        courses = [course(faulty) for faulty in some]
        print(*map(told, courses), sep="\n")
        quiet, further = sum(c.quiet for c in courses), sum(c.further for c in courses)
        print(f"{title}: quiet within {ROUNDS} {quiet} of {len(courses)}, further away {further}")
