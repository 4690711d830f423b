"""What the baker said of a loaf: from the command line, from a file of answers, and back into such a file."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from advisor.interface.formula_choice import InputFault
from advisor.interface.output import check_names
from advisor.knowledge_base.faults import KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.strict_yaml import Plain, read_yaml


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the baker saw, looked for in vain, and answered (question id to answer id)."""

    saw: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()
    answers: Mapping[str, str] = field(default_factory=dict)

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
        return lists + (f"answers:\n{answers}" if answers else "")


def told_by(
    saw: Sequence[str], not_seen: Sequence[str], answers_file: str | None, knowledge: Knowledge
) -> Told:
    """Put together what stands on the command line and in the file of answers.

    Raises:
        InputFault: a name that is not known, a symptom both seen and not seen, or a file that holds something else.
    """
    saw, not_seen, answers = list(saw), list(not_seen), dict[str, str]()
    if answers_file:
        more_saw, more_not, answers = _read(Path(answers_file))
        saw, not_seen = saw + more_saw, not_seen + more_not
    saw = [name.replace("-", "_") for name in saw]
    not_seen = [name.replace("-", "_") for name in not_seen]
    check_names([*saw, *not_seen], knowledge.symptoms, "symptom")
    check_names(answers, knowledge.questions, "question")
    for question, answer in answers.items():
        check_names([answer], knowledge.questions[question].answers, f"answer to '{question}'")
    if both := sorted(set(saw) & set(not_seen)):
        raise InputFault(f"advisor: '{both[0]}' is given as seen and as not seen; keep one")
    return Told(saw=tuple(dict.fromkeys(saw)), not_seen=tuple(dict.fromkeys(not_seen)), answers=answers)


def _read(path: Path) -> tuple[list[str], list[str], dict[str, str]]:
    try:
        data = read_yaml(path, str(path)).data
    except KnowledgeFault as fault:
        raise InputFault(str(fault)) from None
    if not isinstance(data, dict) or set(data) - {"saw", "not", "answers"}:
        raise InputFault(f"{path}:1: expected the keys saw, not and answers; nothing else")
    answers = data.get("answers") or {}
    if not isinstance(answers, dict):
        raise InputFault(f"{path}:1: answers must be question: answer, a line each")
    said = {question: str(answer) for question, answer in answers.items()}
    return _names(path, data.get("saw")), _names(path, data.get("not")), said


def _names(path: Path, value: Plain) -> list[str]:
    if value is None:
        return []
    if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
        raise InputFault(f"{path}:1: saw and not must be lists of symptom names")
    return [str(v) for v in value]
