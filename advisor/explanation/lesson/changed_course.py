"""A course whose formula is changed while it is taught: which links of its chain go out, which are lit."""

from __future__ import annotations

from dataclasses import replace

from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.chains import chain_of
from advisor.explanation.lesson.teach_steps import Course
from advisor.formula.formula import Formula


def changed_course(original: Course, formula: Formula, examiner: Examiner) -> Course:
    """Give the course with another formula: the same links, with what arrives over each of them now."""
    # The changed loaf is not baked yet: what was seen was another one.
    found = examiner.examine(formula, after_bake=False)
    topic = replace(original.topic, formula=formula)
    known = {link.key for link in original.chain}
    by_key = {link.key: link for link in chain_of(topic, found, examiner) if link.key in known}
    # A link that cannot be in the changed dough carries nothing.
    chain = tuple(by_key.get(link.key, replace(link, carried=0.0, lit=False)) for link in original.chain)
    return replace(original, topic=topic, found=found, chain=chain)
