"""Everything that can be found wrong in knowledge that was read: all checks in one run, sorted by place."""

from __future__ import annotations

from advisor.knowledge_base.faults import Finding
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.places import Places
from advisor.linting.bands import check_bands, check_lever_bands
from advisor.linting.brands import check_brands
from advisor.linting.conditions import check_conditions
from advisor.linting.figures import check_figures
from advisor.linting.graph import check_graph
from advisor.linting.ingredients import check_ingredients
from advisor.linting.lessons import check_lessons
from advisor.linting.levers import check_levers
from advisor.linting.orphans import check_orphans
from advisor.linting.phrases import check_phrases
from advisor.linting.quantities import check_quantities
from advisor.linting.questions import check_questions
from advisor.linting.reach import check_reach
from advisor.linting.references import check_references
from advisor.linting.report import ProcessFields, Report
from advisor.linting.rules import check_rules
from advisor.linting.texts import check_placeholders, check_texts
from advisor.linting.times import check_times
from advisor.linting.words import check_words

CHECKS = (
    check_references,
    check_orphans,
    check_graph,
    check_levers,
    check_rules,
    check_conditions,
    check_bands,
    check_lever_bands,
    check_reach,
    check_times,
    check_questions,
    check_phrases,
    check_lessons,
    check_placeholders,
    check_figures,
    check_ingredients,
    check_texts,
    check_words,
    check_quantities,
    check_brands,
)


def lint_knowledge(
    knowledge: Knowledge,
    places: Places,
    *,
    process: ProcessFields | None = None,
    read_by_code: frozenset[str] | None = None,
    traits_of_words: frozenset[str] | None = None,
) -> tuple[Finding, ...]:
    """Give every finding, sorted by file and line.

    `process` maps each field of the process to the words it may hold (`None` for a number); where it is left
    out, names of process fields in rules, levers and sentences are not looked up. `read_by_code` holds the
    words of the program; where it is left out, nobody is asked who reads a coefficient. `traits_of_words` holds the
    traits that words of a formula set; where it is left out, no rule is said to read a trait that nothing has.
    """
    report = Report(
        knowledge=knowledge,
        places=places,
        process=process,
        read_by_code=read_by_code,
        traits_of_words=traits_of_words,
    )
    for check in CHECKS:
        check(report)
    return tuple(sorted(set(report.findings)))
