"""Score slips of the hand told by people who have not seen the program: `python tests/blind_slips.py FILE [--each]`.

FILE is a list of {"id", "text", "slip", "slip_kind", "what", "saw", "answers"}: a sound formula, what went wrong in
making it, what was seen of the loaf in plain words, and truthful answers to plain questions. Text and `saw` are
read; then the assistant's own next question is asked, up to six times, and answered from the case
(`slip_answers.py`); a question that the case cannot answer is asked in vain and counts. Reported after 0, 2, 4 and 6
questions: how often the slip is named first, and among the first three. `slip_keys.py` says what counts as named.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from slip_answers import Answers
from slip_keys import accepted

from advisor import default_advisor, load_knowledge, read_formula
from advisor.diagnosis.asking import QuestionChooser
from advisor.diagnosis.hand_slips import HandSlips, hand_slips
from advisor.diagnosis.phrases import PhraseReader
from advisor.diagnosis.slip_hypotheses import HypothesisBook
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula

AFTER = (0, 2, 4, 6)
NOWHERE = 99


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """One case: place of the slip after each number of questions, with what was asked and named on the way."""

    places: tuple[int, ...] = (NOWHERE,) * len(AFTER)
    heard: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    named: tuple[str, ...] = ()
    refused: str = ""


def in_order(hand: HandSlips, formula: Formula) -> list[str]:
    """Give what an answer names, first to last; a slip of an amount is `id:ingredient`."""
    return [
        one.id if one.line is None else f"{one.id}:{formula.lines[one.line].ingredient.id}"
        for one in hand.suspects
    ]


def scored(case: Mapping[str, Any]) -> Scored:
    """Read one case and talk it through."""
    knowledge, examiner = load_knowledge(), default_advisor("clips").examiner
    try:
        formula = read_formula(case["text"], region="metric")
    except FormulaFault as fault:
        return Scored(refused=str(fault).splitlines()[0])
    reader = PhraseReader(knowledge)
    said = Answers(case["answers"], formula, reader)
    saw = tuple(dict.fromkeys(s for phrase in case["saw"] for s in reader.hear(phrase).taken))
    seen, missing, answers, skipped = list(saw), list[str](), dict[str, str](), list[str]()
    right = accepted(case, formula)
    chooser, book = QuestionChooser(examiner), HypothesisBook(examiner)
    places, asked, named = [], [], list[str]()
    for count in range(AFTER[-1] + 1):
        found = examiner.examine(formula, saw=seen, not_seen=missing, answers=answers, after_bake=True)
        if count in AFTER:
            named = in_order(hand_slips(examiner, found, book), formula)
            places.append(next((n for n, name in enumerate(named, 1) if name in right), NOWHERE))
        question = chooser.choose(found, skipped=skipped, asked=count)
        if question is None or count == AFTER[-1]:
            continue
        if question.kind == "symptom":
            there = said.to_symptom(question.id)
            (skipped if there is None else seen if there else missing).append(question.id)
            asked.append(f"{question.id}={there}")
        else:
            answer = said.to_question(question.id)
            if answer is None:
                skipped.append(question.id)
            else:
                answers[question.id] = answer
            asked.append(f"{question.id}={answer}")
    return Scored(places=tuple(places), heard=saw, asked=tuple(asked), named=tuple(named[:4]))


def report(cases: Sequence[Mapping[str, Any]], *, each: bool) -> list[str]:
    """Give the lines of the report."""
    lines, first, three, read = [], Counter[int](), Counter[int](), 0
    by_kind: dict[str, list[int]] = {}
    for case in cases:
        found = scored(case)
        read += not found.refused
        by_kind.setdefault(case["slip_kind"], []).append(found.places[-1])
        for questions, place in zip(AFTER, found.places, strict=True):
            first[questions] += place == 1
            three[questions] += place <= 3
        if each:
            print(f"{case['id']} {case['slip_kind']} {case['what']}: places {found.places} {found.refused}")
            print(f"     saw {case['saw']} heard {list(found.heard)}")
            print(f"     asked {list(found.asked)}; named {list(found.named)}", flush=True)
    lines.append(f"read           {read:>3} of {len(cases)}")
    for questions in AFTER:
        lines.append(
            f"after {questions} questions: first {first[questions]:>3} of {len(cases)},"
            f" in three {three[questions]:>3} of {len(cases)}"
        )
    for kind, places in sorted(by_kind.items()):
        at = Counter("first" if p == 1 else "in three" if p <= 3 else "no" for p in places)
        lines.append(f"  {kind:<17} {dict(at)}")
    return lines


if __name__ == "__main__":
    path = Path(next(word for word in sys.argv[1:] if not word.startswith("-")))
    print("\n".join(report(json.loads(path.read_text(encoding="utf-8")), each="--each" in sys.argv)))
