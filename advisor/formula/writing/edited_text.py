"""A formula's text with one thing changed in it and everything else left as its writer wrote it."""

from __future__ import annotations

import re

from advisor.formula.process.process_lines import SAME_KEY, plain_key
from advisor.formula.text_lines import raw_lines

_KEYED = re.compile(r"\s*(?P<key>[^:]{1,40}?)\s*:")


def with_process_line(text: str, key: str, value: str) -> str:
    """Give the text with a process line of this key and value, in place of those that there are; without, where empty.

    `key` is one of `PROCESS_KEYS`. What the text says of it elsewhere, in a sentence, stays.
    """
    line = f"{key}: {' '.join(value.split())}" if value.strip() else None
    out: list[str] = []
    for raw in text.splitlines():
        if _key_of(raw) != key:
            out.append(raw)
        elif line is not None:
            out.append(line)
            line = None
    if line is not None:
        out.append(line)
    return "\n".join(out) + "\n"


def with_words(text: str, number: int, fragment: str, instead: str) -> str:
    """Give the text with a fragment of one line (numbered from 1) written otherwise; as it is where it is not there."""
    found = dict(raw_lines(text)).get(number, "")
    at = found.lower().find(fragment.lower())
    if not fragment or at < 0:
        return text
    changed = found[:at] + " ".join(instead.split()) + found[at + len(fragment) :]
    lines = text.splitlines()
    place = next(
        (n for n, line in enumerate(lines) if n >= number - 1 and line.strip() == found.strip()), None
    )
    if place is None:
        return text
    lines[place] = changed
    return "\n".join(lines) + "\n"


def _key_of(raw: str) -> str:
    keyed = _KEYED.match(raw)
    if keyed is None:
        return ""
    key = plain_key(keyed["key"])
    return SAME_KEY.get(key, key)
