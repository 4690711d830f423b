"""Reads the case files and demo formulas that many tests share."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from advisor import default_advisor, load_knowledge
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.strict_yaml import read_yaml
from advisor.models.measuring import dough_state_of

CASES = Path(__file__).parent / "cases"


@dataclass(frozen=True)
class SoundCase:
    """A good formula on which silence is required."""

    id: str
    structure: str
    also: tuple[str, ...]
    text: str


def entries(path: Path) -> list[dict]:
    """Read a case file as a list of plain mappings."""
    return [dict(e) for e in read_yaml(path, path.name).data]


OF_OTHER_KINDS = "kinds"
"""The file of good formulas that are no leavened loaf: bands of their kind hold for them, not those of a structure."""


def sound_loaves() -> list[SoundCase]:
    """All good formulas that are judged by the bands of their structure alone."""
    return sound_cases(besides=OF_OTHER_KINDS)


def sound_cases(besides: str = "") -> list[SoundCase]:
    """All good formulas of tests/cases/sound/, without one file where it is named."""
    found = []
    for path in sorted((CASES / "sound").glob("*.yaml")):
        if path.stem == besides:
            continue
        for entry in entries(path):
            also = entry.get("also_structure") or []
            also = (also,) if isinstance(also, str) else tuple(also)
            found.append(SoundCase(entry["id"], entry["structure"], also, entry["text"]))
    return found


def balanced_names() -> list[str]:
    """Names of the demo formulas that are balanced: those that differ from no other."""
    return sorted(
        n for n, p in load_knowledge().formulas.items() if "# differs from" not in p.read_text("utf-8")
    )


def risen_names() -> list[str]:
    """Balanced demo formulas of kinds whose volume is judged: a cracker, say, needs no lift and has none to judge."""
    kinds = default_advisor().examiner.kinds
    judged = {
        n: kinds.of(dough_state_of(demo(n), load_knowledge())).kind.groups_left_out for n in balanced_names()
    }
    return [name for name, left_out in judged.items() if "volume" not in left_out]


def demo(name: str) -> Formula:
    """Read a demo formula."""
    return read_formula_text(load_knowledge().formulas[name].read_text("utf-8"), load_knowledge(), name=name)
