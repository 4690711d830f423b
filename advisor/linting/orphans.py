"""Is there anything that nothing else reads? It is either forgotten or a sign of a missing rule."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.knowledge_base.all_entries import all_entries, parts_of
from advisor.knowledge_base.entry import Graded
from advisor.knowledge_base.ingredient import Composition
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import SUPPORTING, Condition, Denial, Rule
from advisor.knowledge_base.text_fields import places_in_text
from advisor.linting.report import Report

SHOWN_BY_PAGES = frozenset({"composition", "baking", "volume", "process", "texture", "colour", "keeping"})
"""Groups of measures that a baker reads on the page, so that they need no rule."""


def conditions_of(knowledge: Knowledge) -> Iterator[Condition]:
    """Every condition of every rule, denied ones too."""
    for rule in knowledge.rules.values():
        for part in rule.when:
            yield part.not_ if isinstance(part, Denial) else part


def places_in(rule: Rule) -> set[str]:
    """Names in braces in a rule's sentences."""
    texts = (rule.because, *(then.reminder for then in rule.then if then.reminder))
    return {place.name for text in texts for place in places_in_text(text)}


def check_orphans(report: Report) -> None:
    """Find entries that nothing reads, cites or leads to."""
    _causes(report)
    _ends_of_links(report)
    _read_by_rules(report)
    _coefficients(report)
    _sources(report)
    _retired(report)


def _causes(report: Report) -> None:
    known = report.knowledge
    supported = {
        then.suspect for rule in known.rules.values() for then in rule.then if then.evidence in SUPPORTING
    }
    # A heading over finer causes takes its probability from them.
    headings = {cause.refines for name, cause in known.causes.items() if cause.refines and name in supported}
    for name in known.causes:
        if name not in supported and name not in headings:
            report.add("cause", name, "orphan", "no rule speaks for this cause")


def _ends_of_links(report: Report) -> None:
    known = report.knowledge
    starts, ends = {link.start for link in known.links}, {link.to for link in known.links}
    for name in known.mechanisms:
        if name not in ends:
            report.add("mechanism", name, "orphan", "no link leads to this mechanism")
        if name not in starts:
            report.add("mechanism", name, "orphan", "no link leads on from this mechanism")
    for name in known.symptoms:
        if name not in ends:
            report.add("symptom", name, "orphan", "no link leads to this symptom")


def _read_by_rules(report: Report) -> None:
    known = report.knowledge
    read = {(c.subject, c.name) for c in conditions_of(known)}
    concluded = [then for rule in known.rules.values() for then in rule.then]
    used = {band.measure for band in known.bands} | {
        lever.until.measure for lever in known.levers.values() if lever.until
    }
    used |= {place for rule in known.rules.values() for place in places_in(rule)}
    for name, measure in known.measures.items():
        if ("measure", name) not in read and name not in used and measure.group not in SHOWN_BY_PAGES:
            report.add("measure", name, "orphan", "no rule, band, lever or page reads this measure")
    for name in known.cautions:
        if all(then.caution != name for then in concluded):
            report.add("caution", name, "orphan", "no rule calls for this caution")
    told = {question for slip in known.hand_slips.values() for question in slip.told_by}
    told |= {name for name, question in known.questions.items() if question.shows}
    for name in known.questions:
        if ("answer", name) not in read and name not in told and all(then.ask != name for then in concluded):
            report.add("question", name, "orphan", "no rule reads an answer to this question or asks it")
    turned = {lever.turn.trait for lever in known.levers.values()}
    turned |= {trait for influence in known.influences.values() for trait in influence.of.traits}
    turned |= {kind.lends_to for kind in known.kinds.values()}
    turned |= {
        name for kind in known.kinds.values() for made in kind.made_of for name in (*made.of, *made.without)
    }
    for name in known.traits:
        if ("trait", name) not in read and name not in turned and name not in (report.read_by_code or ()):
            report.add("trait", name, "orphan", "no rule, lever or model reads this trait")
    for rule_name, rule in known.rules.items():
        for then in rule.then:
            if then.state and ("state", then.state) not in read:
                report.add("rule", rule_name, "orphan", f"no rule reads the state '{then.state}'")


def _coefficients(report: Report) -> None:
    if report.read_by_code is None:
        return
    # Names may be put together in the program, as in f"energy_{law}_protein".
    stems = tuple(word for word in report.read_by_code if word.endswith("_") and len(word) >= 5)
    for name in report.knowledge.coefficients:
        if name not in report.read_by_code and not name.startswith(stems):
            report.add("coefficient", name, "orphan", "no model reads this coefficient")
    for name in report.knowledge.thresholds:
        if name not in report.read_by_code:
            report.add("threshold", name, "orphan", "no page reads this threshold")


def _sources(report: Report) -> None:
    cited: set[str] = set()
    for named in all_entries(report.knowledge):
        for part in parts_of(named.entry):
            if isinstance(part, Graded):
                cited.update(part.sources)
            if isinstance(part, Composition):
                cited.add(part.data_set)
    for key in report.knowledge.sources:
        if key not in cited:
            report.add("source", key, "orphan", "nothing cites this source")


def _retired(report: Report) -> None:
    known = report.knowledge
    for name in known.rules:
        if name in known.retired:
            where = known.where("retired rule", name)
            report.add("rule", name, "retired", f"this id was retired at {where}: take another")
