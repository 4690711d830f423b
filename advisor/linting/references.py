"""Does every id that an entry names exist? The nearest spelling is offered where it does not."""

from __future__ import annotations

from typing import get_args

from advisor.knowledge_base.all_entries import all_entries, parts_of
from advisor.knowledge_base.entry import Figure, Graded
from advisor.knowledge_base.ingredient import Composition, Role
from advisor.knowledge_base.knowledge import band_key, link_key
from advisor.knowledge_base.measured import Band
from advisor.knowledge_base.rule_entries import Condition, Denial
from advisor.knowledge_base.sanity_entries import Bound, Way
from advisor.linting.report import Report

ANY_STRUCTURE = "any"
"""A band that serves every structure without a band of its own names this instead of structures."""

_STATES_OF_A_LINE = ("age", "celsius")
"""What a line says of its ingredient beside traits: how long it has been open, and how warm it goes in."""


def check_references(report: Report) -> None:
    """Look up every id in every entry."""
    _sources_and_pins(report)
    _ingredients(report)
    _influences(report)
    _bands_and_structures(report)
    _kinds(report)
    _graph(report)
    for name, rule in report.knowledge.rules.items():
        for part in rule.when:
            _condition(report, name, part.not_ if isinstance(part, Denial) else part)
    _conclusions(report)
    _levers(report)
    _bounds(report)
    _styles(report)
    for name, rescue in report.knowledge.rescues.items():
        for cause in rescue.for_:
            report.refer("rescue", name, "cause", cause, report.knowledge.causes)
        for trait in rescue.not_with:
            report.refer("rescue", name, "trait", trait, report.knowledge.traits)


def _influences(report: Report) -> None:
    known = report.knowledge
    for name, one in known.ingredients.items():
        for like in one.acts_like:
            report.refer("ingredient", name, "ingredient", like, known.ingredients)
    for name, entry in known.influences.items():
        for ingredient in entry.of.ingredients:
            report.refer("influence", name, "ingredient", ingredient, known.ingredients)
        for trait in entry.of.traits:
            report.refer("influence", name, "trait", trait, known.traits)


def _sources_and_pins(report: Report) -> None:
    tests = report.places.knowledge.parent / "tests"
    for named in all_entries(report.knowledge):
        # One missing key that twenty figures of an entry cite is one finding.
        cited, pins = dict[str, None](), dict[str, None]()
        for part in parts_of(named.entry):
            if isinstance(part, Graded):
                cited |= dict.fromkeys(part.sources)
            if isinstance(part, Composition):
                cited[part.data_set] = None
            if isinstance(part, Figure | Band) and part.pinned_by:
                pins[part.pinned_by] = None
        for key in cited:
            report.refer(named.kind, named.name, "source", key, report.knowledge.sources)
        for pin in pins if tests.is_dir() else ():
            if not (tests.parent / pin.partition("::")[0]).is_file():
                report.add(named.kind, named.name, "pinned_by", f"no test file '{pin}'")


def _ingredients(report: Report) -> None:
    known = report.knowledge
    for name, entry in known.ingredients.items():
        if entry.solids_like:
            report.refer("ingredient", name, "ingredient", entry.solids_like, known.ingredients)
            if entry.solids_like == name:
                report.add("ingredient", name, "reference", "solids_like names the ingredient itself")
        for acid in entry.acids_per_100g:
            report.refer("ingredient", name, "acid", acid, known.acids)
        for trait in entry.traits:
            report.refer("ingredient", name, "trait", trait, known.traits)
        for protein_class in entry.protein_classes:
            report.refer("ingredient", name, "protein class", protein_class, known.protein_classes)


def _bands_and_structures(report: Report) -> None:
    known = report.knowledge
    served: dict[tuple[str, str], str] = {}
    for band in known.bands:
        name = band_key(band)
        report.refer("band", name, "measure", band.measure, known.measures)
        for structure in band.structures:
            report.refer("band", name, "structure", structure, {ANY_STRUCTURE, *known.structures})
            if (first := served.setdefault((band.measure, structure), name)) != name:
                where = known.where("band", first)
                report.add(
                    "band", name, "unique", f"{structure} has a band of this measure already at {where}"
                )
    for name, structure_entry in known.structures.items():
        for protein_class in structure_entry.network:
            report.refer("structure", name, "protein class", protein_class, known.protein_classes)


def _kinds(report: Report) -> None:
    known = report.knowledge
    groups = {measure.group for measure in known.measures.values()}
    for name, kind in known.kinds.items():
        for what, ids, shelf in (
            ("measure", kind.left_out, known.measures),
            ("group of measures", kind.groups_left_out, groups),
            ("symptom", kind.symptoms_left_out, known.symptoms),
            ("cause", kind.causes_left_out, known.causes),
            ("lever", kind.levers_left_out, known.levers),
            ("measure", [band.measure for band in kind.bands], known.measures),
        ):
            for one in ids:
                report.refer("kind", name, what, one, shelf)
        for band in kind.bands:
            for structure in band.structures:
                report.refer("kind", name, "structure", structure, {ANY_STRUCTURE, *known.structures})
        for field in (*kind.process, *(one for gap in kind.not_judged for one in gap.where)):
            if report.process is not None:
                report.refer("kind", name, "process field", field, report.process)


def _graph(report: Report) -> None:
    known = report.knowledge
    ends = {*known.causes, *known.mechanisms, *known.symptoms}
    for link in known.links:
        for end in (link.start, link.to):
            report.refer("link", link_key(link), "cause, mechanism or symptom", end, ends)
    for name, cause in known.causes.items():
        if cause.refines:
            report.refer("cause", name, "cause", cause.refines, known.causes)
    for name, symptom in known.symptoms.items():
        # `alike` names no entry: it is a word that symptoms of one origin share.
        others = {s.alike for other, s in known.symptoms.items() if other != name and s.alike}
        if symptom.alike:
            report.refer("symptom", name, "other symptom that is alike by", symptom.alike, others)


