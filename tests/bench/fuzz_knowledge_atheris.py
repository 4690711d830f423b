"""Feeds bytes to the readers of knowledge and rules, guided by coverage; stops at any error but `KnowledgeFault`.

Run: python tests/bench/fuzz_knowledge_atheris.py FOLDER -max_total_time=300 -max_len=4000. Needs the package
atheris, which the tests do not need. An empty FOLDER is filled with the shipped entries, one a file, as seeds.
"""

from __future__ import annotations

import re
import sys
import tempfile
from pathlib import Path

import atheris

TOP = Path(__file__).parents[2]
sys.path[:0] = [str(TOP)]

with atheris.instrument_imports(include=["advisor.knowledge_base", "advisor.inference"]):
    from advisor.inference.phases import RuleFault
    from advisor.inference.rule_book import RuleBook
    from advisor.inference.rule_set_check import check_engine_limits
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


def seed(folder: Path) -> None:
    """Write every fifth shipped entry into a file of its own; all of them would take half a minute to begin with."""
    count = 0
    for path in sorted((*(TOP / "rules").rglob("*.yaml"), *(TOP / "knowledge").rglob("*.yaml"))):
        for entry in re.split(r"(?m)^(?=- )", path.read_text("utf-8"))[1::5]:
            (folder / f"{count:05}").write_text(entry, "utf-8")
            count += 1


def main() -> None:
    folder = Path(sys.argv[1])
    folder.mkdir(exist_ok=True)
    if not any(folder.iterdir()):
        seed(folder)
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
