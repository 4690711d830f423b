"""Many answers in the XML that test runners read: a test suite, a case a formula.

The form is the one that runners have in common: testsuites, testsuite, testcase, failure, error, with counts as
attributes (memory of the open schema; common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from advisor.explanation.wording import percent
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.checked import AskedOfMany, Checked
from advisor.rendering.quantities import said

_LONGEST = 2000
_WRONG = {1: "failure", 2: "error", 3: "error"}


def junit_of(found: Sequence[Checked], knowledge: Knowledge, asked: AskedOfMany) -> str:
    """Write answers as one document of XML; what failed says why in its message, line by line in its text."""
    counts = {
        "tests": str(len(found)),
        "failures": str(sum(one.exit == 1 for one in found)),
        "errors": str(sum(one.exit > 1 for one in found)),
    }
    top = Element("testsuites", counts)
    suite = SubElement(top, "testsuite", {"name": "advisor check", **counts})
    for one in found:
        case = SubElement(
            suite, "testcase", {"classname": "advisor.check", "name": shown(one.source, _LONGEST)}
        )
        if one.exit:
            told = _told(one, knowledge, asked)
            wrong = SubElement(case, _WRONG[one.exit], {"message": told[0], "type": _type(one)})
            wrong.text = "\n".join(told)
    indent(top)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(top, encoding="unicode") + "\n"


def _type(one: Checked) -> str:
    return {1: "risk or limit", 2: "not read", 3: "fault of the program"}[one.exit]


def _told(one: Checked, knowledge: Knowledge, asked: AskedOfMany) -> list[str]:
    """Why a formula does not pass, the weightiest first; never empty."""
    lines = list(one.problems or one.past)
    if one.risk is not None and one.risk >= asked.risk_limit and one.symptom is not None:
        cause = knowledge.causes.get(one.cause or "")
        why = f"; most likely: {cause.name.lower()}" if cause else ""
        symptom = knowledge.symptoms[one.symptom].name
        lines.insert(0, f"{symptom}: risk {percent(one.risk)}, limit {percent(asked.risk_limit)}{why}")
    lines += one.guesses if asked.strict or one.no_all_clear else ()
    return [shown(said(line), _LONGEST) for line in lines] or ["not passed"]
