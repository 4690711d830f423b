"""A list in one line whose rows end in full stops, name before amount: "Gluten, 1 1/4 cups. Salt, 1 tsp."."""

from __future__ import annotations

import re

_ROW = re.compile(
    r"(?:^|(?<=[.;]\s))(?P<name>[^\W\d][^.,;:0-9]{1,34}),(?=\s(?:about\s)?(?:[0-9¼½¾⅓⅔⅛]|(?:an?|one|two|half)\s)"
    r"[^.;,]{0,24}(?:[.;,(]|$))"
)
_ONE = re.compile(r"(?<=[.;]\s)(?:one|an?)\s(?=[a-z(])", re.IGNORECASE)
_LEAST_ROWS = 3


def with_names_beside_amounts(text: str) -> str:
    """Give such a line without the commas that part a name from its amount; any other as it is.

    Read by its commas alone, the amount of each row would go to the name behind it: a third of a cup of salt.
    """
    rows = list(_ROW.finditer(text)) if text.count(", ") >= _LEAST_ROWS else []
    if len(rows) < _LEAST_ROWS:
        return text
    for row in rows:
        text = f"{text[: row.end() - 1]} {text[row.end() :]}"
    return _ONE.sub("1 ", text)
