"""Feeds bytes to the readers of knowledge and rules, guided by coverage; stops at any error but `KnowledgeFault`.

Run as fuzz_atheris.py says, with -max_len=4000; the seeds are the shipped entries.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import atheris
from fuzz_atheris import fuzz

TOP = Path(__file__).parents[2]
sys.path[:0] = [str(TOP)]

with atheris.instrument_imports(include=["advisor.knowledge_base", "advisor.inference"]):
    from advisor.inference.phases import RuleFault
    from advisor.inference.rule_book import RuleBook, check_engine_limits
    from advisor.knowledge_base.faults import KnowledgeFault
    from advisor.knowledge_base.graph_entries import Cause, Link, Symptom
    from advisor.knowledge_base.ingredient import Ingredient
    from advisor.knowledge_base.measured import Band
    from advisor.knowledge_base.own_file import OwnFileFault, read_own_file
    from advisor.knowledge_base.reading import read_entries
    from advisor.knowledge_base.rule_entries import Lever, Rule


MODELS = (Rule, Ingredient, Cause, Symptom, Link, Band, Lever)
PATH = Path(tempfile.mkdtemp(prefix="dough-advisor-fuzz-")) / "one.yaml"


def one_input(data: bytes) -> None:
    PATH.write_bytes(data)
    for model in MODELS:
        try:
            entries = read_entries(PATH, "one.yaml", model)
        except KnowledgeFault as fault:
            assert fault.findings
            assert all(f.line >= 1 and "\n" not in f.message.strip() for f in fault.findings), fault
            continue
        assert all(line >= 1 for _, line in entries)
        if model is Rule:
            _compile([entry for entry, _ in entries if isinstance(entry, Rule)])
    try:
        read_own_file(PATH)
    except (KnowledgeFault, OwnFileFault) as fault:
        assert str(fault)


def _compile(rules: list[Rule]) -> None:
    for work in (RuleBook.compile, check_engine_limits):
        try:
            work(rules)
        except RuleFault as fault:  # an id that stands twice, too: the reader of all files tells that earlier
            assert str(fault)


def seeds() -> Iterator[bytes]:
    """Every fifth shipped entry, each by itself; all of them would take half a minute to begin with."""
    for path in sorted((*(TOP / "rules").rglob("*.yaml"), *(TOP / "knowledge").rglob("*.yaml"))):
        for entry in re.split(r"(?m)^(?=- )", path.read_text("utf-8"))[1::5]:
            yield entry.encode()


if __name__ == "__main__":
    fuzz(one_input, seeds())
