"""Asking by number which of two or three things is meant."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from advisor.interface.desk.output import fitted
from advisor.interface.desk.prompting import Left, Prompter, can_ask
from advisor.interface.desk.symptom_words import Chooser
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge


def symptom_chooser(knowledge: Knowledge) -> Chooser | None:
    """Give what asks which symptom a phrase means; `None` where there is no terminal to ask at."""
    return (lambda phrase, ids: choose_symptom(Prompter(), phrase, ids, knowledge)) if can_ask() else None


def choose_symptom(prompter: Prompter, phrase: str, ids: Sequence[str], knowledge: Knowledge) -> str | None:
    """Ask which of some symptoms a phrase means; Enter, 0 and leaving mean none of them."""
    prompter.say(f"'{shown(phrase)}' may mean:")
    for place, name in enumerate(ids, 1):
        prompter.say(f"  {place}  {knowledge.symptoms[name].name}: {knowledge.symptoms[name].says}")
    try:
        while typed := prompter.line("Number, or Enter for none of these > "):
            if typed.isdecimal() and int(typed) <= len(ids):
                return ids[int(typed) - 1] if int(typed) else None
            prompter.say(f"Give a number from 1 to {len(ids)}, or Enter.")
    except Left:
        pass
    return None


def write_notes(notes: Sequence[str]) -> None:
    """Write what was understood of a baker's words beside the answer, on standard error."""
    for note in notes:
        sys.stderr.write(fitted(f"{note}\n", sys.stderr))
