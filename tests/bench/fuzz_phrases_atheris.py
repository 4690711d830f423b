"""Feeds bytes to the readers of what bakers say: symptoms in their own words, questions put to it, changes to try.

Run as fuzz_atheris.py says. Stops at any error but a fault that is told in one line.
"""

from __future__ import annotations

import sys
import zlib
from pathlib import Path

import atheris
from fuzz_atheris import fuzz

TOP = Path(__file__).parents[2]
sys.path[:0] = [str(TOP)]

with atheris.instrument_imports(
    include=["advisor.interface.desk", "advisor.remedy", "advisor.diagnosis.phrases"]
):
    from advisor import load_knowledge, read_formula, symptoms
    from advisor.interface.desk.symptom_words import read_said
    from advisor.knowledge_base.faults import InputFault
    from advisor.knowledge_base.strict_yaml import read_yaml
    from advisor.remedy.change_fault import ChangeFault
    from advisor.remedy.written_change import apply_changes


KNOWLEDGE = load_knowledge()
FORMULA = read_formula(KNOWLEDGE.formulas["canteen-sandwich-loaf"].read_text("utf-8"))
CHANGES = (
    "water -30 g", "oven 165 C", "omit butter", "almond flour instead of flaxseed", "whole egg -> egg white",
    "twice the yeast", "10 % less salt", "bake 10 min longer", "water to 200 g", "proof: 45 min at 27 C",
)  # fmt: skip
_LONGEST_LINE = 600
_EVERY = 20
"""One phrase in so many is also looked for among all symptoms, which takes long."""


def one_input(data: bytes) -> None:
    text = data.decode("utf-8", "replace")
    try:
        said = read_said([text], KNOWLEDGE)
    except InputFault as fault:
        _in_a_line(fault)
    else:
        assert set(said.saw) | set(said.not_seen) <= set(KNOWLEDGE.symptoms)
        assert not set(said.saw) & set(said.not_seen)
    if zlib.crc32(data) % _EVERY == 0:
        symptoms(text)
    try:
        changed = apply_changes(FORMULA, [text], KNOWLEDGE)
    except ChangeFault as fault:
        _in_a_line(fault)
    else:
        assert changed.formula.lines
        assert all(0 < line.grams < float("inf") for line in changed.formula.lines)


def _in_a_line(fault: Exception) -> None:
    assert str(fault)
    assert "\n" not in str(fault).strip()
    assert len(str(fault)) < _LONGEST_LINE, fault


def seeds() -> list[bytes]:
    """Every twentieth phrase of the knowledge, and changes as bakers write them."""
    told = read_yaml(TOP / "knowledge" / "told_phrases.yaml", "told_phrases.yaml").data
    assert isinstance(told, list)
    phrases = [phrase for writer in told if isinstance(writer, dict) for phrase in dict(writer["said"])]
    return [text.encode() for text in (*phrases[::20], *CHANGES)]


if __name__ == "__main__":
    fuzz(one_input, seeds())
