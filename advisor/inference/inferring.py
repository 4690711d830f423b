"""Facts in, conclusions out: the phases in turn, each run until nothing more follows.

The engine decides which rules match. What a match means (how far past the edge, which fact follows) is
worked out here, and what follows is told to the engine, which may match more rules.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from advisor.inference.condition_reading import STRUCTURE_HOLDS_ABOVE, Known, read_condition
from advisor.inference.engine import Engine, EngineFault, Fact
from advisor.inference.phases import PHASES, Phase
from advisor.inference.rule_book import RuleBook
from advisor.inference.rule_outline import supports
from advisor.inference.situation import Firing, Inference, JudgeBands, Situation, Suspicion
from advisor.inference.situation_facts import judged_facts, known_facts

__all__ = ["RuleBook", "infer"]


def infer(
    situation: Situation,
    rulebook: RuleBook,
    judge_bands: JudgeBands,
    engine: str = "auto",
    *,
    fallback_structure: str = "egg_set",
    structure_holds_above: float = STRUCTURE_HOLDS_ABOVE,
) -> Inference:
    """Run all rules on a situation.

    `engine` is auto, durable or clips. `judge_bands` is called once, with the weights of the two heaviest
    structures (they add up to 1). Where no structure rule fires, `fallback_structure` has weight 1. A
    structure holds, for a condition that reads it, when its weight is above `structure_holds_above`.

    Raises:
        SituationFault: when a number of the situation is not finite.
        EngineFault: when the engine fails twice.
        ValueError: when there is no engine of that name.
    """
    try:
        return _inferred(situation, rulebook, judge_bands, engine, fallback_structure, structure_holds_above)
    except EngineFault:
        # Once in some thousand assessments the engine takes two facts for the same by their hash; it hashes the
        # number of the assessment too, so that the next one passes.
        return _inferred(situation, rulebook, judge_bands, engine, fallback_structure, structure_holds_above)


def _inferred(
    situation: Situation,
    rulebook: RuleBook,
    judge_bands: JudgeBands,
    engine: str,
    fallback_structure: str,
    structure_holds_above: float,
) -> Inference:
    known = Known(situation=situation, structure_holds_above=structure_holds_above)
    facts = known_facts(situation, rulebook)
    with rulebook.engine(engine) as running:
        chain = _Chain(rulebook, running, known)
        chain.tell(facts)
        chain.close("structure")
        known.structures = _weights(chain.structure_degrees, fallback_structure)
        known.judged = dict(sorted(judge_bands(known.structures, situation.measures).items()))
        chain.tell(judged_facts(known.judged, known.structures, structure_holds_above))
        for phase in PHASES[1:]:
            chain.close(phase)
    return chain.inference()


def _weights(degrees: Mapping[str, float], fallback: str) -> dict[str, float]:
    """Keep the two heaviest structures and let their weights add up to 1."""
    heaviest = sorted(((-degree, name) for name, degree in degrees.items() if degree > 0))[:2]
    if not heaviest:
        return {fallback: 1.0}
    total = -sum(weight for weight, _ in heaviest)
    return {name: -weight / total for weight, name in heaviest}


class _Chain:
    """One assessment under way: what was told, which rules fired, what followed."""

    def __init__(self, book: RuleBook, engine: Engine, known: Known) -> None:
        self._book = book
        self._engine = engine
        self._known = known
        self._told: set[Fact] = set()
        self._fired: dict[int, tuple[Firing, tuple[Suspicion, ...]]] = {}
        self.structure_degrees: dict[str, float] = {}

    def tell(self, facts: Iterable[Fact]) -> None:
        """Tell facts, then what follows from them, until nothing new does."""
        while facts := [f for f in facts if f not in self._told and f.key in self._book.read_keys]:
            self._told.update(facts)
            follows: dict[Fact, None] = {}
            for place in sorted(set(self._engine.tell(facts)) - self._fired.keys()):
                follows.update(dict.fromkeys(self._fire(place)))
            facts = list(follows)

    def close(self, phase: Phase) -> None:
        """Say that what came before a phase is complete, so that the denials of its rules can be read."""
        self.tell(self._book.closing[phase])

    def _fire(self, place: int) -> list[Fact]:
        rule = self._book.outlines[place]
        readings = [read_condition(condition, rule.phase, self._known) for condition in rule.graded]
        excess = min((r.excess for r in readings if r.excess is not None), default=1.0)
        depth = min((r.depth for r in readings if r.depth is not None), default=1.0)
        firing = Firing(
            rule=rule.rule,
            phase=rule.phase,
            premises=rule.premises,
            conclusions=rule.conclusions,
            excess=excess,
            depth=depth,
        )
        suspicions = rule.suspicions(excess, depth)
        self._fired[place] = (firing, suspicions)
        for kind, name in firing.conclusions:
            if kind == "structure":
                self.structure_degrees[name] = max(excess, self.structure_degrees.get(name, 0.0))
        follows = [Fact(f"state_{name}", 1) for kind, name in firing.conclusions if kind == "state"]
        # Several rules may suspect one cause: the rule's place keeps their facts apart.
        follows += [Fact(f"suspect_{s.cause}", place + 1) for s in suspicions if supports(s)]
        return follows

    def inference(self) -> Inference:
        """Set down all that followed, by phase and then by the rule's id."""
        order = sorted(self._fired, key=lambda p: (PHASES.index(self._book.outlines[p].phase), p))
        firings = [self._fired[p][0] for p in order]
        return Inference(
            structures=self._known.structures,
            judged=self._known.judged,
            firings=tuple(firings),
            suspicions=tuple(s for p in order for s in self._fired[p][1]),
            states=_names(firings, "state"),
            cautions=_names(firings, "caution"),
            reminders=tuple(
                (self._book.outlines[p].rule, text)
                for p in order
                for text in self._book.outlines[p].reminders
            ),
            asks=_names(firings, "ask"),
        )


def _names(firings: list[Firing], wanted: str) -> tuple[str, ...]:
    found = (name for firing in firings for kind, name in firing.conclusions if kind == wanted)
    return tuple(dict.fromkeys(found))
