"""The list of symptoms to tick: what is ticked, what is looked for, where the cursor stands, and how that looks.

Nothing here knows a terminal: keys come in by name, and lines go out.
"""

from __future__ import annotations

import itertools
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from advisor.diagnosis.phrases import PhraseReader
from advisor.interface.desk.interview_sketches import TALLEST, WIDEST, sketch_of
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.graph_entries import Symptom
from advisor.rendering.baker_units import for_reader

LONGEST_WORD = 40
_SKETCH_FROM = 64
"""Columns from which a drawing stands beside what a symptom says."""
_TITLE = "WHAT IT SHOWS:"
_KEYS = (
    "Space or Enter ticks. Type to find. Tab: done. Ctrl-C leaves.",
    "Space ticks, type finds, Tab: done",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Lines of a screen; `cursor` is the place of the line that the cursor stands on."""

    lines: tuple[str, ...]
    cursor: int


class TickList:
    """A list under way; `done` once it was left."""

    def __init__(
        self, symptoms: Sequence[Symptom], ticked: Sequence[str] = (), reader: PhraseReader | None = None
    ) -> None:
        self._reader = reader
        self._all = tuple(symptoms)
        self._ticked = set(ticked)
        self._word = ""
        self._place = 0
        self._top = 0
        self._says = ""
        self.done = False

    @property
    def ticked(self) -> tuple[str, ...]:
        """Ids of what is ticked, in the order of the list."""
        return tuple(s.id for s in self._all if s.id in self._ticked)

    @property
    def found(self) -> tuple[Symptom, ...]:
        """What was typed leaves of the list: names first, then sentences, else what is heard in it as a phrase."""
        word = self._word.lower().strip()
        if not word:
            return self._all
        names = [s for s in self._all if word in " ".join((s.name, s.id, *s.also)).lower()]
        others = [s for s in self._all if s not in names and word in f"{s.says} {s.question}".lower()]
        if names or others or self._reader is None:
            return (*names, *others)
        heard = self._reader.hear(word)
        meant = dict.fromkeys((*heard.taken, *itertools.chain(*heard.choices)))
        return tuple(s for name in meant for s in self._all if s.id == name)

    def press(self, key: str, rows: int = 10) -> None:
        """Take a key: up, down, page_up, page_down, home, end, tick, done, back (last letter), clear."""
        self._says = ""
        last = max(len(self.found) - 1, 0)
        moves = {
            "up": self._place - 1, "down": self._place + 1, "page_up": self._place - rows,
            "page_down": self._place + rows, "home": 0, "end": last,
        }  # fmt: skip
        if key in moves:
            self._place = min(max(moves[key], 0), last)
        elif key == "tick":
            self._tick()
        elif key == "done":
            if self._ticked:
                self.done = True
            else:
                self._says = "Nothing is ticked yet: Space ticks the line with the >."
        elif key == "back":
            self._look_for(self._word[:-1])
        elif key == "clear":
            self._look_for("")

    def type(self, text: str) -> None:
        """Add letters to the word that is looked for; what is no letter of a word is dropped."""
        clean = "".join(letter if letter.isprintable() else " " for letter in text[: 4 * LONGEST_WORD])
        self._look_for((self._word + " ".join(clean.split()) if clean.strip() else self._word)[:LONGEST_WORD])

    def _look_for(self, word: str) -> None:
        self._word, self._place, self._top = word, 0, 0
        self._says = "" if self.found else "Nothing is called so; Esc or Backspace takes the word back."

    def _tick(self) -> None:
        if not self.found:
            return
        symptom = self.found[self._place]
        self._ticked ^= {symptom.id}
        state = "Ticked" if symptom.id in self._ticked else "No longer ticked"
        self._says = f"{state}: {symptom.name}."
        if self._word:  # the next one is looked for from the whole list
            self._word = ""
            self._place = self._all.index(symptom)

    def view(self, width: int, height: int) -> View:
        """Lay out a screen of so many columns and rows: a heading, the list, what the line means, and the keys."""
        at = f", line {self._place + 1} of {len(self.found)}" if self.found else ""
        head = [f"{_TITLE} {len(self._ticked)} ticked{at}"[: width - 1]]
        if self._word or height >= 12:
            head.append(f"Find: {shown(self._word, width - 8)}_")
        detail = self._detail(width, height)
        keys = [_KEYS[0] if len(_KEYS[0]) < width else _KEYS[1][: width - 1]]
        rows = max(height - len(head) - len(detail) - len(keys), 1)
        found = self.found
        self._top = min(max(self._top, self._place - rows + 1), self._place, max(len(found) - rows, 0))
        shown_rows = [
            self._row(s, self._top + n == self._place, width)
            for n, s in enumerate(found[self._top : self._top + rows])
        ]
        shown_rows += [""] * (rows - len(shown_rows))
        lines = [*head, *shown_rows, *detail, *keys]
        return View(lines=tuple(lines[:height]), cursor=len(head) + self._place - self._top)

    def rows_of(self, width: int, height: int) -> int:
        """How many lines of the list a screen holds."""
        return max(height - 4 - len(self._detail(width, height)), 1)

    def _row(self, symptom: Symptom, here: bool, width: int) -> str:
        mark = "x" if symptom.id in self._ticked else " "
        text = f"{'>' if here else ' '} [{mark}] {symptom.name}"
        if width >= _SKETCH_FROM:
            text = f"{text:<34} {for_reader(symptom.says)}"
        return text if len(text) < width else text[: width - 4].rstrip() + "..."

    def _detail(self, width: int, height: int) -> list[str]:
        """What the line under the cursor means; as many rows whatever the line, so that nothing jumps."""
        rows = TALLEST + 1 if height >= 20 and width >= _SKETCH_FROM else (5 if height >= 16 else 3)
        if height < 8:
            return []
        if self._says or not self.found:
            lines = textwrap.wrap(self._says or "Nothing is called so.", width - 1)
        else:
            symptom = self.found[self._place]
            lines = self._described(symptom, width, rows - 1)
        return ["-" * (width - 1), *[*lines, *[""] * rows][: rows - 1]]

    def _described(self, symptom: Symptom, width: int, rows: int) -> list[str]:
        text = for_reader(f"{symptom.says} {symptom.look}")
        sketch = sketch_of(symptom.id)
        if width < _SKETCH_FROM or not sketch or rows < len(sketch):
            lines = textwrap.wrap(text, width - 1)
            return lines if len(lines) <= rows else textwrap.wrap(for_reader(symptom.says), width - 1)
        words = textwrap.wrap(text, width - WIDEST - 4)
        left = width - WIDEST - 3
        pairs = list(zip_longest(words[:rows], sketch, fillvalue=""))
        return [f"{said:<{left}}{drawn}".rstrip() for said, drawn in pairs]
