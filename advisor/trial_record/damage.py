"""Bakes of a record whose values cannot be, found before anything is read of it, so that all others can be read.

The database keeps its own tables whole, but no sums of what stands in them: a flipped bit in a text or a number is seen
where the text is no UTF-8, the number none that can be, or the formula no longer the one whose digest was kept.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.knowledge_base.escaping import shown
from advisor.trial_record.bake import Bake, sound
from advisor.trial_record.faults import MEND, BakeFault, RecordFault
from advisor.trial_record.plain_form import from_plain, to_plain
from advisor.trial_record.rows import TEXTS, changed_formulas, select

_TOLD = 5
_MOST = "1e12"
"""No weight, height or temperature of a bake comes near."""
_NUMBERS = {
    "amount": ("grams",),
    "bake": ("height_cm", "weight_g", "volume_ml", "core_c"),
    "foreseen": ("core_c", "height_cm", "volume_ml", "oven_offset_c", "powder_strength"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DamagedBake:
    """A bake of which something cannot be read: its number, and what."""

    number: int
    what: str


def damaged_bakes(connection: sqlite3.Connection, *, doubted: bool) -> tuple[DamagedBake, ...]:
    """Give the bakes that hold what cannot be; each is looked at only where something in the file is amiss.

    `doubted` says that the database found a value amiss already.

    Raises:
        sqlite3.Error: the file itself is not whole.
    """
    changed = changed_formulas(connection)
    if not doubted and not changed and _values_are_whole(connection):
        return ()
    out = []
    for number, version in connection.execute("SELECT id, version FROM bake ORDER BY id").fetchall():
        found = select(connection, "WHERE bake.id = ?", (number,))
        fault = fault_in(found[0]) if found else BakeFault("formula", "is not in the record", "")
        if fault is None and version in changed:
            fault = BakeFault("formula", "is not as it was kept", "")
        if fault is not None:
            out.append(DamagedBake(number=int(number), what=f"{fault.field} {fault.what}"))
    return tuple(out)


def fault_in(bake: Bake) -> BakeFault | None:
    """Give the first fault of a bake as it was read; `None` where it is as one that is kept."""
    try:
        # The key that it follows is another's, and looked at there.
        sound(from_plain(to_plain(replace(bake, follows=None))))
    except BakeFault as fault:
        return fault
    return None


def _values_are_whole(connection: sqlite3.Connection) -> bool:
    """Tell whether every text is text and every number one; by the database itself, which is quick at it."""
    for table, names in TEXTS.items():
        texts = " || char(31) || ".join(f"coalesce({name}, '')" for name in names)
        # In the database's order numbers stand before texts, and those before bytes, which no column holds.
        wrong = [f"{name} < '' OR {name} >= x''" for name in names]
        wrong += [f"{name} NOT BETWEEN -{_MOST} AND {_MOST}" for name in _NUMBERS.get(table, ())]
        if connection.execute(f"SELECT 1 FROM {table} WHERE {' OR '.join(wrong)} LIMIT 1").fetchone():
            return False
        together = connection.execute(f"SELECT group_concat({texts}, '') FROM {table}").fetchone()[0]
        try:
            (together or "").encode("utf-8")
        except UnicodeEncodeError:
            return False
    lost = "version NOT IN (SELECT id FROM version) OR baked_on NOT GLOB '[0-9]*-[0-9]*-[0-9]*'"
    return connection.execute(f"SELECT 1 FROM bake WHERE {lost} LIMIT 1").fetchone() is None


def damage_fault(path: Path, damaged: Sequence[DamagedBake]) -> RecordFault:
    """Say which bakes are damaged, in one line."""
    named = ", ".join(f"{one.number} ({shown(one.what, 60)})" for one in damaged[:_TOLD])
    more = f" and {len(damaged) - _TOLD} more" if len(damaged) > _TOLD else ""
    some = "bakes are" if len(damaged) > 1 else "bake is"
    return RecordFault(str(path), f"{len(damaged)} {some} damaged: {named}{more}", MEND)
