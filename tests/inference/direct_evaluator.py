"""A third witness: reads rules as they stand and loops to a fixed point, without engine or compiler."""

from __future__ import annotations

from advisor.inference.situation import Firing, Inference, JudgeBands, Judged, Situation, Suspicion
from advisor.knowledge_base.rule_entries import SUPPORTING, Condition, Denial, Rule

ORDER = ["structure", "state", "suspect", "closing"]


def _phase(rule: Rule) -> str:
    if any(c.structure for c in rule.then):
        return "structure"
    if any(c.state for c in rule.then):
        return "state"
    read = [w.not_ if isinstance(w, Denial) else w for w in rule.when]
    return "closing" if any(c.suspect for c in read) else "suspect"


class _World:
    def __init__(self, situation: Situation, holds_above: float) -> None:
        self.given = situation
        self.holds_above = holds_above
        self.structures: dict[str, float] = {}
        self.judged: dict[str, Judged] = {}
        self.states: set[str] = set()
        self.suspects: set[str] = set()

    def number(self, c: Condition, value: float | None, early: bool) -> tuple[bool, float | None]:
        if value is None:
            return False, None
        value, half = round(value, 6), (c.over / 2 if c.over and early else 0.0)
        past = []
        if c.above is not None:
            past.append(value - round(c.above - half, 6))
        if c.below is not None:
            past.append(round(c.below + half, 6) - value)
        if not all(p > 0 for p in past):
            return False, None
        return True, min([1.0, *(p / c.over for p in past)]) if c.over else 1.0

    def band(self, word: str, j: Judged | None) -> tuple[bool, float | None, float | None]:
        if j is None:
            return False, None, None
        if word in ("low", "high"):
            return j.state == word, j.excess, None
        if word == "in":
            return j.state == "in", None, j.depth
        shunned = word.removeprefix("not_")
        if j.state == shunned:
            return False, None, None
        edge, other = (j.low, j.high) if shunned == "low" else (j.high, j.low)
        if j.state != "in" or edge is None:
            return True, None, 1.0
        if other is not None and abs(j.value - other) < abs(j.value - edge):
            return True, None, 1.0
        return True, None, j.depth

    def reads(self, c: Condition, phase: str) -> tuple[bool, float | None, float | None]:
        """Whether a condition holds, with its excess and depth."""
        g, early = self.given, phase == "structure"
        if c.measure:
            if c.is_:
                return self.band(c.is_, self.judged.get(c.measure))
            return (*self.number(c, g.measures.get(c.measure), early), None)
        if c.trait:
            amount = g.traits.get(c.trait, 0.0)
            if c.above is None and c.below is None:
                return round(amount, 6) > 0, None, None
            return (*self.number(c, amount, early), None)
        if c.process:
            ok = c.is_ is None or g.process_words.get(c.process) == c.is_
            ok = ok and (c.stated is None or (c.process in g.stated) is c.stated)
            if c.above is None and c.below is None:
                return ok, None, None
            held, excess = self.number(c, g.process_numbers.get(c.process), early)
            return ok and held, excess, None
        if c.symptom:
            return g.symptoms.get(c.symptom) is (True if c.seen is None else c.seen), None, None
        if c.answer:
            return g.answers.get(c.answer) == c.is_, None, None
        if c.structure:
            return self.structures.get(c.structure, 0) > self.holds_above, None, None
        return c.state in self.states or c.suspect in self.suspects, None, None


def _fire(world: _World, rule: Rule, phase: str) -> tuple[Firing, list[Suspicion]] | None:
    asked = [w for w in rule.when if isinstance(w, Condition)]
    if any(world.reads(w.not_, phase)[0] for w in rule.when if isinstance(w, Denial)):
        return None
    found = [world.reads(c, phase) for c in asked]
    if not all(held for held, _, _ in found):
        return None
    excess = min([1.0, *(e for _, e, _ in found if e is not None)])
    depth = min([1.0, *(d for _, _, d in found if d is not None)])
    facts: list[tuple[str, str]] = []
    for c in rule.then:
        kind = next(
            k for k in ("suspect", "structure", "state", "caution", "ask", "reminder") if getattr(c, k)
        )
        facts.append((kind, rule.id if kind == "reminder" else getattr(c, kind)))
    every = [w.not_ if isinstance(w, Denial) else w for w in rule.when]
    own = next((c.measure for c in asked if c.measure), None) or [*asked, *every][0].name
    told = [
        Suspicion(
            cause=c.suspect, rule=rule.id, evidence=c.evidence, group=c.evidence_group or own,
            excess=excess, depth=depth,
        )
        for c in rule.then
        if c.suspect and c.evidence
    ]  # fmt: skip
    premises = tuple(dict.fromkeys((c.subject, c.name) for c in asked))
    firing = Firing(
        rule=rule.id, phase=phase, premises=premises, conclusions=tuple(dict.fromkeys(facts)),
        excess=excess, depth=depth,
    )  # fmt: skip
    return firing, told


def infer_directly(
    situation: Situation, rules: list[Rule], judge: JudgeBands, fallback: str, holds_above: float = 0.35
) -> Inference:
    world, fired = _World(situation, holds_above), {}
    for phase in ORDER:
        growing = True
        while growing:
            growing = False
            for rule in rules:
                if rule.id not in fired and _phase(rule) == phase and (found := _fire(world, rule, phase)):
                    fired[rule.id] = found
                    growing = True
                    world.states |= {n for k, n in found[0].conclusions if k == "state"}
                    speaks = SUPPORTING
                    world.suspects |= {s.cause for s in found[1] if s.evidence in speaks and s.excess > 0}
        if phase == "structure":
            degree: dict[str, float] = {}
            for firing, _ in fired.values():
                for _, name in firing.conclusions:
                    degree[name] = max(firing.excess, degree.get(name, 0.0))
            two = sorted(degree.items(), key=lambda item: (-item[1], item[0]))[:2] or [(fallback, 1.0)]
            world.structures = {name: w / sum(w for _, w in two) for name, w in two}
            world.judged = dict(judge(world.structures, situation.measures))
    every = sorted(fired.values(), key=lambda f: (ORDER.index(f[0].phase), f[0].rule))
    names = lambda kind: tuple(dict.fromkeys(n for f, _ in every for k, n in f.conclusions if k == kind))  # noqa: E731
    texts = {r.id: [c.reminder for c in r.then if c.reminder] for r in rules}
    return Inference(
        structures=world.structures, judged=world.judged, firings=tuple(f for f, _ in every),
        suspicions=tuple(s for _, told in every for s in told), states=names("state"),
        cautions=names("caution"), asks=names("ask"),
        reminders=tuple((f.rule, text) for f, _ in every for text in texts[f.rule]),
    )  # fmt: skip
