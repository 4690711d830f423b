"""One formula looked at once: measures, structure, rules, causes. Remedies call it again for every change."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from copy import copy
from dataclasses import dataclass, fields
from itertools import combinations

from advisor.diagnosis.assumed_evidence import assumed_fields, with_assumed_evidence
from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.diagnosis import Diagnosis, diagnose_causes
from advisor.diagnosis.far_out import far_out
from advisor.diagnosis.kinds_of_bake import KindView, KindViews
from advisor.diagnosis.kitchen_shifts import KitchenShifts
from advisor.diagnosis.not_judged import NotJudged, not_judged
from advisor.diagnosis.told_evidence import rules_of_answers, told_over_figures
from advisor.formula.formula import Formula, Process
from advisor.inference.bands import BandTable
from advisor.inference.inferring import RuleBook, infer
from advisor.inference.situation import Inference, Judged, Situation
from advisor.knowledge_base.graph_entries import Cause
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults
from advisor.models.measuring import DoughState, Workings, dough_state_of, measure

FALLBACK_STRUCTURE = "egg_set"
"""Taken where no structure rule holds: the weakest network, so that nothing is credited with strength."""


def heaviest(structures: Mapping[str, float]) -> str:
    """Give the structure that carries most of a loaf."""
    return max(structures.items(), key=lambda item: (item[1], item[0]))[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Examination:
    """Everything that one look gave."""

    formula: Formula
    workings: Workings
    situation: Situation
    inference: Inference
    diagnosis: Diagnosis
    not_judged: tuple[NotJudged, ...] = ()
    """What no model and no rule could judge."""
    assumed: frozenset[str] = frozenset()
    """Process fields that the formula does not state and the models took: their evidence counts for little."""
    far_out: tuple[str, ...] = ()
    """Measures that lie far past their band."""
    after_bake: bool
    """Whether the loaf is baked: before, what only handling can bring is no part of the risk."""

    @property
    def no_all_clear(self) -> bool:
        """Whether something that decides could not be judged, or a number lies far past its band."""
        return bool(self.far_out) or any(gap.decides for gap in self.not_judged)

    @property
    def structure(self) -> str:
        """The heaviest structure in play."""
        return heaviest(self.inference.structures)

    @property
    def structure_and_kind(self) -> tuple[str, str]:
        """What the laws of the trade ask for: the heaviest structure, and the kind of bake."""
        return self.structure, self.workings.dough_state.with_defaults.kind

    @property
    def seen(self) -> tuple[str, ...]:
        """Symptoms that the baker saw, in the order in which they were told."""
        return tuple(s for s, there in self.situation.symptoms.items() if there)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A formula measured, before any rule but those of structure has run: what an examination starts from."""

    workings: Workings
    structures: Mapping[str, float]
    """Weights of the structures in play."""


Graphs = Mapping[frozenset[str], CauseGraph]
"""Mechanisms that cannot happen in a dough to the cause graph without them."""


def _needed_roles(knowledge: Knowledge) -> dict[str, str]:
    """Mechanisms that need an ingredient, with the role that it has."""
    return {m.id: m.needs_role for m in knowledge.mechanisms.values() if m.needs_role is not None}


def graphs_of(knowledge: Knowledge) -> Graphs:
    """Build the cause graph for every set of mechanisms that a dough may be without."""
    whole = CauseGraph.build(knowledge.causes, knowledge.mechanisms, knowledge.symptoms, knowledge.links)
    needing = sorted(_needed_roles(knowledge))
    absent = [frozenset(some) for n in range(len(needing) + 1) for some in combinations(needing, n)]
    return {some: whole.without(some) if some else whole for some in absent}


