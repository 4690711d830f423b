"""What the baker said of a loaf: from the command line, from a file of answers, and back into such a file."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

from advisor.diagnosis.described_loaf import RAISED_BY, SHAPES, LoafKind, RaisedBy
from advisor.formula.formula import PanKind
from advisor.interface.desk.output import check_names
from advisor.interface.desk.symptom_words import Chooser, read_said
from advisor.knowledge_base.faults import InputFault, KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.reading import read_entry
from advisor.knowledge_base.strict_yaml import read_yaml
from advisor.knowledge_base.written_answers import WrittenAnswers


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the baker saw, looked for in vain, and answered (question id to answer id)."""

    saw: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()
    answers: Mapping[str, str] = field(default_factory=dict)
    remarks: tuple[str, ...] = ()
    """Phrases in which no symptom was heard."""
    notes: tuple[str, ...] = field(default=(), compare=False)
    """What was understood of phrases, to be said beside the answer."""
    loaf: LoafKind | None = None
    """What kind of loaf it was, where there is no formula."""

    @property
    def anything(self) -> bool:
        """Say whether there is anything to go by."""
        return bool(self.saw or self.not_seen or self.answers)

    def as_file(self) -> str:
        """Write a file that `--answers` reads; every word is quoted, since a bare no is no word in YAML."""
        answers = "".join(
            f"  {question}: {json.dumps(answer)}\n" for question, answer in self.answers.items()
        )
        lists = f"saw: [{', '.join(self.saw)}]\nnot: [{', '.join(self.not_seen)}]\n"
        loaf = self.loaf
        if loaf is not None:
            words = f"carried_by: {loaf.carried_by}, raised_by: {loaf.raised_by}, shape: {loaf.shape}"
            lists = f"loaf: {{{words}}}\n{lists}"
        return lists + (f"answers:\n{answers}" if answers else "")


def told_by(
    saw: Sequence[str],
    not_seen: Sequence[str],
    answers_file: str | None,
    knowledge: Knowledge,
    choose: Chooser | None = None,
) -> Told:
    """Put together what stands on the command line and in the file of answers.

    `choose` is asked which of two or three symptoms a phrase means, where there is somebody to ask.

    Raises:
        InputFault: a name that is not known, a symptom both seen and not seen, or a file that holds something else.
    """
    saw, not_seen, answers = list(saw), list(not_seen), dict[str, str]()
    loaf = None
    if answers_file:
        data = _read(Path(answers_file))
        saw, not_seen = saw + list(data.saw), not_seen + list(data.not_seen)
        answers, loaf = dict(data.answers), _sound(data.loaf, knowledge)
    seen, absent = read_said(saw, knowledge, choose), read_said(not_seen, knowledge, choose)
    check_names(answers, knowledge.questions, "question")
    for question, answer in answers.items():
        check_names([answer], knowledge.questions[question].answers, f"answer to '{question}'")
    if both := sorted(set(seen.saw) & set(absent.saw)):
        raise InputFault(f"advisor: '{both[0]}' is given as seen and as not seen; keep one")
    denied = tuple(s for s in dict.fromkeys((*absent.saw, *seen.not_seen)) if s not in seen.saw)
    return Told(
        saw=seen.saw, not_seen=denied, answers=answers, loaf=loaf,
        remarks=(*seen.remarks, *absent.remarks), notes=(*seen.notes, *absent.notes),
    )  # fmt: skip


def _sound(loaf: LoafKind | None, knowledge: Knowledge) -> LoafKind | None:
    if loaf is not None:
        check_names([loaf.carried_by], knowledge.structures, "structure")
        check_names([loaf.raised_by], RAISED_BY, "leavening")
        check_names([loaf.shape], SHAPES, "shape")
    return loaf


def _read(path: Path) -> Told:
    try:
        told = read_entry(read_yaml(path, str(path)), str(path), WrittenAnswers)
    except KnowledgeFault as fault:
        raise InputFault(str(fault)) from None
    loaf = None
    if (kind := told.loaf) is not None:
        # Whether the words are known is looked at with the knowledge.
        raised_by, shape = cast(RaisedBy, kind.raised_by), cast(PanKind, kind.shape)
        loaf = LoafKind(carried_by=kind.carried_by, raised_by=raised_by, shape=shape)
    answers = {question: str(answer) for question, answer in (told.answers or {}).items()}
    return Told(saw=told.saw or (), not_seen=told.not_seen or (), answers=answers, loaf=loaf)
