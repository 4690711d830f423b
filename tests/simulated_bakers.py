"""Bakers who hold the loaf of a case and answer what they are asked, each in one of three ways.

What the case says of the loaf is true. What it leaves open is drawn once for each loaf from what its cause leads to,
so that every way of asking meets the same loaf. Of kitchen and process a baker says, in this order, what the case
says, what the formula states, what the cause shows in, what the oven and the dough make likely, and else what nothing
is wrong with.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from case_files import CASES, entries, sound_cases
from edited_texts import apply_edits, ground_text

from advisor import load_knowledge
from advisor.diagnosis.answers import AnswerRatios
from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text

TRUTHFUL = "truthful"
CARELESS = "careless"
OTHER_GRAPH = "other graph"
KINDS = (TRUTHFUL, CARELESS, OTHER_GRAPH)

ONE_IN = 5
"""The careless baker answers one question in so many wrongly or not at all."""
STRENGTHS_OFF_BY = 0.3
RARELY_MEASURED = {
    "core_temperature": "not_measured",
    "oven_checked": "not_checked",
    "yeast_test": "not_tested",
}
"""Half the bakers do not know: it takes a thermometer or a trial."""
NOTHING_WRONG = {
    "door_opened": "no", "moved_in_oven": "no", "core_temperature": "above_92", "sliced_when": "cold",
    "cooled_where": "rack", "cheese_form": "block", "powder_age": "fresh", "yeast_test": "foamed",
    "liquid_heat": "warm", "meal_grind": "fine", "dough_rested": "yes", "fat_order": "with_water",
    "acid_order": "last", "oven_checked": "true_to_dial", "shelf_position": "middle", "stored_how": "room",
    "dough_felt": "warm", "mixing_felt": "enough", "panning": "pressed", "ingredient_smell": "fresh",
    "proof_judged": "stayed",
}  # fmt: skip
"""Answers where something else is wrong with the loaf; to other questions, what speaks least for any cause."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaf:
    """One case: the formula as baked, its true causes, what counts as found, and what is known of it."""

    id: str
    source: str
    heldout: bool
    formula: Formula
    causes: tuple[str, ...]
    accepted: frozenset[str]
    saw: tuple[str, ...]
    not_seen: tuple[str, ...]
    answers: Mapping[str, str]


@cache
def loaves() -> tuple[Loaf, ...]:
    """Every loaf of the cases in which a fault was put in and of those that a baker told."""
    found = [
        _loaf(e, name) for name in ("injected", "injected_more") for e in entries(CASES / f"{name}.yaml")
    ]
    for path in sorted((CASES / "told").glob("*.yaml")):
        found += [_loaf(entry, "told") for entry in entries(path)]
    return tuple(found)


def drawn(count: int) -> tuple[Loaf, ...]:
    """Some of the loaves, drawn by their names, so that a case that is added changes at most one of them.

    Right and tempting ones take turns in the files, so no n-th will do.
    """
    return tuple(sorted(loaves(), key=lambda loaf: random.Random(loaf.id).random())[:count])


def _loaf(entry: dict, source: str) -> Loaf:
    sound = {case.id: case.text for case in _sound()}
    ground = sound.get(entry.get("formula")) or ground_text(entry)
    text = apply_edits(ground, entry.get("inject") or entry.get("edits") or [])
    cause = entry.get("cause") or entry.get("instead")
    causes = tuple(entry.get("causes") or (cause,))
    wanted = {*causes, *(entry.get("also_accept") or ())}
    return Loaf(
        id=entry["id"],
        source="tempting" if "instead" in entry else source,
        heldout=bool(entry.get("heldout")),
        formula=read_formula_text(text, load_knowledge(), name=entry["id"]),
        causes=causes,
        accepted=frozenset(wanted | {name for name in load_knowledge().causes if headings(name) & wanted}),
        saw=tuple(entry["saw"]),
        not_seen=tuple(entry.get("not_seen") or ()),
        answers=entry.get("answers") or {},
    )


