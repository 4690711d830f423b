"""Feeds bytes to the readers of answers: `--answers` files (YAML or JSON) and lines that a batch goes on from.

Run as fuzz_atheris.py says. Stops at any error but `InputFault`; what is read is diagnosed now and then.
"""

from __future__ import annotations

import sys
import tempfile
import zlib
from pathlib import Path

import atheris
from fuzz_atheris import fuzz

sys.path[:0] = [str(Path(__file__).parents[2])]

with atheris.instrument_imports(include=["advisor.interface", "advisor.knowledge_base"]):
    from advisor import diagnose, load_knowledge, read_formula
    from advisor.interface.batch.batch_log import open_log
    from advisor.interface.desk.bakers_answers import told_by
    from advisor.knowledge_base.faults import InputFault
    from advisor.remedy.constraints import Constraints
    from advisor.rendering.checked import AskedOfMany

KNOWLEDGE = load_knowledge()
FORMULA = read_formula(KNOWLEDGE.formulas["canteen-sandwich-loaf"].read_text("utf-8"))
FOLDER = Path(tempfile.mkdtemp(prefix="dough-advisor-fuzz-"))
ASKED = AskedOfMany(limits=Constraints(), risk_limit=0.35)
ANSWERS, LOG = FOLDER / "answers.yaml", FOLDER / "log.jsonl"
LINE = (
    b'{"schema": 2, "kind": "batch", "version": "0.1.0", "source": "a.txt", "content": "00", "asked": "11", "exit": 0,'
    b' "risk": 0.1, "symptom": "dry_crumb", "cause": null, "limits_broken": false,'
    b' "no_all_clear": false, "problems": [], "answer": null}\n'
)
SEEDS = (
    b'saw: [gummy_centre, dense_crumb]\nnot: [dry_crumb]\nanswers:\n  door_opened: "no"\n',
    b'{"saw": ["gummy_centre"], "not": [], "answers": {"door_opened": "no"}}\n',
    LINE,
    LINE + LINE[:40],
)
_EVERY = 50
"""One in so many that are read is diagnosed, since that takes a thousand times as long."""


def one_input(data: bytes) -> None:
    ANSWERS.write_bytes(data)
    try:
        told = told_by([], [], str(ANSWERS), KNOWLEDGE)
    except InputFault as fault:
        assert str(fault)
    else:
        if told.anything and zlib.crc32(data) % _EVERY == 0:
            diagnose(FORMULA, saw=told.saw, not_seen=told.not_seen, answers=told.answers)
    LOG.write_bytes(data)
    try:
        with open_log(LOG, ASKED) as log:
            log.add("{}\n")
    except InputFault as fault:
        assert str(fault)
        assert data == LOG.read_bytes()
    else:
        assert LOG.read_bytes().endswith(b"{}\n")
        assert data.startswith(LOG.read_bytes()[:-3])


if __name__ == "__main__":
    fuzz(one_input, SEEDS)
