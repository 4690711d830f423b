"""What a browser sent, taken apart with care: every value has its kind and its bounds, and nothing else is read."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Literal, TypeAlias

from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"
Lane = Literal["short", "long", "slow"]
"""Whether work takes about as long as a look, several times as long, or seconds."""
MOST_TEXT = 200_000
MOST_ENTRIES = 400
_DEPTH = 6


class Asked:
    """One JSON object from a browser; each reader refuses in a line what it cannot use."""

    def __init__(self, data: Mapping[str, Json]) -> None:
        self._data = data

    @classmethod
    def read(cls, raw: bytes) -> Asked:
        """Read the body of a request.

        Raises:
            InputFault: it is no JSON object, or nested too deeply.
        """
        try:
            data = json.loads(raw)
        except (ValueError, RecursionError):
            raise InputFault("what was sent is not JSON") from None
        if not isinstance(data, dict) or _depth(data) > _DEPTH:
            raise InputFault("what was sent is no plain JSON object")
        return cls(data)

    @property
    def data(self) -> Mapping[str, Json]:
        """What was sent, as it can be handed to another process."""
        return self._data

    def text(self, name: str, otherwise: str = "", most: int = MOST_TEXT) -> str:
        """Give a text.

        Raises:
            InputFault: something else, or longer than `most` letters.
        """
        value = self._data.get(name, otherwise)
        if not isinstance(value, str):
            raise InputFault(f"'{name}' must be a text")
        if len(value) > most:
            raise InputFault(f"'{name}' is longer than {most} letters; shorten it")
        return value.encode("utf-8", "replace").decode("utf-8")

    def choice(self, name: str, known: tuple[str, ...]) -> str:
        """Give one of some words; the first where none was sent.

        Raises:
            InputFault: another one.
        """
        value = self.text(name, known[0], 100)
        if value not in known:
            raise InputFault(f"'{name}' is one of {', '.join(known)}; not '{shown(value, 40)}'")
        return value

    def number(self, name: str, low: float, high: float) -> float | None:
        """Give a number from `low` to `high`; `None` where none was sent.

        Raises:
            InputFault: something else.
        """
        value = self._data.get(name)
        return None if value is None else _number(value, name, low, high)

    def whole(self, name: str, low: int, high: int) -> int | None:
        """Give a whole number; `None` where none was sent.

        Raises:
            InputFault: something else.
        """
        value = self.number(name, low, high)
        if value is not None and value != int(value):
            raise InputFault(f"'{name}' must be a whole number")
        return None if value is None else int(value)

    def yes(self, name: str) -> bool:
        """Whether something is wished."""
        return self._data.get(name) is True

    def words(self, name: str, most: int = MOST_ENTRIES) -> tuple[str, ...]:
        """Give a list of short texts.

        Raises:
            InputFault: something else, or too many.
        """
        value = self._data.get(name, [])
        if not isinstance(value, list) or len(value) > most:
            raise InputFault(f"'{name}' must be a list of at most {most} words")
        if not all(isinstance(word, str) and len(word) <= 200 for word in value):
            raise InputFault(f"'{name}' must be a list of words")
        return tuple(str(word) for word in value)

    def numbers(self, name: str, low: float, high: float) -> dict[str, float]:
        """Give numbers by name.

        Raises:
            InputFault: something else, or too many.
        """
        return {k: _number(v, name, low, high) for k, v in self._mapping(name).items()}

    def named(self, name: str) -> dict[str, str]:
        """Give short texts by name.

        Raises:
            InputFault: something else, or too many.
        """
        out = {}
        for key, value in self._mapping(name).items():
            if not isinstance(value, str) or len(value) > 200:
                raise InputFault(f"'{name}' must hold words")
            out[key] = value
        return out

    def _mapping(self, name: str) -> dict[str, Json]:
        value = self._data.get(name, {})
        if not isinstance(value, dict) or len(value) > MOST_ENTRIES or any(len(key) > 100 for key in value):
            raise InputFault(f"'{name}' must be names with values, at most {MOST_ENTRIES}")
        return value


def _number(value: Json, name: str, low: float, high: float) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InputFault(f"'{name}' must be a number")
    number = float(value) if abs(value) < 1e300 else math.inf
    if not low <= number <= high:  # also what is no number at all
        raise InputFault(f"'{name}' goes from {low:g} to {high:g}")
    return number


def _depth(value: Json, at: int = 0) -> int:
    if at > _DEPTH:
        return at
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return max((_depth(one, at + 1) for one in inner), default=at)