@cache
def _sound() -> tuple:
    return tuple(sound_cases())


@cache
def headings(cause: str) -> frozenset[str]:
    """What a cause is a kind of: such a heading stands over it and takes no place of its own."""
    above = set()
    while (parent := load_knowledge().causes[cause].refines) is not None:
        above.add(parent)
        cause = parent
    return frozenset(above)


def place(found: Examination, loaf: Loaf) -> int:
    """Place from 1 of the first cause that counts as found, without the headings over any such cause."""
    over = frozenset().union(*(headings(cause) for cause in loaf.accepted)) - loaf.accepted
    order = [rank.id for rank in found.diagnosis.causes if rank.id not in over]
    return min(order.index(cause) for cause in loaf.accepted if cause in order) + 1


class Baker:
    """Answers for one loaf; the same question gets the same answer whenever it is put."""

    def __init__(self, loaf: Loaf, kind: str, examiner: Examiner, ratios: AnswerRatios) -> None:
        self.loaf = loaf
        self._kind = kind
        self._knowledge = examiner.knowledge
        self._ratios = ratios
        self._plain = examiner.examine(loaf.formula, after_bake=True)
        graph = examiner.graph_of(loaf.formula)
        self._graph = perturbed(graph, loaf, self._chance("graph")) if kind == OTHER_GRAPH else graph
        self.ticked = self._ticked()

    def sees(self, symptom: str) -> bool | None:
        """Tell whether the symptom is there; `None` where the baker cannot say."""
        if self._errs(symptom):
            return None if self._chance(symptom, "how").random() < 0.5 else not self._there(symptom)
        return self._there(symptom)

    def answers(self, question: str) -> str | None:
        """Answer a question of process or kitchen; `None` where the baker cannot say."""
        if self._errs(question):
            chance = self._chance(question, "how")
            others = [a for a in self._knowledge.questions[question].answers if a != self._true(question)]
            return None if chance.random() < 0.5 else chance.choice(others)
        return self._true(question)

    def _chance(self, *what: str) -> random.Random:
        return random.Random("|".join((self.loaf.id, self._kind, *what)))

    def _errs(self, asked: str) -> bool:
        return self._kind == CARELESS and self._chance(asked, "errs").random() < 1 / ONE_IN

    def _ticked(self) -> tuple[str, ...]:
        symptoms = self._knowledge.symptoms
        there = list(self.loaf.saw)
        if self._kind == OTHER_GRAPH:
            there = [s for s in symptoms if self._there(s)]
            # A loaf that shows nothing is not asked about: what its cause shows in most is taken to be there.
            there = there or [max(symptoms, key=self._risk)]
        there.sort(key=lambda s: -symptoms[s].severity)
        return tuple(there[: self._chance("ticks").choice((1, 2))])

    def _there(self, symptom: str) -> bool:
        if self._kind != OTHER_GRAPH:
            if symptom in self.loaf.saw:
                return True
            if symptom in self.loaf.not_seen:
                return False
        return self._chance(symptom, "there").random() < self._risk(symptom)

    def _risk(self, symptom: str) -> float:
        away = 1.0 - self._knowledge.symptoms[symptom].leak
        for cause in self.loaf.causes:
            away *= 1.0 - self._graph.influence.get(cause, {}).get(symptom, 0.0)
        return 1.0 - away

    def _true(self, question: str) -> str:
        if (said := self.loaf.answers.get(question)) is not None:
            return said
        if (stated := _stated(question, self._plain)) is not None:
            return stated
        if question in RARELY_MEASURED and self._chance(question, "measured").random() < 0.5:
            return RARELY_MEASURED[question]
        shown = self._shown_by_cause(question) or _likely(question, self._plain)
        return shown or NOTHING_WRONG.get(question) or self._least_telling(question)

    def _shown_by_cause(self, question: str) -> str | None:
        """The answer that speaks most for a true cause, if one does."""
        best, most = None, 1.0
        for answer in self._knowledge.questions[question].answers:
            for ratio in self._ratios.ratios(self._plain, question, answer, self.loaf.causes).values():
                if ratio > most:
                    best, most = answer, ratio
        return best

    def _least_telling(self, question: str) -> str:
        """The answer that speaks least for any cause."""

        def most(answer: str) -> float:
            ratios = self._ratios.ratios(self._plain, question, answer, self._plain.diagnosis.own)
            return max(ratios.values(), default=1.0)

        return min(self._knowledge.questions[question].answers, key=most)


