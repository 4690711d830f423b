"""What food science expects to move, held against the models: python tests/outside/expected_moves.py [--each]

The rows stand in expected_moves.yaml; signs, steps and the way of counting are those of the published findings.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parent)]

import yaml  # noqa: E402
from kept_apart import UNREAD, Tried, _row, table, try_entry  # noqa: E402


def edited(text: str, put: Mapping[str, str], drop: Sequence[str], add: Sequence[str]) -> str:
    """Exchange, drop and add whole lines.

    Raises:
        ValueError: a line to exchange or to drop that does not stand once in the text.
    """
    lines = text.splitlines()
    for old, new in [*put.items(), *((line, "") for line in drop)]:
        if lines.count(old) != 1:
            raise ValueError(f"'{old}' stands {lines.count(old)} times in the text")
        lines[lines.index(old)] = new
    return "\n".join([*(line for line in lines if line), *add, ""])


def entry_of(row: Mapping[str, Any], bases: Mapping[str, str]) -> dict[str, Any]:
    """Write a row as a finding: `before` edits the base of both, `put`, `drop` and `add` the changed one alone."""
    text, before = bases[row["base"]], row.get("before", {})
    return {
        "id": row["id"],
        "base": edited(text, before, row.get("drop_before", ()), row.get("before_add", ())),
        "changed": edited(text, row.get("put", {}), row.get("drop", ()), row.get("add", ())),
        "findings": row["moves"],
    }


@cache
def read_rows() -> tuple[tuple[str, dict[str, Any]], ...]:
    """Read all rows as (kind of change, entry)."""
    said = yaml.safe_load((Path(__file__).parent / "expected_moves.yaml").read_text("utf-8"))
    return tuple((row["kind"], entry_of(row, said["bases"])) for row in said["rows"])


@cache
def tried_moves() -> tuple[tuple[str, Tried], ...]:
    """Judge every sign of every row: (kind of change, what was made of it)."""
    return tuple((kind, tried) for kind, entry in read_rows() for tried in try_entry(entry))


def main(argv: Sequence[str]) -> None:
    """Print the counts by measure and by kind of change; `--each` lists the signs that are not right."""
    found = tried_moves()
    print(table([tried for _, tried in found]) + "\n")
    for kind in sorted({kind for kind, _ in found}):
        print(_row(kind, [tried for k, tried in found if k == kind]))
    print(f"\nFormulas that could not be read: {len(UNREAD)}")
    if "--each" in argv:
        for kind, t in found:
            if t.whole != "right":
                print(f"{t.whole:7}{t.half:7}{kind:12}{t.finding} {t.measure} {t.sign}: {t.said}")


if __name__ == "__main__":
    main(sys.argv[1:])
