"""From a word to a topic: a lesson, a formula with its fault, a symptom, a cause or a mechanism."""

from __future__ import annotations

import re
from collections.abc import Mapping

from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.lesson.teach_steps import Topic
from advisor.explanation.lesson.topics import formula_topic, lesson_topic, worst_of
from advisor.formula.faults import FormulaFault
from advisor.formula.files import formula_from_file
from advisor.interface.desk.formula_choice import choose_formula
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest

_FAULT = re.compile(r"^#\s*fault:\s*(?P<cause>[a-z_]+)\s*$", re.MULTILINE)


def demo_faults(knowledge: Knowledge) -> Mapping[str, str]:
    """Demo formulas that carry a fault on purpose, with the cause that it is."""
    found = {}
    for name, path in knowledge.formulas.items():
        if match := _FAULT.search(path.read_text("utf-8")):
            found[name] = match["cause"]
    return found


def topic_of(word: str, knowledge: Knowledge, examiner: Examiner, region: str = "us") -> Topic:
    """Find what a word stands for; a lesson wins over a formula, a formula over a name of the cause graph.

    Raises:
        FormulaFault: a file that is no formula.
        InputFault: nothing is called so; says what is near.
    """
    if (topic := _named_topic(word, knowledge, examiner)) is not None:
        return topic
    plain = word.strip().lower().replace(" ", "_")
    try:
        formula = choose_formula(word, knowledge, region)
    except FormulaFault:
        raise
    except InputFault as fault:
        known = (
            *knowledge.lessons, *knowledge.formulas, *knowledge.symptoms, *knowledge.causes, *knowledge.mechanisms
        )  # fmt: skip
        near = nearest(plain, known, least=50)
        if not near and ("/" in word or "." in word):
            raise fault from None
        hint = f"near: {', '.join(near)}" if near else "'advisor teach' without a topic lists them"
        raise InputFault(
            f"advisor: no lesson, formula, symptom, cause or mechanism '{shown(word, 60)}'; {hint}"
        ) from None
    return formula_topic(formula, knowledge, examiner, fault=demo_faults(knowledge).get(word), word=word)


def known_topic(word: str, knowledge: Knowledge, examiner: Examiner) -> Topic | None:
    """Find what a word stands for among what the knowledge holds, and in no file of the user's; `None` for no such."""
    if (topic := _named_topic(word, knowledge, examiner)) is not None:
        return topic
    if (path := knowledge.formulas.get(word)) is None:
        return None
    formula = formula_from_file(path, knowledge)
    return formula_topic(formula, knowledge, examiner, fault=demo_faults(knowledge).get(word), word=word)


def _named_topic(word: str, knowledge: Knowledge, examiner: Examiner) -> Topic | None:
    """A lesson, or a name of the cause graph."""
    plain = word.strip().lower().replace(" ", "_")
    if (lesson := knowledge.lessons.get(plain.replace("_", "-"))) is not None:
        return lesson_topic(lesson, knowledge)
    if word in knowledge.formulas:
        return None
    name = plain.replace("-", "_")
    if name in knowledge.symptoms:
        return _of_symptom(name, knowledge, examiner)
    if name in knowledge.causes:
        return _of_cause(name, None, knowledge, examiner)
    if name in knowledge.mechanisms:
        return _of_mechanism(name, knowledge, examiner)
    return None


def _of_cause(cause: str, symptom: str | None, knowledge: Knowledge, examiner: Examiner) -> Topic:
    lesson = next((x for x in knowledge.lessons.values() if x.cause == cause), None)
    demo = next((name for name, fault in demo_faults(knowledge).items() if fault == cause), None)
    formula = None
    if demo is not None:
        formula = choose_formula(demo, knowledge, "us")
    elif lesson is not None:
        formula = lesson_topic(lesson, knowledge).formula
    if symptom is None:
        reached = _graph_influence(cause, examiner)
        symptom = max(reached, key=lambda s: (reached[s], s), default=None)
        if formula is not None:
            found = examiner.examine(formula, after_bake=False)
            symptom = worst_of(cause, found, examiner) or symptom
    return Topic(
        title=knowledge.causes[cause].name, formula=formula, cause=cause, symptom=symptom, word=cause
    )


def _graph_influence(cause: str, examiner: Examiner) -> Mapping[str, float]:
    return examiner.whole_graph.influence.get(cause, {})


def _of_symptom(symptom: str, knowledge: Knowledge, examiner: Examiner) -> Topic:
    """The cause that leads there most strongly, of those that a demo formula shows."""
    by_strength = examiner.whole_graph.reached_by.get(symptom, {})
    faults = set(demo_faults(knowledge).values())
    cause = max(by_strength, key=lambda c: (c in faults, by_strength[c], c), default=None)
    topic = _of_cause(cause, symptom, knowledge, examiner) if cause else None
    return Topic(
        title=knowledge.symptoms[symptom].name, formula=topic.formula if topic else None, cause=cause,
        symptom=symptom, word=symptom,
    )  # fmt: skip


def _of_mechanism(mechanism: str, knowledge: Knowledge, examiner: Examiner) -> Topic:
    faults = set(demo_faults(knowledge).values())
    into = [link for link in knowledge.links if link.to == mechanism and link.start in knowledge.causes]
    first = max(into, key=lambda x: (x.start in faults, x.strength, x.start), default=None)
    onward = [link for link in knowledge.links if link.start == mechanism and link.to in knowledge.symptoms]
    last = max(onward, key=lambda x: (x.strength, x.to), default=None)
    if first is None or last is None:
        raise InputFault(f"advisor: no cause leads through '{mechanism}' straight to a symptom")
    topic = _of_cause(first.start, last.to, knowledge, examiner)
    return Topic(
        title=knowledge.mechanisms[mechanism].name, formula=topic.formula, cause=first.start, symptom=last.to,
        through=mechanism, word=mechanism,
    )  # fmt: skip
