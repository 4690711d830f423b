"""Process lines whose colon was left out: "bake 180 C 40 min", "pan 8 x 4 in", "slices 16"."""

from __future__ import annotations

import re

from advisor.formula.faults import LineFault
from advisor.formula.process.process_lines import (
    PROCESS_KEYS,
    SAME_KEY,
    keeps_bread,
    plain_key,
    read_process_value,
)

_NEVER = frozenset(["kind", "mixer", "starter", "stored", "baked on", "cooled in", "steam", "boil"])
"""Keys that take any words, or begin sentences: without a colon they are prose."""
_KEYS = "|".join(sorted((k.replace(" ", "[ -]") for k in (*PROCESS_KEYS, *SAME_KEY)), key=len, reverse=True))
_LINE = re.compile(
    rf"(?P<key>{_KEYS})\s+(?:at\s+|in\s+(?:the\s+|an?\s+)?oven\s+at\s+|for\s+)?(?P<value>\S.*)", re.IGNORECASE
)


def without_colon(text: str) -> tuple[str, str, str] | None:
    """Give the key as written, the key that it means, and the value, where the value is what the key takes."""
    found = _LINE.fullmatch(text.strip(" ."))
    if found is None:
        return None
    written = plain_key(found["key"])
    key = SAME_KEY.get(written, written)
    if (
        key in _NEVER or keeps_bread(written, found["value"]) or (key == "core measured" and written != key)
    ):  # "core 98 C" can be the one to bake to
        return None
    try:
        read_process_value(key, found["value"])
    except LineFault:
        return None
    return written, key, found["value"]
