"""What the sentences of a method say of the process: every number with its meaning, and those left over."""

from __future__ import annotations

import re

from advisor.formula.lines.sentences import sentences_of
from advisor.formula.method.facts import Fact, Facts
from advisor.formula.method.told_numbers import Told, numbers_told
from advisor.formula.method.told_sentence import SentenceReader
from advisor.formula.method.work_words import Meaning

_BAKES = re.compile(
    r"(?<!before\syou\s)(?<!when\syou\s)(?<!until\syou\s)(?<!to\s)\bbake\b(?!\s+(?:with|this|these))|"
    r"\bbaked\s+(?:it|them|at|in|on|for|until|till|off)\b",
    re.IGNORECASE,
)
_ENDS_DOUGH = frozenset(["oven", "griddle_side_min", "steam_min"])
"""Works behind which what lies about is no dough any more."""


_ANOTHER_BAKE = re.compile(
    r"\W*(?:the\s+)?(?:first|last)\s+(?:time|try|attempt|week|year|month)\b|\W*(?:before|previously|next\s+time)\b(?!\s+(?:bak|serv|slic|cut|it|you))|"
    r"\W*attempt\s+[0-9]|\W*(?:action|next)\s*:",
    re.IGNORECASE,
)
"""How a sentence begins that tells of another bake."""
_ONCE = re.compile(
    r"\b(?:used\s+to\s+(?:bake|knead|mix|prove|rest)|in\s+(?:the|my|our)\s+old\s+oven|(?:the|my)\s+(?:last|first)\s+one\b|(?:first|originally|earlier)\s+(?:wrote|said|had|posted|put)\b|old\s+post\b|was\s+(?:a\s+)?mistake\b)",
    re.IGNORECASE,
)
"""Words within a sentence that tell of another bake: "in the old oven I did 190"."""
_NO_BAKE = frozenset(["celsius", "fan", "lid", "steam"])


class MethodReader:
    """Reads the sentences of one text in their order: what stands behind the bake is no rest of the dough."""

    def __init__(self, *, fahrenheit: bool | None = None) -> None:
        self.fahrenheit = fahrenheit
        self._baked = False
        self._before: Meaning | None = None
        self._sentence = 0

    def read(self, text: str) -> Facts:
        """Give the facts of a line of sentences, and the numbers with a unit that found no meaning."""
        found: list[Fact] = []
        left: list[Told] = []
        for sentence in sentences_of(text):
            self._sentence += 1
            if _ANOTHER_BAKE.match(sentence) or _ONCE.search(sentence):
                left += numbers_told(sentence)
                continue
            one = SentenceReader(
                sentence, self._sentence, self._before, baked=self._baked, fahrenheit=self.fahrenheit
            )
            one.read()
            found += one.found
            left += one.left
            works = {w.meaning for w in one.works}
            told: Meaning | None = "boil" if "boil" in works else "mix" if works == {"mix"} else None
            self._before = one.last or told or (self._before if self._before == "oven" else None)
            self._baked = (
                self._baked
                or bool(_BAKES.search(sentence))
                or any(f.topic in _ENDS_DOUGH and f.what not in _NO_BAKE for f in one.found)
            )
        return Facts(found=tuple(found), left=tuple(left))
