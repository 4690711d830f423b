"""A proposal as a formula: to be written out or saved, and baked."""

from __future__ import annotations

import argparse
from itertools import count

from advisor.formula.files import TABLES, file_and_part
from advisor.formula.formula import Formula
from advisor.formula.reading import report_on_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula.writing.as_yaml import write_formula_yaml
from advisor.formula.writing.edited_text import with_changes
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.whole_file import write_whole
from advisor.remedy.assessing import Advisor, Assessment
from advisor.remedy.constraints import Constraints
from advisor.remedy.proposal import Proposal

TOGETHER = "together"


def applied(advisor: Advisor, answer: Assessment, limits: Constraints, which: str) -> Formula:
    """Give the formula with change number `which` applied, or with the joint plan (`together`).

    Raises:
        InputFault: there is no such change, or it is one of handling, which a formula does not show.
    """
    if which == TOGETHER:
        plan = advisor.plan_together(answer, limits)
        if plan is None:
            raise InputFault(
                "advisor: there is no plan of several amounts for this formula; name a change by its number"
            )
        return plan.formula
    return proposal_of(answer, which).formula


def applied_page(
    options: argparse.Namespace, advisor: Advisor, answer: Assessment, limits: Constraints, word: str
) -> str:
    """What `--apply` writes: the changed formula, or with `--save` where it was written to.

    Raises:
        InputFault: as `applied` and `saved` do.
    """
    changed = applied(advisor, answer, limits, options.apply)
    if not options.save:
        return write_formula_text(changed)
    return f"{saved(word, answer.examination.formula, changed, advisor.knowledge, options.region)}.\n"


def refuse_save_alone(options: argparse.Namespace) -> None:
    """Refuse `--save` without a change that it could write.

    Raises:
        InputFault: no change is named.
    """
    if options.apply is None:
        raise InputFault(
            "advisor: --save writes a change into the formula; name it too, such as --apply 1 --save"
        )


def saved(word: str, before: Formula, after: Formula, knowledge: Knowledge, region: str) -> str:
    """Write a changed formula into its file, keep the file as it was beside it, and say so in a line.

    Remarks and lines that were not understood stay; a YAML file keeps its remarks above the rest.

    Raises:
        InputFault: the formula is from no file of the baker's own, or one of a table, or nothing can be written.
    """
    path, part = file_and_part(word)
    if word == "-" or not path.is_file():
        raise InputFault(
            "advisor: --save writes into a file of your own; without it the changed formula is printed"
        )
    if part or path.suffix.lower() in TABLES:
        raise InputFault("advisor: --save writes no tables; without it the changed formula is printed")
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise InputFault(f"advisor: {word} cannot be read again: {type(error).__name__}") from None
    if path.suffix.lower() in (".yaml", ".yml"):
        remarks = "".join(f"{line}\n" for line in text.splitlines() if line.lstrip().startswith("#"))
        changed = remarks + write_formula_yaml(after)
    else:
        changed = with_changes(text, before, after, lambda one: report_on_text(one, knowledge, region=region))
    beside = (path.with_name(f"{path.name}.before-{n}") for n in count(1))
    kept = next(one for one in beside if not one.exists())
    write_whole(kept, text)
    write_whole(path, changed)
    return f"Written to {shown(word, 1000)}; as it was: {shown(str(kept), 1000)}"


def proposal_of(answer: Assessment, which: str, *, any_kind: bool = False) -> Proposal:
    """Give the change that is printed under a number; `any_kind` gives one of handling too.

    Raises:
        InputFault: there is no such change, or it is one of handling, which a formula does not show.
    """
    proposals = answer.plans.proposals
    if not which.isdigit() or not 1 <= int(which) <= len(proposals):
        known = f"1 to {len(proposals)}, or {TOGETHER}" if proposals else "none: nothing is proposed"
        raise InputFault(f"advisor: no change '{which[:20]}'; there are {known}")
    proposal = proposals[int(which) - 1]
    if not any_kind and proposal.formula == answer.examination.formula:
        raise InputFault(
            f"advisor: change {which} is one of handling, which no line of a formula holds: {proposal.changes[0].what}"
        )
    return proposal
