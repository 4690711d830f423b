"""A loaf whose formula nobody has: told in a few words, weighed from base rates, symptoms and answers alone.

No amount is known, so no measure is: of the rules only those are read that stand on what the loaf shows, what the
baker answers, what carries the dough and how it is baked. A rule that denies something unknown would take silence for
an answer; it is left out with the rest.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from copy import copy
from dataclasses import dataclass, replace
from typing import Literal

from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.diagnosis import diagnose_causes
from advisor.diagnosis.pipeline import FALLBACK_STRUCTURE, Examination, Examiner, Measured
from advisor.formula.formula import Formula, Line, PanKind, Process
from advisor.inference.bands import BandTable
from advisor.inference.inferring import RuleBook, infer
from advisor.inference.phases import condition_of
from advisor.inference.situation import Situation
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Conclusion, Condition, Rule
from advisor.models.measuring import dough_state_of, measure

RaisedBy = Literal["yeast", "powder", "both", "foam", "nothing"]
RAISED_BY: tuple[RaisedBy, ...] = ("yeast", "powder", "both", "foam", "nothing")
SHAPES: tuple[PanKind, ...] = ("tin", "round", "free_standing", "rolls", "flat")
_TOLD = frozenset({"answer", "symptom", "structure", "suspect"})
_TOLD_BY_NAME = frozenset(
    {
        ("process", "pan_kind"),
        ("process", "whites_whipped"),
        ("state", "yeast_leavened"),
        ("state", "chemically_leavened"),
        ("measure", "dough_g"),  # that there is a dough
        ("measure", "residual_soda_meq"),  # read where no powder or soda was told
    }
)
_CARRIED_BY, _RAISED_BY = "carried_by", "raised_by"
"""Words of the process under which what was told reaches the rules."""
_GRAMS = {"water": 60.0, "egg": 100.0, "cheese": 40.0, "yeast": 2.0}
"""Any dough that has what the graph asks for; nothing is concluded from its amounts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoafKind:
    """What a baker can say of a loaf without its formula: a structure's id, what raised it, and its shape."""

    carried_by: str
    raised_by: RaisedBy
    shape: PanKind

    @property
    def yeasted(self) -> bool:
        """Say whether yeast is in it."""
        return self.raised_by in ("yeast", "both")


class LoafExaminer(Examiner):
    """Looks at a described loaf as an examiner looks at a formula, whatever formula it is given."""

    knows_formula = False

    def __init__(self, examiner: Examiner, kind: LoafKind) -> None:
        """Take over what was built once; raises KeyError where the structure is not known."""
        whole = examiner.knowledge
        if kind.carried_by not in whole.structures:
            raise KeyError(f"no structure '{kind.carried_by}'")
        self.__dict__.update(copy(examiner).__dict__)
        self.kind = kind
        self.knowledge = replace(whole, rules=_rules_on_what_is_told(whole, kind))
        self.bands = BandTable.build(whole.bands)
        self.rules = RuleBook.compile(self.knowledge.rules.values())
        self.loaf = _stand_in(kind, whole)
        dough_state = dough_state_of(self.loaf, whole)
        self._workings = measure(dough_state, whole)
        self._graph = examiner.graph_of(self.loaf)

    def graph_of(self, formula: Formula) -> CauseGraph:
        """Give the graph without yeast where there is none; what is not known to be missing stays in it."""
        return self._graph

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
        """Weigh symptoms and answers; no measure has a value, and nothing is in or out of a band.

        Raises:
            KeyError: a symptom, question or answer that is not known.
        """
        self._refuse_unknown(tuple(saw), tuple(not_seen), answers or {})
        observed = dict.fromkeys(saw, True) | dict.fromkeys(not_seen, False)
        words = {
            "pan_kind": self.kind.shape,
            _CARRIED_BY: self.kind.carried_by,
            _RAISED_BY: self.kind.raised_by,
        }
        words["whites_whipped"] = "true" if self.kind.raised_by == "foam" else "false"
        measures = {"dough_g": self.loaf.dough_g}
        situation = Situation(
            measures=measures, process_words=words, symptoms=observed, answers=answers or {}
        )
        inference = infer(
            situation, self.rules, self._no_bands, engine=self.engine, fallback_structure=FALLBACK_STRUCTURE
        )
        diagnosis = diagnose_causes(
            self._graph, self.shifts.causes_here(self.knowledge.causes), self.knowledge.symptoms,
            inference.suspicions, observed, after_bake=True, coefficients=self.knowledge.coefficients, ranked=ranked,
        )  # fmt: skip
        return Examination(
            formula=self.loaf,
            workings=self._workings,
            situation=situation,
            inference=inference,
            diagnosis=diagnosis,
            after_bake=True,
        )


def _rules_on_what_is_told(knowledge: Knowledge, kind: LoafKind) -> dict[str, Rule]:
    """Give the rules that read nothing else than what was told, with those that take it over."""
    own = [
        _taken_over("carried-as-told", _CARRIED_BY, kind.carried_by, Conclusion(structure=kind.carried_by))
    ]
    if kind.yeasted:
        own.append(
            _taken_over("yeast-as-told", _RAISED_BY, kind.raised_by, Conclusion(state="yeast_leavened"))
        )
    if kind.raised_by in ("powder", "both"):
        powder = Conclusion(state="chemically_leavened")
        own.append(_taken_over("powder-as-told", _RAISED_BY, kind.raised_by, powder))
    kept = {name: rule for name, rule in knowledge.rules.items() if _reads_what_is_told(rule)}
    return {rule.id: rule for rule in own} | kept


def _taken_over(name: str, word: str, value: str, conclusion: Conclusion) -> Rule:
    condition = Condition.model_validate({"process": word, "is": value})
    because = "The baker says so of the loaf."
    return Rule(id=name, when=(condition,), then=(conclusion,), because=because, grade="practice")


def _reads_what_is_told(rule: Rule) -> bool:
    if any(c.structure is not None for c in rule.then):
        return False
    conditions = list(map(condition_of, rule.when))
    return all(c.subject in _TOLD or (c.subject, c.name) in _TOLD_BY_NAME for c in conditions)


def _stand_in(kind: LoafKind, knowledge: Knowledge) -> Formula:
    """A dough with one ingredient of each role that the cause graph asks for, yeast only where it was told."""
    lines = []
    for number, (role, grams) in enumerate(_GRAMS.items(), 1):
        if role == "yeast" and not kind.yeasted:
            continue
        first = next(i for i in knowledge.ingredients.values() if role in i.roles)
        lines.append(Line(text=f"{grams:g} g {first.name}", number=number, ingredient=first, grams=grams))
    return Formula(
        name="a loaf without its formula", lines=tuple(lines), process=Process(pan_kind=kind.shape)
    )