def _condition(report: Report, rule: str, condition: Condition) -> None:
    known = report.knowledge
    subject, name = condition.subject, condition.name
    if subject == "process":
        if report.process is not None and report.refer("rule", rule, "process field", name, report.process):
            _process_words(report, rule, condition, report.process[name])
        return
    if subject == "state":
        concluded = {c.state for r in known.rules.values() for c in r.then if c.state}
        report.refer("rule", rule, "state that a rule concludes", name, concluded)
        return
    shelves = {
        "measure": known.measures, "structure": known.structures, "trait": known.traits,
        "symptom": known.symptoms, "answer": known.questions, "suspect": known.causes,
    }  # fmt: skip
    what = {"answer": "question", "suspect": "cause"}.get(subject, subject)
    if report.refer("rule", rule, what, name, shelves[subject]) and subject == "answer":
        report.refer("rule", rule, f"answer to {name}", str(condition.is_), known.questions[name].answers)


def _process_words(report: Report, rule: str, condition: Condition, words: frozenset[str] | None) -> None:
    numeric = condition.above is not None or condition.below is not None
    if words is None and condition.is_ is not None:
        report.add("rule", rule, "reference", f"{condition.name} is a number: read it by above or below")
    elif words is not None and numeric:
        report.add("rule", rule, "reference", f"{condition.name} is a word: read it by 'is'")
    elif words and condition.is_ is not None:
        report.refer("rule", rule, f"word of {condition.name}", condition.is_, words)


def _conclusions(report: Report) -> None:
    known = report.knowledge
    for name, rule in known.rules.items():
        for then in rule.then:
            if then.suspect:
                report.refer("rule", name, "cause", then.suspect, known.causes)
            if then.structure:
                report.refer("rule", name, "structure", then.structure, known.structures)
            if then.caution:
                report.refer("rule", name, "caution", then.caution, known.cautions)
            if then.ask:
                report.refer("rule", name, "question", then.ask, known.questions)


def _bounds(report: Report) -> None:
    known = report.knowledge
    for name, bound in known.sanity.items():
        for ingredient in bound.ingredients:
            report.refer("bound", name, "ingredient", ingredient, known.ingredients)
        for structure in bound.structures:
            report.refer("bound", name, "structure", structure, known.structures)
        for kind in (*bound.kinds, *bound.not_kinds):
            report.refer("bound", name, "kind", kind, known.kinds)
        ways: tuple[Bound | Way, ...] = (bound, *(bound.undo_each_other or ()))
        if bound.never is not None:
            ways += (*bound.never.ways, *filter(None, (bound.never.unless,)))
            for symptom in (*bound.never.seen, *bound.never.but_not_seen):
                report.refer("bound", name, "symptom", symptom, known.symptoms)
            for question in bound.never.answers:
                report.refer("bound", name, "question", question, known.questions)
            for lever in bound.never.levers:
                report.refer("bound", name, "lever", lever, known.levers)
        for part in ways:
            if part.role:
                report.refer("bound", name, "role", part.role, get_args(Role))
            if part.process and report.process is not None:
                report.refer("bound", name, "process field", part.process, report.process)


def _styles(report: Report) -> None:
    known = report.knowledge
    for name, part in known.dough_parts.items():
        for ingredient in (*part.ingredients, *part.means, *part.means.values()):
            report.refer("part of a dough", name, "ingredient", ingredient, known.ingredients)
        for trait in part.traits:
            report.refer("part of a dough", name, "trait", trait, known.traits)
    for name, style in known.styles.items():
        for bake in style.bakes:
            for kind in bake.kinds:
                report.refer("style", name, "kind", kind, known.kinds)
        for held in style.parts.values():
            for taken in held.takes:
                report.refer("style", name, "part of a dough", taken, known.dough_parts)
            for ingredient in held.pantry:
                report.refer("style", name, "ingredient", ingredient, known.ingredients)


def _levers(report: Report) -> None:
    known = report.knowledge
    for name, lever in known.levers.items():
        turn = lever.turn
        report.refer("lever", name, "cause", lever.for_, known.causes)
        if turn.ingredient_role:
            report.refer("lever", name, "role", turn.ingredient_role, get_args(Role))
        for ingredient in filter(None, (turn.ingredient, turn.add, *(turn.replace or ()))):
            report.refer("lever", name, "ingredient", ingredient, known.ingredients)
        if turn.trait:
            report.refer("lever", name, "trait", turn.trait, known.traits)
        if turn.process and report.process is not None:
            report.refer("lever", name, "process field", turn.process, report.process)
        if lever.until:
            report.refer("lever", name, "measure", lever.until.measure, known.measures)
        if turn.undoes and report.process is not None:
            states = {*_STATES_OF_A_LINE, *known.traits, *report.process}
            report.refer("lever", name, "state that can be undone", turn.undoes, states)
        for said in (lever.stated_by, lever.denied_by):
            for question, answers in said.items():
                report.refer("lever", name, "question", question, known.questions)
                if question in known.questions:
                    for answer in answers:
                        report.refer("lever", name, "answer", answer, known.questions[question].answers)
        if lever.only_without:
            report.refer("lever", name, "other lever", lever.only_without, known.levers.keys() - {name})
        for structure in lever.structures:
            report.refer("lever", name, "structure", structure, known.structures)
