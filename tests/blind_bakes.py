"""Score bakes told by people who have not seen the program: `python tests/blind_bakes.py FOLDER [--each] [--as-run]`.

FOLDER/bakes.json holds the bakes: `text`, `saw` in plain words, `fault_type`. FOLDER/key.json says for each id what
the writer's words mean here, set down before the run: `causes` (any of them, or what it is a kind of, is right),
`second` for the other fault of two, and `answers` to the questions that his text answers. `since` has the same for
causes and questions made after the run, from what the writer says; `--as-run` leaves it out. FOLDER/offers.json,
where it is, says which symptom a baker who saw only the phrase took of two or three that were offered. For each bake:

read       the text is taken without a refusal
first      a cause of the key is the first of the answer, headings above it left out
three      it is among the first three; with two faults also whether both are
change     what the answer proposes to do first, to be judged by somebody who did not write the program

A sound bake counts as quiet where nothing it says stands out: no risk from `risk_limit` and nothing not judged.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from test_told_cases import headings, kinds

from advisor import default_advisor, load_knowledge, read_formula
from advisor.diagnosis.phrases import PhraseReader
from advisor.explanation.changes import ChangeWords
from advisor.formula.faults import FormulaFault
from advisor.remedy.assessing import Assessment
from advisor.remedy.proposal import Proposal
from advisor.rendering.quantities import runs_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """One bake: what was heard, the causes in order, the changes in words, best first."""

    heard: tuple[str, ...] = ()
    causes: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    refused: str = ""
    quiet: bool = False


def in_words(proposal: Proposal) -> str:
    """Say a proposal in one line."""
    return f"[{proposal.cause}/{proposal.lever}] " + runs_text(
        ChangeWords(load_knowledge()).in_short(proposal.changes)
    )


def scored(bake: Mapping[str, Any], key: Mapping[str, Any], chosen: Sequence[str] = ()) -> Scored:
    """Read one bake and ask for its answer; `chosen` are the symptoms that the baker took of what was offered."""
    knowledge = load_knowledge()
    try:
        formula = read_formula(bake["text"], region="metric")
    except FormulaFault as fault:
        return Scored(refused=str(fault).splitlines()[0])
    reader = PhraseReader(knowledge)
    taken = (s for phrase in bake["saw"] for s in reader.hear(phrase).taken)
    heard = tuple(dict.fromkeys((*taken, *chosen)))
    if bake["fault_type"] == "sound":
        answer = default_advisor().check(formula)
    else:
        answer = default_advisor().diagnose(formula, saw=heard, answers=key.get("answers"))
    return Scored(
        heard=heard,
        causes=tuple(rank.id for rank in answer.examination.diagnosis.causes),
        changes=tuple(in_words(p) for p in answer.plans.proposals),
        quiet=_quiet(answer),
    )


def _quiet(answer: Assessment) -> bool:
    return answer.deciding_risk < load_knowledge().coefficient("risk_limit")


def place(causes: Sequence[str], wanted: Sequence[str]) -> int:
    """Place of the first of some causes in an answer, from 1, without the headings that it stands under; 99 if none."""
    places = [99]
    for cause in wanted:
        order = [name for name in causes if name not in headings(cause)]
        places += [order.index(name) + 1 for name in kinds(cause) if name in order]
    return min(places)


def with_since(key: Mapping[str, Any]) -> dict[str, Any]:
    """Give a key with what can be said of it since it was written."""
    since = key.get("since", {})
    named = {part: [*(key.get(part) or []), *since.get(part, [])] for part in ("causes", "second")}
    return {**key, **named, "answers": {**(key.get("answers") or {}), **since.get("answers", {})}}


def report(
    bakes: Sequence[Mapping[str, Any]],
    keys: Mapping[str, Any],
    chosen: Mapping[str, Sequence[str]],
    *,
    each: bool,
) -> list[str]:
    """Give the lines of the report; `chosen`: by bake, what its baker took of the readings offered."""
    counts: Counter[str] = Counter()
    lines = []
    for bake in bakes:
        key = keys.get(bake["id"], {})
        found = scored(bake, key, chosen.get(bake["id"], ()))
        sound = bake["fault_type"] == "sound"
        counts["bakes"] += 1
        counts["read"] += not found.refused
        if sound:
            counts["sound"] += 1
            counts["quiet"] += found.quiet
            lines.append(f"{bake['id']} sound  quiet {found.quiet}  {found.refused or found.changes[:1]}")
            continue
        at, second = place(found.causes, key["causes"]), None
        counts["faulty"] += 1
        counts["first"] += at == 1
        counts["three"] += at <= 3
        if key.get("second"):
            second = place(found.causes, key["second"])
            counts["two faults"] += 1
            counts["both in three"] += at <= 3 and second <= 3
        lines.append(
            f"{bake['id']} {bake['fault_type']:<7} cause {(key['causes'] or ['none that we know'])[0]} number {at}"
            + (f", {key['second'][0]} number {second}" if second else "")
            + (f"  REFUSED {found.refused}" if found.refused else "")
        )
        if each:
            lines.append(f"     heard {list(found.heard)}; first causes {list(found.causes[:4])}")
            lines += [f"     {n} {text}" for n, text in enumerate(found.changes[:3], 1)]
            lines.append(f"     baker: {bake['remedy']}")
    for name, of in (
        ("read", "bakes"), ("first", "faulty"), ("three", "faulty"), ("both in three", "two faults"),
        ("quiet", "sound"),
    ):  # fmt: skip
        lines.append(f"{name:<14} {counts[name]:>3} of {counts[of]}")
    return lines


if __name__ == "__main__":
    folder = Path(next(word for word in sys.argv[1:] if not word.startswith("-")))
    told = json.loads((folder / "bakes.json").read_text(encoding="utf-8"))
    told_key = json.loads((folder / "key.json").read_text(encoding="utf-8"))
    if "--as-run" not in sys.argv:
        told_key = {name: with_since(one) for name, one in told_key.items()}
    took: dict[str, list[str]] = {}
    if (offers := folder / "offers.json").exists():
        for one in json.loads(offers.read_text(encoding="utf-8")):
            took.setdefault(one["bake"], []).extend(s for s in (one["choice"],) if s in one["options"])
    print("\n".join(report(told, told_key, took, each="--each" in sys.argv)))
