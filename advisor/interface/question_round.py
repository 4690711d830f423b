"""A plain round of questions at the prompt: which faults did the loaf show?"""

from __future__ import annotations

from advisor.interface.diagnose_command import Told
from advisor.interface.formula_choice import InputFault
from advisor.knowledge_base.knowledge import Knowledge


def ask_symptoms(knowledge: Knowledge) -> Told:
    """List the symptoms by number, let the baker tick them, then ask the kitchen questions that rules read.

    Raises:
        InputFault: the baker left before anything was ticked.
    """
    from prompt_toolkit import PromptSession

    symptoms = sorted(knowledge.symptoms.values(), key=lambda s: (-s.severity, s.id))
    for place, symptom in enumerate(symptoms, 1):
        print(f"{place:>3}  {symptom.name}: {symptom.says}")
    session: PromptSession[str] = PromptSession()
    try:
        seen = _ticked(session, "What did the loaf show? Numbers with spaces: ", len(symptoms), needed=True)
        absent = _ticked(session, "What did you look for and not find? Numbers, or Enter: ", len(symptoms), needed=False)
    except (KeyboardInterrupt, EOFError):
        raise InputFault("advisor: stopped; nothing was answered") from None
    saw = tuple(symptoms[n - 1].id for n in seen)
    not_seen = tuple(symptoms[n - 1].id for n in absent if n not in seen)
    answers: dict[str, str] = {}
    try:
        for question in knowledge.questions.values():
            if (answer := _one_of(session, question.question, dict(question.answers))) is not None:
                answers[question.id] = answer
    except (KeyboardInterrupt, EOFError):
        # What was answered so far is kept and used: leaving early is an answer too.
        print("Going on with what was answered.")
    return Told(saw=saw, not_seen=not_seen, answers=answers)


def _numbers(text: str, most: int) -> list[int] | None:
    words = text.replace(",", " ").split()
    if all(w.isdigit() and 1 <= int(w) <= most for w in words):
        return list(dict.fromkeys(int(w) for w in words))
    return None


def _ticked(session, prompt: str, most: int, *, needed: bool) -> list[int]:  # type: ignore[no-untyped-def]
    while True:
        found = _numbers(session.prompt(prompt), most)
        if found or (found is not None and not needed):
            return found
        print(f"Numbers from 1 to {most}, with spaces between them.")


def _one_of(session, question: str, answers: dict[str, str]) -> str | None:  # type: ignore[no-untyped-def]
    print(question)
    for place, text in enumerate(answers.values(), 1):
        print(f"  {place}  {text}")
    while True:
        found = _numbers(session.prompt("Number, Enter to skip, Ctrl-D to see the answer: "), len(answers))
        if found is not None and len(found) <= 1:
            return list(answers)[found[0] - 1] if found else None
        print(f"One number from 1 to {len(answers)}, or nothing.")
