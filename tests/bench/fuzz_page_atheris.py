"""Feeds bytes to what a page asks of its workers: the name of a piece of work, a line break, and JSON.

Run as fuzz_atheris.py says. Stops at any fault of the program; a request that cannot be used is told in a line.
Work that takes long is done for one request in forty.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import zlib
from pathlib import Path

import atheris
from fuzz_atheris import fuzz

TOP = Path(__file__).parents[2]
sys.path[:0] = [str(TOP)]
os.environ |= {"ADVISOR_RECORD": str(Path(tempfile.mkdtemp(prefix="dough-advisor-fuzz-")) / "record")}

with atheris.instrument_imports(include=["advisor.interface.page"]):
    from advisor import load_knowledge
    from advisor.interface.page.asked import Asked
    from advisor.interface.page.work import WORK, work_out
    from advisor.knowledge_base.faults import InputFault


TEXT = load_knowledge().formulas["cheese-dough-rounds"].read_text("utf-8")
LESSON = (TOP / "knowledge/lessons/02-water-that-binders-hold.yaml").read_text("utf-8")
LOAF = {"text": TEXT, "region": "us", "units": "metric"}
ASKED: dict[str, dict[str, object]] = {
    "read": LOAF, "look": LOAF | {"moved": {"2": 90.0}}, "line": {"text": TEXT, "line": 2, "value": "100 g water"},
    "choose": {"phrase": "cheese"}, "hear": {"phrase": "sank in the middle, not dry"},
    "demo": {"name": "almond-egg-loaf"},
    "question": LOAF | {"saw": ["flat_loaf"], "not": [], "answers": {"door_opened": "no"}},
    "diagnose": LOAF | {"saw": ["flat_loaf"], "not": ["dry_crumb"]},
    "plan": LOAF | {"net_carb_max": 3, "avoid": ["milk"]},
    "apply": LOAF | {"change": "1"}, "compare": LOAF | {"changes": "water -10 g"}, "bakes": {"words": "loaf"},
    "keep": LOAF | {"saw": ["flat_loaf"], "mark_crumb": 3, "date": "2026-05-01", "notes": "soft"},
    "bake": {"number": 1}, "note": {"number": 1, "notes": "better"}, "two-bakes": {"bakes": ["1", "2"]},
    "over-time": {"name": "Cheese dough rounds"}, "export": {"form": "csv"}, "causes": LOAF,
    "two-loaves": LOAF | {"left": "own", "right": "almond-egg-loaf"}, "report": LOAF,
    "course": LOAF | {"topic": "lesson", "lesson": LESSON}, "sheet": LOAF | {"sheet": "handout", "key": "no"},
}  # fmt: skip
_EVERY = 40


def one_input(data: bytes) -> None:
    name, _, body = data.partition(b"\n")
    work = sorted(WORK)[name[0] % len(WORK)] if len(name) == 1 else name.decode("ascii", "replace")
    if work not in WORK or (WORK[work][0] == "long" and zlib.crc32(body) % _EVERY):
        return
    try:
        asked = Asked.read(body)
    except InputFault as fault:
        assert "\n" not in str(fault)
        return
    kind, answer = work_out(work, asked.data)
    assert kind in ("done", "input"), (work, answer)
    json.dumps(answer, allow_nan=False)


if __name__ == "__main__":
    fuzz(one_input, [f"{name}\n{json.dumps(asked)}".encode() for name, asked in ASKED.items()])