class Examiner:
    """Holds what is built once per Knowledge: rule books, band table, cause graph. Safe to share."""

    knows_formula = True
    """Whether there is a formula to have been made otherwise than written."""

    def __init__(self, knowledge: Knowledge, engine: str = "auto", graphs: Graphs | None = None) -> None:
        self.knowledge = knowledge
        self.engine = engine
        self.bands = BandTable.build(knowledge.bands)
        self.kinds = KindViews(knowledge, self.bands)
        self.rules = RuleBook.compile(knowledge.rules.values())
        structure_rules = [r for r in knowledge.rules.values() if any(c.structure for c in r.then)]
        self.structure_rules = RuleBook.compile(structure_rules)
        self._graphs = graphs or graphs_of(knowledge)
        self.answered = rules_of_answers(knowledge.rules.values())
        self.shifts = KitchenShifts()
        self._causes: Mapping[str, Cause] = knowledge.causes

    def in_kitchen(self, shifts: KitchenShifts) -> Examiner:
        """Give an examiner that knows what a kitchen's own bakes have taught; this one stays as it is."""
        here = copy(self)
        here.shifts, here._causes = shifts, shifts.causes_here(self.knowledge.causes)
        return here

    def graph_of(self, formula: Formula) -> CauseGraph:
        """Give the cause graph without what cannot happen in this dough: no yeast, no slow yeast."""
        roles = {role for line in formula.lines for role in line.ingredient.roles}
        return self._graphs[
            frozenset(m for m, role in _needed_roles(self.knowledge).items() if role not in roles)
        ]

    @property
    def whole_graph(self) -> CauseGraph:
        """The cause graph of all doughs: with every mechanism."""
        return self._graphs[frozenset()]

    def structure_of(self, dough_state: DoughState) -> Mapping[str, float]:
        """Weights of the structures in play, by the structure rules alone."""
        situation = _situation(dough_state, {}, {}, {}, {})
        found = infer(
            situation,
            self.structure_rules,
            self._no_bands,
            engine=self.engine,
            fallback_structure=FALLBACK_STRUCTURE,
        )
        return found.structures

    @staticmethod
    def _no_bands(weights: Mapping[str, float], values: Mapping[str, float]) -> Mapping[str, Judged]:
        return {}

    def measured(self, formula: Formula) -> Measured:
        """Measure a formula whose structure the rules find."""
        dough_state = dough_state_of(formula, self.knowledge)
        weights = self.structure_of(dough_state)
        return Measured(workings=measure(dough_state, self.knowledge), structures=weights)

    def examine(
        self,
        formula: Formula,
        *,
        saw: Collection[str] = (),
        not_seen: Collection[str] = (),
        answers: Mapping[str, str] | None = None,
        after_bake: bool | None = None,
        measured: Measured | None = None,
        ranked: bool = True,
    ) -> Examination:
        """Look at a formula, with what the baker saw where the loaf is baked.

        `measured` is what `measured(formula)` gives, from those who have it already; without `ranked` no causes are
        ranked, for those who only compare numbers.

        Raises:
            KeyError: a symptom, question or answer that is not known.
        """
        self._refuse_unknown(tuple(saw), tuple(not_seen), answers or {})
        observed = dict.fromkeys(saw, True) | dict.fromkeys(not_seen, False)
        for question, answer in (answers or {}).items():
            observed |= self.knowledge.questions[question].observed(answer)
        baked = bool(observed or answers) if after_bake is None else after_bake
        formula = self.shifts.formula_here(formula, self.knowledge)
        if measured is None or measured.workings.dough_state.formula != formula:
            measured = self.measured(formula)
        workings, weights = measured.workings, measured.structures
        view = self.kinds.of(workings.dough_state)
        values = view.values({n: m.value for n, m in workings.measures.by_id.items() if m.value is not None})
        if (shortfall := self._lift_shortfall(values, weights, view)) is not None:
            values["lift_shortfall"] = shortfall
        situation = _situation(workings.dough_state, values, observed, answers or {}, _oven_numbers(workings))
        inference = infer(
            situation, self.rules, view.bands.judge, engine=self.engine, fallback_structure=FALLBACK_STRUCTURE
        )
        assumed = assumed_fields(workings.dough_state.with_defaults, situation.stated)
        inference = with_assumed_evidence(inference, assumed, self.knowledge.unstated)
        causes = view.causes(self._causes)
        diagnosis = diagnose_causes(
            self.graph_of(formula), causes, self.knowledge.symptoms,
            [s for s in told_over_figures(inference.suspicions, self.answered) if s.cause in causes], observed,
            cannot_be=view.cannot_have(observed),
            after_bake=baked, coefficients=self.knowledge.coefficients, ranked=ranked,
        )  # fmt: skip
        return Examination(
            formula=formula,
            workings=workings,
            situation=situation,
            inference=inference,
            diagnosis=diagnosis,
            after_bake=baked,
            assumed=assumed,
            far_out=far_out(inference, diagnosis.priors, self.knowledge.thresholds.get("out_far")),
            not_judged=not_judged(workings, inference, view, self.knowledge),
        )

    def _refuse_unknown(
        self, saw: tuple[str, ...], not_seen: tuple[str, ...], answers: Mapping[str, str]
    ) -> None:
        for name in (*saw, *not_seen):
            if name not in self.knowledge.symptoms:
                raise KeyError(f"no symptom '{name}'")
        if both := sorted(set(saw) & set(not_seen)):
            raise KeyError(f"'{both[0]}' is both seen and not seen")
        for question, answer in answers.items():
            if (entry := self.knowledge.questions.get(question)) is None:
                raise KeyError(f"no question '{question}'")
            if answer not in entry.answers:
                raise KeyError(f"no answer '{answer}' to '{question}'; there are: {', '.join(entry.answers)}")

    def _lift_shortfall(
        self, values: Mapping[str, float], weights: Mapping[str, float], view: KindView
    ) -> float | None:
        """Specific volume missing to the low edge of the structure in play, mL/g."""
        edges = None if "lift_shortfall" in view.left_out else view.bands.edges("specific_volume", weights)
        volume = values.get("specific_volume")
        if edges is None or edges.low is None or volume is None:
            return None
        return max(edges.low - volume, 0.0)


