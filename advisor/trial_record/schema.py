"""The tables of the trial record, and how a record of an earlier version becomes one of this version.

Version 1 kept formulas, bakes, marks, measures and symptoms. Version 2 keeps lots, which proposal was followed after
which bake, what had been foreseen, and bakes that were taken back.
"""

from __future__ import annotations

OURS = 0x42726561
"""Marks a database file as a trial record ("Brea")."""

_FIRST = (
    """CREATE TABLE version (
        id INTEGER PRIMARY KEY,
        digest TEXT NOT NULL UNIQUE,
        name TEXT NOT NULL COLLATE NOCASE,
        text TEXT NOT NULL
    )""",
    "CREATE INDEX version_by_name ON version (name)",
    """CREATE TABLE amount (
        version INTEGER NOT NULL REFERENCES version (id) ON DELETE CASCADE,
        place INTEGER NOT NULL,
        ingredient TEXT NOT NULL,
        name TEXT NOT NULL,
        grams REAL NOT NULL CHECK (grams > 0),
        PRIMARY KEY (version, place)
    ) WITHOUT ROWID""",
    """CREATE TABLE step (
        version INTEGER NOT NULL REFERENCES version (id) ON DELETE CASCADE,
        place INTEGER NOT NULL,
        line TEXT NOT NULL,
        value TEXT NOT NULL,
        PRIMARY KEY (version, place)
    ) WITHOUT ROWID""",
    """CREATE TABLE bake (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        key TEXT NOT NULL UNIQUE,
        version INTEGER NOT NULL REFERENCES version (id),
        baked_on TEXT NOT NULL,
        volume INTEGER CHECK (volume BETWEEN 1 AND 5),
        crumb INTEGER CHECK (crumb BETWEEN 1 AND 5),
        slice INTEGER CHECK (slice BETWEEN 1 AND 5),
        taste INTEGER CHECK (taste BETWEEN 1 AND 5),
        height_cm REAL,
        weight_g REAL,
        volume_ml REAL,
        core_c REAL,
        photo TEXT,
        notes TEXT
    )""",
    "CREATE INDEX bake_by_day ON bake (baked_on, id)",
    "CREATE INDEX bake_by_version ON bake (version)",
    """CREATE TABLE symptom (
        bake INTEGER NOT NULL REFERENCES bake (id) ON DELETE CASCADE,
        symptom TEXT NOT NULL,
        seen INTEGER NOT NULL CHECK (seen IN (0, 1)),
        PRIMARY KEY (bake, symptom)
    ) WITHOUT ROWID""",
    "CREATE INDEX symptom_by_name ON symptom (symptom, seen)",
)
_SECOND = (
    "ALTER TABLE bake ADD COLUMN followed TEXT",
    "ALTER TABLE bake ADD COLUMN follows INTEGER REFERENCES bake (id)",
    "ALTER TABLE bake ADD COLUMN taken_back INTEGER NOT NULL DEFAULT 0 CHECK (taken_back IN (0, 1))",
    "CREATE INDEX bake_by_followed ON bake (followed) WHERE followed IS NOT NULL",
    """CREATE TABLE lot (
        bake INTEGER NOT NULL REFERENCES bake (id) ON DELETE CASCADE,
        ingredient TEXT NOT NULL,
        lot TEXT NOT NULL,
        PRIMARY KEY (bake, ingredient)
    ) WITHOUT ROWID""",
    """CREATE TABLE foreseen (
        bake INTEGER PRIMARY KEY REFERENCES bake (id) ON DELETE CASCADE,
        cause TEXT,
        cause_probability REAL CHECK (cause_probability BETWEEN 0 AND 1),
        efficacy REAL CHECK (efficacy BETWEEN 0 AND 1),
        single INTEGER NOT NULL CHECK (single IN (0, 1)),
        core_c REAL,
        height_cm REAL,
        volume_ml REAL,
        oven_offset_c REAL,
        powder_strength REAL
    )""",
    """CREATE TABLE foreseen_risk (
        bake INTEGER NOT NULL REFERENCES foreseen (bake) ON DELETE CASCADE,
        symptom TEXT NOT NULL,
        before REAL CHECK (before BETWEEN 0 AND 1),
        after REAL NOT NULL CHECK (after BETWEEN 0 AND 1),
        PRIMARY KEY (bake, symptom)
    ) WITHOUT ROWID""",
)
STEPS: tuple[tuple[str, ...], ...] = (_FIRST, _SECOND)
"""What leads from each version to the next; the first from an empty file to version 1."""
LATEST = len(STEPS)
