"""What may be typed at a prompt of the interview beside an answer: one word, sometimes with what it is about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Word = Literal[
    "back", "skip", "unknown", "answers", "change", "explain", "why", "why_not", "enough", "quit", "units", "help",
    "more", "save", "redo", "keep",
]  # fmt: skip
_WORDS: dict[str, Word] = {
    "b": "back", "back": "back", "s": "skip", "skip": "skip", "?": "unknown", "don't know": "unknown",
    "dont know": "unknown", "i don't know": "unknown", "i do not know": "unknown",
    "dunno": "unknown", "idk": "unknown", "no idea": "unknown", "not sure": "unknown", "unsure": "unknown",
    "not known": "unknown", "unknown": "unknown", "??": "unknown", "can't say": "unknown", "cant say": "unknown",
    "can't remember": "unknown", "cant remember": "unknown", "answers": "answers", "a": "answers",
    "enough": "enough", "d": "enough", "done": "enough", "result": "enough", "quit": "quit", "q": "quit",
    "exit": "quit", "units": "units", "measures": "units", "help": "help", "h": "help", "why": "why",
    "why not": "why_not", "explain": "explain", "e": "explain", "more": "more", "change": "change",
    "k": "keep", "keep": "keep",
}  # fmt: skip
_WITH_MORE: tuple[tuple[str, Word], ...] = (
    ("why not ", "why_not"), ("why ", "why"), ("explain ", "explain"), ("change ", "change"), ("c ", "change"),
    ("units ", "units"), ("measures ", "units"), ("save transcript ", "save"), ("save ", "save"), ("redo ", "redo"),
)  # fmt: skip

AT_A_QUESTION = (
    ("a number", "the answer with that number; its first words do too"),
    ("Enter or ?", "I do not know"),
    ("skip", "leave it for now; it does not count, and 'answers' has its number"),
    ("back", "take back the last answer"),
    ("answers", "what was told so far, each with a number"),
    ("redo 2", "answer number 2 again; redo 0: the ticks"),
    ("explain", "how to look, or what a word means: explain proof"),
    ("why", "what is thought now, and why; why not CAUSE"),
    ("units", "your measures: units F cups uk medium"),
    ("enough", "go to the result"),
    ("quit", "leave; it is kept and offered next time"),
)
AFTER_THE_RESULT = (
    ("why", "the proof of the first cause; why CAUSE, why not CAUSE"),
    ("more", "the whole page: all numbers, causes and changes"),
    ("change 2", "change 2 in full, and the formula with it"),
    ("k", "keep this bake in your record"),
    ("answers", "what was told; redo 2: answer number 2 again"),
    ("explain WORD", "what a word of the trade means"),
    ("save transcript FILE", "write all of this to a file"),
    ("quit", "leave"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """A word, and what stood after it."""

    word: Word
    about: str = ""


def command_in(typed: str) -> Command | None:
    """Give the command that a line is; `None` where it is none, and so perhaps an answer."""
    plain = " ".join(typed.split())
    if (word := _WORDS.get(plain.lower().rstrip("."))) is not None:
        return Command(word=word)
    for start, word in _WITH_MORE:
        if plain.lower().startswith(start):
            return Command(word=word, about=plain[len(start) :].strip())
    return None


def answer_meant(typed: str, ids: Sequence[str], texts: Sequence[str]) -> str | None:
    """Give the answer that a number stands for, or that alone begins as typed; y and n for yes and no."""
    if typed.isdecimal() and typed.isascii():
        place = int(typed) if len(typed) < 4 else 0
        return ids[place - 1] if 1 <= place <= len(ids) else None
    wanted = typed.lower()
    begins = [i for i, text in zip(ids, texts, strict=True) if wanted and text.lower().startswith(wanted)]
    return begins[0] if len(begins) == 1 else None
