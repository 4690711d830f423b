"""Why something was concluded, as a tree back to measured facts, and why a cause was not suspected."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from advisor.inference.condition_reading import STRUCTURE_HOLDS_ABOVE, ConditionResult, Known, read_condition
from advisor.inference.phases import condition_of, phase_of
from advisor.inference.rule_outline import concluded, supports
from advisor.inference.situation import FactKey, Firing, Inference, Situation
from advisor.knowledge_base.rule_entries import Condition, Denial, Rule

PREMISE_KINDS = frozenset({"measure", "trait", "process", "symptom", "answer"})
"""Facts that are given, not concluded: the leaves of a proof."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """A fact with the firings that concluded it, or a firing (`rule` is set) with the facts that it stood on.

    A fact's children are firings and a firing's children are facts; a fact without children was given.
    `text` is the rule's own sentence on a firing (its numbers still in braces), a short reading on a
    measure, else empty.
    """

    fact: FactKey
    text: str = ""
    rule: str | None = None
    denied: bool = False
    """The rule fired because this did not hold."""
    evidence: str | None = None
    """How the rule speaks on a suspect: weak, moderate, strong, told, against, rules_out."""
    excess: float | None = None
    depth: float | None = None
    share: float = 1.0
    """Share of the evidence that counts: below 1 where the rule reads what was only assumed."""
    children: tuple[Proof, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Missed:
    """A rule that would have concluded the cause, and its first condition that did not hold."""

    rule: str
    evidence: str
    condition: Condition
    denied: bool
    """The rule wanted the condition not to hold, and it held."""
    known: bool
    """False where what the condition reads has no value at all, so that it might hold."""
    distance: float | None
    """How far the number is from the edge at which the condition would hold; `None` where it is no number."""


def why(inference: Inference, rules: Iterable[Rule], kind: str, name: str) -> Proof | None:
    """Prove a conclusion; `None` where it was not concluded.

    `kind` is suspect, structure, state, caution, ask, or reminder (`name` is then the id of its rule). All
    rules that spoke on a suspect are shown, those against it too.
    """
    by_id = {rule.id: rule for rule in rules}
    firings: dict[FactKey, list[Firing]] = {}
    for firing in inference.firings:
        for conclusion in firing.conclusions:
            firings.setdefault(conclusion, []).append(firing)
    return _Prover(inference, by_id, firings).fact((kind, name), frozenset())


class _Prover:
    def __init__(
        self, inference: Inference, rules: Mapping[str, Rule], firings: Mapping[FactKey, list[Firing]]
    ) -> None:
        self._inference = inference
        self._rules = rules
        self._firings = firings
        self._evidence = {(s.rule, s.cause): s for s in inference.suspicions}

    def fact(self, fact: FactKey, above: frozenset[FactKey], denied: bool = False) -> Proof | None:
        """Prove a fact without standing on a fact above it: states may support each other in a ring."""
        if denied or fact[0] in PREMISE_KINDS:
            return Proof(fact=fact, text=self._reading(fact), denied=denied)
        if fact in above:
            return None
        tried = (self._firing(fact, firing, above | {fact}) for firing in self._firings.get(fact, ()))
        children = tuple(proof for proof in tried if proof is not None)
        if not children and fact[0] == "structure" and fact[1] in self._inference.structures:
            return Proof(fact=fact)  # the structure taken where no structure rule fired
        return Proof(fact=fact, children=children) if children else None

    def _firing(self, fact: FactKey, firing: Firing, above: frozenset[FactKey]) -> Proof | None:
        rule = self._rules[firing.rule]
        children: list[Proof] = []
        for clause in rule.when:
            condition = condition_of(clause)
            found = self.fact((condition.subject, condition.name), above, isinstance(clause, Denial))
            if found is None:
                return None
            if found not in children:
                children.append(found)
        spoken = self._evidence.get((rule.id, fact[1])) if fact[0] == "suspect" else None
        return Proof(
            fact=fact,
            text=rule.because,
            rule=rule.id,
            evidence=spoken.evidence if spoken else None,
            excess=firing.excess,
            depth=firing.depth,
            share=spoken.share if spoken else 1.0,
            children=tuple(children),
        )

    def _reading(self, fact: FactKey) -> str:
        judged = self._inference.judged.get(fact[1]) if fact[0] == "measure" else None
        return f"{judged.value:.4g}, {judged.state}" if judged else ""


def why_not(
    situation: Situation,
    inference: Inference,
    rules: Iterable[Rule],
    cause: str,
    *,
    structure_holds_above: float = STRUCTURE_HOLDS_ABOVE,
) -> tuple[Missed, ...]:
    """Give, by rule id, the first failed condition of each rule that speaks on a cause but did not fire."""
    fired = {firing.rule for firing in inference.firings}
    known = Known(
        situation=situation,
        structures=inference.structures,
        judged=inference.judged,
        states=frozenset(inference.states),
        suspects=frozenset(s.cause for s in inference.suspicions if supports(s)),
        structure_holds_above=structure_holds_above,
    )
    missed: list[Missed] = []
    for rule in sorted(rules, key=lambda r: r.id):
        if rule.id in fired or ("suspect", cause) not in concluded(rule):
            continue
        evidence = next(c.evidence for c in rule.then if c.suspect == cause)
        first = _first_failed(rule, known)
        if first is not None and evidence is not None:
            clause, reading = first
            condition = condition_of(clause)
            denied = isinstance(clause, Denial)
            missed.append(
                Missed(
                    rule=rule.id,
                    evidence=evidence,
                    condition=condition,
                    denied=denied,
                    known=_is_known(condition, known),
                    distance=_room(condition, known) if denied else reading.distance,
                )
            )
    return tuple(missed)


def _first_failed(rule: Rule, known: Known) -> tuple[Condition | Denial, ConditionResult] | None:
    phase = phase_of(rule)
    for clause in rule.when:
        reading = read_condition(condition_of(clause), phase, known)
        if reading.holds == isinstance(clause, Denial):
            return clause, reading
    return None


def _is_known(condition: Condition, known: Known) -> bool:
    situation, name = known.situation, condition.name
    match condition.subject:
        case "measure":
            return name in (situation.measures if condition.is_ is None else known.judged)
        case "symptom":
            return name in situation.symptoms
        case "answer":
            return name in situation.answers
        case "process" if condition.stated is None:
            return name in situation.process_numbers or name in situation.process_words
    return True


def _room(condition: Condition, known: Known) -> float | None:
    """How far a condition that holds is from not holding, where it reads a number."""
    name = condition.name
    if condition.measure is not None and condition.is_ is not None:
        judged = known.judged[name]
        ends = [judged.low, judged.high] if condition.is_ not in ("low", "not_low") else [judged.low]
        if condition.is_ in ("high", "not_high"):
            ends = [judged.high]
        return min((abs(judged.value - end) for end in ends if end is not None), default=None)
    values = {
        "measure": known.situation.measures,
        "trait": known.situation.traits,
        "process": known.situation.process_numbers,
    }
    value = values.get(condition.subject, {}).get(name)
    edges = [edge for edge in (condition.above, condition.below) if edge is not None]
    if value is None:
        return None
    if not edges:
        return value if condition.trait is not None else None
    return min(abs(value - edge) for edge in edges)
