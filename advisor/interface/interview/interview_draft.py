"""A draft of an interview: written on every step, offered next time, removed once the interview has its result."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Collection
from dataclasses import dataclass, field
from pathlib import Path

from advisor.diagnosis.asking import SEEN_OR_NOT
from advisor.diagnosis.described_loaf import RAISED_BY, SHAPES, LoafKind
from advisor.interface.interview.interview_heard import Given, Heard
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.whole_file import write_whole

_LARGEST = 1_000_000
_VERSION = 1


@dataclass(slots=True, kw_only=True)
class Draft:
    """An interview under way: when it began (a date and hour in words), of what, and what was heard."""

    began: str
    word: str = ""
    """What the formula was called by, or where it was kept; empty where there is none."""
    formula_text: str = ""
    kind: LoafKind | None = None
    region: str = "us"
    heard: Heard = field(default_factory=Heard)
    path: Path | None = None

    def keep(self, folder: Path) -> str:
        """Write it to its file, or to a new one in the folder; give what went wrong, in words, or nothing."""
        try:
            folder.mkdir(parents=True, exist_ok=True)
            if self.path is None:
                self.path = _new_file(folder, self.began)
            write_whole(self.path, self._as_text())
        except OSError as error:
            return (error.strerror or type(error).__name__).lower()
        except InputFault as fault:
            return str(fault).removeprefix("advisor: ")
        return ""

    def remove(self) -> None:
        """Take the file away."""
        if self.path is not None:
            with contextlib.suppress(OSError):
                self.path.unlink()
            self.path = None

    def _as_text(self) -> str:
        kind = self.kind
        loaf = None if kind is None else [kind.carried_by, kind.raised_by, kind.shape]
        given = [[one.kind, one.id, one.answer, one.skipped] for one in self.heard.given]
        return json.dumps(
            {
                "draft": _VERSION, "began": self.began, "word": self.word, "formula": self.formula_text,
                "region": self.region, "loaf": loaf, "ticked": list(self.heard.ticked), "given": given,
            },
            indent=1,
        )  # fmt: skip


def drafts_in(folder: Path, knowledge: Knowledge, at_most: int = 5) -> list[Draft]:
    """Give the drafts that can be read, latest first; what cannot be read is left where it is."""
    try:
        files = sorted(folder.glob("*.json"), reverse=True)
    except OSError:
        return []
    found = (_read(path, knowledge) for path in files)
    return [draft for draft in found if draft is not None][:at_most]


def _new_file(folder: Path, began: str) -> Path:
    """Make a file that no other interview has."""
    name = "".join(letter if letter.isalnum() else "-" for letter in began)
    for number in range(1, 1000):
        path = folder / f"{name}-{number:03}.json"
        with contextlib.suppress(FileExistsError):
            # What is noted of a kitchen is its owner's alone.
            path.touch(mode=0o600, exist_ok=False)
            return path
    raise FileExistsError(f"{name}: too many drafts")


def _read(path: Path, knowledge: Knowledge) -> Draft | None:
    """Read a draft; what the knowledge has lost since is left out of it."""
    try:
        if path.stat().st_size > _LARGEST:
            return None
        data = json.loads(path.read_text("utf-8"))
        if data["draft"] != _VERSION:
            return None
        heard = Heard(tuple(s for s in data["ticked"] if s in knowledge.symptoms))
        for given_kind, name, answer, skipped in data["given"]:
            asked = _answers_of(given_kind, name, knowledge)
            if asked is not None and (answer is None or answer in asked):
                heard.given.append(Given(kind=given_kind, id=name, answer=answer, skipped=bool(skipped)))
        loaf = data["loaf"]
        kind = None
        if loaf is not None:
            carried_by, raised_by, shape = loaf
            if carried_by not in knowledge.structures or raised_by not in RAISED_BY or shape not in SHAPES:
                return None
            kind = LoafKind(carried_by=carried_by, raised_by=raised_by, shape=shape)
        return Draft(
            began=str(data["began"])[:40], word=str(data["word"]), formula_text=str(data["formula"]), kind=kind,
            region=str(data["region"]), heard=heard, path=path,
        )  # fmt: skip
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _answers_of(kind: str, name: str, knowledge: Knowledge) -> Collection[str] | None:
    """Give the answers that there are; `None` where nothing of that kind and name is asked."""
    if kind == "symptom":
        return SEEN_OR_NOT if name in knowledge.symptoms else None
    question = knowledge.questions.get(name) if kind == "question" else None
    return None if question is None else question.answers
