"""Score what is heard in plain phrases: `python tests/blind_phrases.py PHRASES.json [--each] [--without WRITER]`.

Without a file: each writer in turn, and each part of our own phrases, heard by what all the others said. The clues were
made with the writers' phrases in sight; our own in `ours-N` no clue was made for.

The file is a list of {"id", "phrase", "symptoms": [wanted, best first], "also_ok": [...], "since": [...]}; ["none"] is
no fault. `since` are symptoms that were made after the phrase had been written, because nothing fitted it: they are
wanted as well, and no fault heard is then a miss. A phrase counts once:

right first   what is taken first is wanted (or as good)
offered       nothing is taken, and one of the two or three choices is wanted
missed        nothing is taken, and nothing wanted is offered, or something where there is no fault
silent        nothing is taken or offered, though there is a fault
wrong         what is taken first is not wanted, or something is taken where there is no fault

A phrase about no fault is right first where nothing is taken and nothing offered. Beside these: phrases with two faults
of which all are taken, and phrases of which something unwanted is taken besides. `--without writer-6` leaves out what
that writer said, which stands in knowledge/told_phrases.yaml after its first run.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from advisor import load_knowledge
from advisor.diagnosis.phrases import PhraseReader
from advisor.knowledge_base.knowledge import Knowledge

NO_FAULT = "none"
OUTCOMES = ("right first", "offered", "missed", "silent", "wrong")
STRANGERS = Path(__file__).parent / "outside" / "strangers"
WRITERS = (*(f"writer-{n}" for n in range(1, 11)), *(f"ours-{n}" for n in range(1, 6)))


def outcome(taken: Sequence[str], offered: Sequence[str], fine: set[str]) -> str:
    """Sort one phrase into one of the five."""
    if not fine:
        return "wrong" if taken else "missed" if offered else "right first"
    if taken:
        return "right first" if taken[0] in fine else "wrong"
    return "silent" if not offered else "offered" if fine & set(offered[:3]) else "missed"


def outcome_of(entry: Mapping[str, object], reader: PhraseReader) -> str:
    """Read the phrase of one entry and sort it."""
    heard = reader.hear(str(entry["phrase"]))
    also = [*_list(entry, "also_ok"), *_list(entry, "since")]
    if NO_FAULT in also and not heard.taken:
        return "right first"
    offered = [name for group in heard.choices for name in group]
    return outcome(heard.taken, offered, {*_list(entry, "symptoms"), *also} - {NO_FAULT})


def score(entries: Sequence[Mapping[str, object]], reader: PhraseReader, each: bool) -> list[str]:
    """Give the lines of the report."""
    counts: Counter[str] = Counter()
    lines = []
    for entry in entries:
        wanted = [s for s in _list(entry, "symptoms") if s != NO_FAULT]
        also = [s for s in (*_list(entry, "also_ok"), *_list(entry, "since")) if s != NO_FAULT]
        fine = {*wanted, *also}
        heard = reader.hear(str(entry["phrase"]))
        taken, offered = list(heard.taken), [name for group in heard.choices for name in group]
        result = outcome_of(entry, reader)
        counts[result] += 1
        counts["two faults"] += len(wanted) > 1
        counts["both taken"] += len(wanted) > 1 and set(wanted) <= set(taken)
        counts["unwanted besides"] += bool(set(taken[1:]) - fine)
        if each and (result != "right first" or set(taken) - fine or set(wanted) - set(taken)):
            lines.append(f"{entry['id']} {result}: {entry['phrase']!r}")
            lines.append(f"     wanted {wanted} also {also}; taken {taken}; offered {offered}")
    total = len(entries)
    lines += [f"{name:<12} {counts[name]:>3} of {total}" for name in OUTCOMES]
    lines.append(f"two faults, both taken: {counts['both taken']} of {counts['two faults']}")
    lines.append(f"something unwanted taken besides: {counts['unwanted besides']}")
    return lines


def left_out(writer: str, known: Knowledge) -> Counter[str]:
    """Count how the phrases of one writer are heard by what all the others said."""
    told = {name: said for name, said in known.told_phrases.items() if name != writer}
    reader = PhraseReader(replace(known, told_phrases=told))
    kind, number = writer.split("-")
    if kind == "writer":
        folders = (STRANGERS / f"round_{number}{part}" for part in ("", "a"))
        path = next(file for folder in folders if (file := folder / "phrases.json").exists())
        entries = json.loads(path.read_text("utf-8"))
    else:
        said = known.told_phrases[writer].said
        entries = [{"phrase": text, "symptoms": list(means)} for text, means in said.items()]
    return Counter(outcome_of(entry, reader) for entry in entries)


def _list(entry: Mapping[str, object], key: str) -> list[str]:
    value = entry.get(key) or []
    return [str(v) for v in value] if isinstance(value, list) else []


if __name__ == "__main__":
    path, *further = [word for word in sys.argv[1:] if not word.startswith("-")] or [""]
    known = load_knowledge()
    if not path:
        for writer in WRITERS:
            counts = left_out(writer, known)
            print(writer, *(f"{name} {counts[name]}" for name in OUTCOMES), f"of {counts.total()}", sep="  ")
        sys.exit()
    told = {name: said for name, said in known.told_phrases.items() if name not in further}
    read = json.loads(Path(path).read_text("utf-8"))
    print("\n".join(score(read, PhraseReader(replace(known, told_phrases=told)), "--each" in sys.argv)))
