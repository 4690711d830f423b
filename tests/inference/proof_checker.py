"""Checks a proof tree against the rules as they are written, without the code that drew it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from direct_evaluator import _phase as phase_of_rule
from direct_evaluator import _World as World

from advisor.inference.proof import Missed, Proof
from advisor.inference.situation import FactKey, Inference, Situation
from advisor.knowledge_base.rule_entries import Condition, Denial, Rule

GIVEN = ("measure", "trait", "process", "symptom", "answer")
SPEAKS_FOR = ("weak", "moderate", "strong", "told")


def world_after(situation: Situation, found: Inference, holds_above: float = 0.35) -> World:
    """All that was so once everything had followed."""
    world = World(situation, holds_above)
    world.structures, world.judged = dict(found.structures), dict(found.judged)
    world.states = set(found.states)
    world.suspects = {s.cause for s in found.suspicions if s.evidence in SPEAKS_FOR and s.excess > 0}
    return world


def conclusions(found: Inference) -> list[FactKey]:
    """Every fact that followed, once."""
    return list(dict.fromkeys(fact for firing in found.firings for fact in firing.conclusions))


def faults_of_proof(proof: Proof, rules: Mapping[str, Rule], found: Inference, world: World) -> Iterator[str]:
    """Say what is wrong with a proof of a conclusion; nothing where it holds."""
    yield from _fact(proof, rules, found, world, ())


def _fact(
    node: Proof, rules: Mapping[str, Rule], found: Inference, world: World, above: tuple[FactKey, ...]
) -> Iterator[str]:
    if node.rule is not None:
        yield f"{node.fact} is a firing where a fact should stand"
    if node.fact in above:
        yield f"{node.fact} stands on itself"
    if node.denied or node.fact[0] in GIVEN:
        if node.children:
            yield f"{node.fact} was given, or was not there, and yet has a proof"
        return
    if not node.children and not (node.fact[0] == "structure" and node.fact[1] in found.structures):
        yield f"{node.fact} followed from nothing"
    if len({child.rule for child in node.children}) < len(node.children):
        yield f"{node.fact} has one rule twice"
    for child in node.children:
        yield from _firing(child, node.fact, rules, found, world, (*above, node.fact))


def _firing(
    node: Proof,
    fact: FactKey,
    rules: Mapping[str, Rule],
    found: Inference,
    world: World,
    above: tuple[FactKey, ...],
) -> Iterator[str]:
    firing = next((f for f in found.firings if f.rule == node.rule), None)
    if firing is None or node.rule is None:
        yield f"{node.rule} did not fire"
        return
    rule = rules[node.rule]
    said = [c for c in rule.then if (c.suspect, c.structure, c.state, c.caution, c.ask).count(fact[1])]
    if fact[0] == "reminder":
        said = [c for c in rule.then if c.reminder and fact[1] == rule.id]
    if not said or fact != node.fact:
        yield f"{rule.id} does not conclude {fact}"
    if (node.text, node.excess, node.depth) != (rule.because, firing.excess, firing.depth):
        yield f"{rule.id}: sentence or degrees are not those of the firing"
    if node.evidence not in [c.evidence for c in said]:
        yield f"{rule.id}: speaks {node.evidence}"
    wanted: list[tuple[FactKey, bool]] = []
    for clause in rule.when:
        condition, denied = (clause.not_, True) if isinstance(clause, Denial) else (clause, False)
        wanted.append(((condition.subject, condition.name), denied))
        if world.reads(condition, phase_of_rule(rule))[0] is denied:
            yield f"{rule.id} fired although {condition} is {not denied}"
    if set(wanted) != {(child.fact, child.denied) for child in node.children}:
        yield f"{rule.id} stands on other facts than its conditions"
    for child in node.children:
        yield from _fact(child, rules, found, world, above)


def faults_of_missed(missed: Sequence[Missed], rules: Mapping[str, Rule], world: World) -> Iterator[str]:
    """Say what is wrong with the reasons for which rules did not fire."""
    for one in missed:
        rule = rules[one.rule]
        readings: list[tuple[Condition, bool]] = [
            (c.not_, True) if isinstance(c, Denial) else (c, False) for c in rule.when
        ]
        failed = [(c, denied) for c, denied in readings if world.reads(c, phase_of_rule(rule))[0] is denied]
        if not failed:
            yield f"{one.rule} should have fired"
        elif (one.condition, one.denied) != failed[0]:
            yield f"{one.rule}: the first condition that failed is {failed[0]}, not {one.condition}"
