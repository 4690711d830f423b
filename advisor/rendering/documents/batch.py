"""One formula of many: the kind `batch`, a line each."""

from __future__ import annotations

from typing import Literal

from advisor.rendering.documents.assessment_shapes import CheckDocument
from advisor.rendering.documents.shape import Document, Share, shape


@shape
class BatchDocument(Document):
    """One line of a batch."""

    kind: Literal["batch"] = "batch"
    """One formula of many."""
    source: str
    """The file, or the name of the formula."""
    content: str
    """Hash of the text: the same hash, the same formula; empty where it could not be opened."""
    asked: str
    """Hash of all else that the answer depends on: limits, knowledge, what was learnt."""
    exit: Literal[0, 1, 2, 3]
    """0 below the limit of risk, 1 not, 2 cannot be read, 3 a fault of the program."""
    risk: Share | None
    """The largest risk; null where the formula could not be read."""
    symptom: str | None
    """Id of that symptom."""
    cause: str | None
    """Id of the most probable cause."""
    limits_broken: bool
    """Whether the formula breaks a limit of the baker's own."""
    no_all_clear: bool
    """Whether a number far out, or a part not judged that decides, forbids an all-clear at any limit."""
    past: tuple[str, ...]
    """Each limit that is broken, and each number far out, in a sentence."""
    guesses: tuple[str, ...]
    """What was not read, what decides and is not stated, and what could not be judged."""
    problems: tuple[str, ...]
    """What kept it from being read, a line each."""
    answer: CheckDocument | None
    """The whole answer; null where it was not asked for."""
