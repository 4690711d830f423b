"""`advisor try` and `advisor differ`: a formula with changes, and two formulas, before and after."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator

from advisor import load_knowledge
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.blocks import Block, Emphasis, Heading, Paragraph, Row
from advisor.explanation.comparison import ComparisonBlocks
from advisor.explanation.wording import grams
from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import write_formula_text
from advisor.interface.desk.advisor_choice import advisor_for, constraints_from
from advisor.interface.desk.applying import proposal_of
from advisor.interface.desk.bakers_answers import told_by
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.record_learnt import in_this_kitchen
from advisor.interface.desk.showing import page_text, show_page
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.remedy.change import Changed
from advisor.remedy.change_fault import ChangeFault
from advisor.remedy.comparing import compare, differences, explain
from advisor.remedy.spoken_change import Direction, direction_in
from advisor.remedy.substitution import Substitution, substitute, substitutes
from advisor.remedy.written_change import apply_changes, lines_named

_PRINTED_NUMBER = re.compile(r"(?:change\s+|number\s+|no\.?\s*|#)?([0-9]{1,2})\.?", re.IGNORECASE)
_BOTH = ("before", "after")
_ANYTHING = ("? instead of ", "anything instead of ", "what instead of ")


def run_try(options: argparse.Namespace) -> int:
    """Apply the changes and show what they do; with `? instead of NAME` list what could stand in for it.

    Raises:
        InputFault: a change that cannot be read or applied.
    """
    knowledge = load_knowledge()
    formula = choose_formula(options.formula, knowledge, options.region)
    advisor = advisor_for(options.engine)
    examiner = advisor.examiner
    texts: list[str] = list(options.changes)
    if len(texts) == 1 and (name := _asks_for_substitutes(texts[0])):
        return _substitutes(options, examiner, formula, name, knowledge)
    swaps: list[Substitution] = []

    def swap(now: Formula, old: str, new: Ingredient) -> Changed:
        found = substitute(examiner, examiner.examine(now, after_bake=False), old, new)
        swaps.append(found)
        return found.changed

    if len(texts) == 1 and (asked := direction_in(texts[0])) is not None:
        raise InputFault(f"advisor: {_amounts_offered(advisor, formula, asked, options)}")
    try:
        if len(texts) == 1 and (number := _PRINTED_NUMBER.fullmatch(texts[0].strip())) is not None:
            changed = _printed(advisor, formula, number[1], options)
        else:
            changed = apply_changes(formula, texts, knowledge, region=options.region, swap=swap)
    except ChangeFault as fault:
        raise InputFault(f"advisor: {fault}") from None
    if options.apply:
        write_page(write_formula_text(changed.formula))
        return 0
    found = compare(examiner, formula, changed.formula)
    if options.json:
        from advisor.rendering.documents.comparison import trial_document

        write_document(trial_document(found, changed.changes, knowledge))
        return 0
    says = ComparisonBlocks(knowledge)
    count = len(changed.changes)
    blocks: list[Block] = [
        Row(left=_name(formula.name), right=("one change" if count == 1 else f"{count} changes",)),
        *says.of(found, changed.changes, _BOTH),
        *_worked_out(says, swaps),
        *says.clocks(found, _BOTH),
    ]
    show_page(page_text(blocks), pager=not options.no_pager)
    return 0


def _name(name: str) -> tuple[Emphasis]:
    return (Emphasis(meaning="name", runs=(name,)),)


def _worked_out(says: ComparisonBlocks, swaps: list[Substitution]) -> Iterator[Block]:
    if swaps:
        yield Heading(text="How the exchange was worked out")
        for one in swaps:
            yield from says.duties(one)


def _printed(advisor: Advisor, formula: Formula, number: str, options: argparse.Namespace) -> Changed:
    """Give the change that `check` prints under a number, or with `--saw` the one that `diagnose` does.

    Raises:
        InputFault: there is no such change, or it is one of handling; or a symptom is not known.
    """
    limits = constraints_from(options, advisor.knowledge)
    told = told_by(options.saw, options.not_seen, None, advisor.knowledge)
    advisor = in_this_kitchen(advisor, options)
    if told.anything:
        answer = advisor.diagnose(formula, saw=told.saw, not_seen=told.not_seen, constraints=limits)
    else:
        answer = advisor.check(formula, limits)
    proposal = proposal_of(answer, number)
    return Changed(formula=proposal.formula, changes=proposal.changes)


def _amounts_offered(
    advisor: Advisor, formula: Formula, asked: Direction, options: argparse.Namespace
) -> str:
    """Ask how much more or less, with the amounts that the proposed changes would give."""
    knowledge = advisor.examiner.knowledge
    lines = lines_named(formula, asked.name, knowledge)
    names = {line.ingredient.name for line in lines}
    answer = advisor.check(formula, constraints_from(options, knowledge))
    sign = "+" if asked.way == "more" else "-"
    offers = [
        f"'{change.what} {sign}{grams(abs(change.after - change.before))}' (change {place}, or: try FORMULA {place})"
        for place, proposal in enumerate(answer.plans.proposals, 1)
        for change in proposal.changes[:1]
        if change.what in names and change.before is not None and change.after is not None
        and (change.after > change.before) == (asked.way == "more")
    ]  # fmt: skip
    name = lines[0].ingredient.name if lines else asked.name
    hint = f"'{name} {sign}20 g' or '{name} {sign}10 %'"
    if offers:
        return f"how much {asked.way} {name}? What helps this formula: {' or '.join(offers[:3])}; else write {hint}"
    return f"how much {asked.way} {name}? No change of it is proposed for this formula; write {hint}"


def run_differ(options: argparse.Namespace) -> int:
    """Lay two formulas side by side, line by line; with `--worse-fails` exit 1 where the second is worse in all."""
    knowledge = load_knowledge()
    a, b = (choose_formula(word, knowledge, options.region) for word in (options.first, options.second))
    examiner = advisor_for(options.engine).examiner
    found = compare(examiner, a, b)
    was, now = found.burden
    least = knowledge.thresholds["risk_move_said"].value
    worse = int(options.worse_fails and now - was >= least)
    singly = explain(examiner, a, b)
    changes = [change for change, _ in differences(a, b)]
    if options.json:
        from advisor.rendering.documents.comparison import difference_document

        write_document(difference_document(found, changes, singly, knowledge))
        return worse
    says, names = ComparisonBlocks(knowledge), ("first", "second")
    title = f"First: {a.name} ({options.first}). Second: {b.name} ({options.second})."
    blocks: list[Block] = [
        Paragraph(runs=(title,)),
        *says.of(found, changes, names),
        *(says.singly(singly) if singly else ()),
        *says.clocks(found, names),
    ]
    show_page(page_text(blocks), pager=not options.no_pager)
    return worse


def _asks_for_substitutes(text: str) -> str | None:
    plain = " ".join(text.split())
    return next((plain[len(start) :] for start in _ANYTHING if plain.lower().startswith(start)), None)


def _substitutes(
    options: argparse.Namespace, examiner: Examiner, formula: Formula, name: str, knowledge: Knowledge
) -> int:
    lines = lines_named(formula, name, knowledge)
    if not lines:
        held = ", ".join(dict.fromkeys(x.ingredient.name for x in formula.lines))
        raise InputFault(f"advisor: there is no '{name[:40]}' in the formula; it holds {held}")
    old = lines[0].ingredient
    before: Examination = examiner.examine(formula, after_bake=False)
    found = substitutes(examiner, before, old.id, constraints_from(options, knowledge))
    says = ComparisonBlocks(knowledge)
    blocks: list[Block] = [Row(left=_name(f"Instead of {old.name}"), right=(formula.name,))]
    if found and found[0].duties:
        held = ", ".join(knowledge.measures[n].name for n in found[0].duties)
        blocks.append(Paragraph(runs=(f"It holds in place: {held}.",)))
    blocks += says.stand_ins(found)
    see = f'See one in full: advisor try {options.formula} "NAME instead of {old.name}"'
    blocks.append(Row(left=(see,), right=()))
    show_page(page_text(blocks), pager=not options.no_pager)
    return 0