def _oven_numbers(workings: Workings) -> dict[str, float]:
    """Process numbers that only the bake settles: a bake time that the formula leaves out."""
    return {"bake_min": workings.bake.pulled_at_min} if workings.bake else {}


def _situation(
    dough_state: DoughState,
    values: Mapping[str, float],
    observed: Mapping[str, bool],
    answers: Mapping[str, str],
    oven: Mapping[str, float],
) -> Situation:
    numbers, words = _process_facts(dough_state.formula.process, dough_state.with_defaults)
    measures = values or {n: v for n, v in dough_state.values.items() if v is not None}
    return Situation(
        measures=measures,
        traits=_traits(dough_state),
        process_numbers={**oven, **numbers},
        process_words=words,
        stated=frozenset(
            f.name for f in fields(Process) if getattr(dough_state.formula.process, f.name) not in (None, ())
        ),
        symptoms=observed,
        answers=answers,
    )


def _process_facts(
    process: Process, with_defaults: ProcessWithDefaults
) -> tuple[dict[str, float], dict[str, str]]:
    numbers: dict[str, float] = {}
    words: dict[str, str] = {}
    for source in (with_defaults, process):
        for field in fields(source):
            value = getattr(source, field.name)
            if isinstance(value, bool):
                words[field.name] = "true" if value else "false"
            elif isinstance(value, int | float):
                numbers[field.name] = float(value)
            elif isinstance(value, str):
                words[field.name] = value
    # The kind that was chosen, and not the word that the baker has for it.
    words["kind"] = with_defaults.kind
    return numbers, words


def _traits(dough_state: DoughState) -> dict[str, float]:
    """Grams per 100 g dough of the lines that carry a trait."""
    out: dict[str, float] = {}
    for line in dough_state.formula.lines:
        for trait in line.all_traits:
            out[trait] = out.get(trait, 0.0) + 100 * line.grams / dough_state.dough.total
    return out
