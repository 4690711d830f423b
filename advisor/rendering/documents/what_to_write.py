"""What to write so that something that was not stated is known: a line of the formula, or a word of the command."""

from __future__ import annotations

from dataclasses import fields

from advisor.formula.formula import Process
from advisor.formula.writing.as_text import process_values
from advisor.inference.situation import Situation
from advisor.knowledge_base.knowledge import Knowledge

_TOGETHER = {"bake_min": ("oven_c",), "proof_c": ("proof_min",)}
"""What stands on one line with it and before it."""


def how_to_answer(asked: str, situation: Situation, knowledge: Knowledge) -> str | None:
    """Give the line with what was assumed in it, to be mended; or the options that answer a question."""
    if asked in knowledge.symptoms:
        return f"--saw {asked}, or --not {asked}"
    if (question := knowledge.questions.get(asked)) is not None:
        return f"answers: {{{asked}: {' or '.join(question.answers)}}}, in the file of --answers"
    known = {**situation.process_words, **situation.process_numbers}
    names = [name for name in (*_TOGETHER.get(asked, ()), asked) if name in known]
    if asked not in known or not {f.name for f in fields(Process)}.issuperset(names):
        return None
    values = {name: known[name] for name in names}
    try:
        said = process_values(Process(**values))  # type: ignore[arg-type]  # as the situation has them
    except ValueError:
        return None
    return "; ".join(f"{key}: {value}" for key, value in said.items()) or None
