"""One formula: before the bake, after it, why, what a change does, what two formulas have apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from advisor.api.results import CheckResult, Told, as_result
from advisor.api.shared import as_formula, default_advisor, load_knowledge, read_formula

if TYPE_CHECKING:
    from advisor.formula.formula import Formula
    from advisor.remedy.constraints import Constraints
    from advisor.rendering.checked import Checked
    from advisor.rendering.documents.comparison import DifferenceDocument, TrialDocument
    from advisor.rendering.documents.proof import ProofDocument


def check(formula: Formula | str, constraints: Constraints | None = None) -> CheckResult:
    """Say before the bake what will go wrong, and what prevents it; `formula` may be its text.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    return as_result(CheckResult, default_advisor().check(as_formula(formula), constraints))


def check_text(
    text: str,
    constraints: Constraints | None = None,
    *,
    name: str = "formula",
    region: str = "us",
    in_full: bool = False,
) -> Checked:
    """Check one text of many, and put into the result what is wrong with it, instead of raising.

    So it can be mapped over a catalogue by any pool or cluster engine: it can be pickled, what it gives is small, and
    a process that calls it for the first time reads the knowledge for itself.

    Args:
        text: a formula as `read_formula` takes it.
        constraints: limits that count as a fault when broken.
        name: stands in the result and before each problem.
        region: whose cups and spoons (us, metric, uk, au).
        in_full: also give the whole answer, with proposals, as JSON text; takes several times as long.
    """
    from advisor.remedy.constraints import Constraints
    from advisor.rendering.checked import AskedOfMany, checked

    limit = load_knowledge().coefficient("risk_limit")
    asked = AskedOfMany(
        limits=constraints or Constraints(), risk_limit=limit, region=region, documents=in_full
    )
    return checked(name, lambda: read_formula(text, name=name, region=region), default_advisor, asked)


def diagnose(
    formula: Formula | str,
    *,
    saw: Iterable[str] = (),
    not_seen: Iterable[str] = (),
    answers: Mapping[str, str] | None = None,
) -> CheckResult:
    """Say why a baked loaf failed: `saw` and `not_seen` hold symptom ids, `answers` question to answer.

    `formula` may be its text.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        KeyError: a symptom, question or answer that is not known.
    """
    found = default_advisor().diagnose(as_formula(formula), saw=saw, not_seen=not_seen, answers=answers)
    return as_result(CheckResult, found)


def why(
    formula: Formula | str, topic: str, *, saw: Iterable[str] = (), not_seen: Iterable[str] = ()
) -> Told[ProofDocument]:
    """Prove a cause, or say where a symptom's risk comes from; `topic` is the id of either.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        KeyError: no such cause or symptom.
    """
    from advisor.knowledge_base.likeness import nearest
    from advisor.rendering.documents.proof import proof_document

    knowledge, seen, unseen = load_knowledge(), tuple(saw), tuple(not_seen)
    if topic not in knowledge.causes and topic not in knowledge.symptoms:
        near = ", ".join(nearest(topic, [*knowledge.causes, *knowledge.symptoms]))
        raise KeyError(f"no cause or symptom '{topic}'; near: {near}")
    found = default_advisor().examiner.examine(
        as_formula(formula), saw=seen, not_seen=unseen, after_bake=bool(seen or unseen)
    )
    if topic in knowledge.causes:
        chance = next((rank.probability for rank in found.diagnosis.causes if rank.id == topic), 0.0)
        says = f"{knowledge.causes[topic].name}: {100 * chance:.0f} % in {found.formula.name[:60]}"
        return Told(proof_document(found, knowledge, "cause", topic), says)
    risk = found.diagnosis.risks[topic].risk
    says = f"{knowledge.symptoms[topic].name}: risk {100 * risk:.0f} % in {found.formula.name[:60]}"
    return Told(proof_document(found, knowledge, "symptom", topic), says)


def try_changes(formula: Formula | str, *changes: str, region: str = "us") -> Told[TrialDocument]:
    """Apply changes as a baker writes them ("water -30 g", "oven 165 C", "A instead of B") and compare.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        advisor.remedy.change_fault.ChangeFault: a change that cannot be read or applied.
    """
    from advisor.explanation.comparison import ComparisonBlocks
    from advisor.knowledge_base.ingredient import Ingredient
    from advisor.remedy.change import Changed
    from advisor.remedy.comparing import compare
    from advisor.remedy.substitution import substitute
    from advisor.remedy.written_change import apply_changes
    from advisor.rendering.documents.comparison import trial_document

    knowledge, examiner = load_knowledge(), default_advisor().examiner

    def swap(now: Formula, old: str, new: Ingredient) -> Changed:
        return substitute(examiner, examiner.examine(now, after_bake=False), old, new).changed

    before = as_formula(formula)
    changed = apply_changes(before, changes, knowledge, region=region, swap=swap)
    found = compare(examiner, before, changed.formula)
    page = tuple(ComparisonBlocks(knowledge).of(found, changed.changes, ("before", "after")))
    was, now = found.burden
    says = f"{len(changed.changes)} changes to {before.name[:60]}: risks summed {was:.2f} to {now:.2f}"
    return Told(trial_document(found, changed.changes, knowledge), says, page)


def differ(first: Formula | str, second: Formula | str) -> Told[DifferenceDocument]:
    """Lay two formulas side by side, and say what each difference does by itself.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    from advisor.explanation.comparison import ComparisonBlocks
    from advisor.remedy.comparing import compare, differences, explain
    from advisor.rendering.documents.comparison import difference_document

    knowledge, examiner = load_knowledge(), default_advisor().examiner
    a, b = as_formula(first), as_formula(second)
    found, singly = compare(examiner, a, b), explain(examiner, a, b)
    changes = [change for change, _ in differences(a, b)]
    says = ComparisonBlocks(knowledge)
    page = (*says.of(found, changes, ("first", "second")), *(says.singly(singly) if singly else ()))
    was, now = found.burden
    line = (
        f"{a.name[:60]} and {b.name[:60]}: {len(changes)} differences, risks summed {was:.2f} and {now:.2f}"
    )
    return Told(difference_document(found, changes, singly, knowledge), line, page)