def perturbed(graph: CauseGraph, loaf: Loaf, chance: random.Random) -> CauseGraph:
    """The graph from the true causes with strengths off by up to 30 % and one link on their routes missing."""
    own = {
        node for c in loaf.causes for s in graph.influence[c] for r in graph.routes(c, s) for node in r.nodes
    }
    causes = frozenset(graph.causes)
    links = [
        k for k in graph.links if k.start in own and k.to in own and k.start not in causes - {*loaf.causes}
    ]
    gone = chance.randrange(len(links)) if len(links) > 1 else -1
    off = {n: chance.uniform(1 - STRENGTHS_OFF_BY, 1 + STRENGTHS_OFF_BY) for n in range(len(links))}
    kept = [
        link.model_copy(update={"strength": min(1.0, link.strength * off[n])})
        for n, link in enumerate(links)
        if n != gone
    ]
    return CauseGraph.build(loaf.causes, graph.mechanisms, graph.symptoms, kept)


def _stated(question: str, found: Examination) -> str | None:
    """What the formula's own process lines say."""
    process, measures = found.formula.process, found.situation.measures
    if question == "door_opened" and process.opened_at_min is not None:
        return "before_set" if process.opened_at_min < measures.get("core_set_min", 0.0) else "after_set"
    if question == "moved_in_oven" and process.probed_at_min is not None:
        return "yes" if process.probed_at_min < measures.get("core_set_min", 0.0) else "no"
    if question == "sliced_when" and process.sliced_after_min is not None:
        return _step(process.sliced_after_min, (20, 60), ("hot", "warm", "cold"))
    if question == "cooled_where" and process.cooled_in_pan_min is not None:
        return "pan" if process.cooled_in_pan_min > 10 else "rack"
    if question == "liquid_heat" and process.water_c is not None:
        return _step(process.water_c, (12, 26, 44), ("cold", "cool", "warm", "hot"))
    if question == "dough_rested" and process.rest_min is not None:
        return _step(process.rest_min, (5, 21), ("no", "yes", "too_long"))
    if question == "oven_checked" and process.oven_offset_c is not None:
        return _step(process.oven_offset_c, (-5, 5), ("cooler", "true_to_dial", "hotter"))
    return None


def _likely(question: str, found: Examination) -> str | None:
    """What the dough and the oven, as they are reckoned, would have felt and read like."""
    measures = found.situation.measures
    if question == "core_temperature" and (core := measures.get("core_at_pull_c")) is not None:
        return _step(core, (80, 92), ("below_80", "from_80_to_92", "above_92"))
    if question == "dough_felt" and (warmth := measures.get("dough_temp_c")) is not None:
        return _step(warmth, (20, 24, 30), ("cold", "cool", "warm", "hot"))
    return None


def _step(value: float, edges: Collection[float], words: tuple[str, ...]) -> str:
    return words[sum(value >= edge for edge in edges)]


def bakers(
    kind: str, examiner: Examiner, ratios: AnswerRatios, some: Collection[Loaf] | None = None
) -> Iterator[Baker]:
    """One baker of a kind for every loaf, or for some."""
    for loaf in loaves() if some is None else some:
        yield Baker(loaf, kind, examiner, ratios)
