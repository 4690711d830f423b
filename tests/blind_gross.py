"""Score gross errors put into sound formulas of strangers: `python tests/blind_gross.py GROSS.json SOUND.json...`.

GROSS.json is a list of {"round", "id", "edit", "edited_text", "mark"}: one amount, time or heat of a sound formula put
far wrong, marked beforehand by a baker who has not seen the program as spoils, harmless or unsure. A SOUND.json holds
the formulas as they were: {"id", "text"}.

caught     the check says no for a reason: a risk at the limit, a number far out, or a limit broken
not judged the check gives no all-clear only because something could not be judged: counts as a miss, and as not quiet
refused    the text could not be read: counts as a miss, and as not quiet
"""

from __future__ import annotations

import json
import math
import sys
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parents[1])]

from advisor import default_advisor, load_knowledge, read_formula  # noqa: E402
from advisor.formula.faults import FormulaFault  # noqa: E402


def verdict(text: str) -> str:
    """Say what the check makes of a text: quiet, caught, not judged or refused."""
    try:
        found = default_advisor().examiner.examine(read_formula(text), after_bake=False)
    except FormulaFault:
        return "refused"
    worst = max(found.diagnosis.risks.values(), key=lambda r: r.risk).risk
    if worst >= load_knowledge().coefficient("risk_limit") or found.far_out:
        return "caught"
    return "not judged" if any(gap.decides for gap in found.not_judged) else "quiet"


def kind_of(edit: Mapping[str, Any]) -> str:
    """Name an error for the table."""
    if "state" in edit:
        return str(edit["state"])
    if "line" in edit:
        return f"amount x {edit['factor']}"
    return f"{edit['process']} {'x ' + str(edit['factor']) if 'factor' in edit else edit['add_c']}"


def wilson(right: int, of: int) -> str:
    """Give a share with its 95 % interval."""
    if not of:
        return "-"
    p, z = right / of, 1.96
    middle, spread = p + z * z / (2 * of), z * math.sqrt(p * (1 - p) / of + z * z / (4 * of * of))
    low, high = (middle - spread) / (1 + z * z / of), (middle + spread) / (1 + z * z / of)
    return f"{right} of {of} ({100 * p:.0f} %, {100 * low:.0f} to {100 * high:.0f})"


def main() -> None:
    """Print both tables."""
    gross, *sound = sys.argv[1:]
    quiet = Counter(verdict(e["text"]) for path in sound for e in json.loads(Path(path).read_text("utf-8")))
    print("sound formulas:", dict(quiet), "quiet", wilson(quiet["quiet"], sum(quiet.values())))
    table: dict[tuple[str, str], Counter[str]] = {}
    for entry in json.loads(Path(gross).read_text("utf-8")):
        found = verdict(entry["edited_text"])
        for kind in (kind_of(entry["edit"]), "all"):
            table.setdefault((entry["mark"], kind), Counter())[found] += 1
    for (mark, kind), counts in sorted(table.items()):
        print(f"{mark:9} {kind:22} caught {wilson(counts['caught'], sum(counts.values()))} {dict(counts)}")


if __name__ == "__main__":
    main()
