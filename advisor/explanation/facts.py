"""Facts of one firing as a class reads them: a name, its number, and where that lies."""

from __future__ import annotations

from math import log

from advisor.diagnosis.cause_odds import likelihood_ratio
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.pipeline import Examination
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import band_text, number, percent, with_article, with_unit
from advisor.inference.situation import FactKey, Firing, Suspicion
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import filled

_SEEN = {True: "seen", False: "looked for and not there", None: "not told"}
_UNITS = (("_min", "min"), ("_c", "C"), ("_cm", "cm"), ("_g", "g"))
"""How the name of a process value ends, and the unit that it says."""
_OFFSET = "oven_offset_c"
"""The one temperature of a process that is a difference: how far the oven is off its dial."""


def fact_line(key: FactKey, found: Examination, knowledge: Knowledge) -> str:
    """Write one fact that a rule stood on."""
    kind, name = key
    match kind:
        case "measure":
            return measure_line(name, found, knowledge)
        case "structure":
            weight = found.inference.structures.get(name, 0.0)
            return f"{percent(weight)} of this dough is {with_article(knowledge.structures[name].name)}"
        case "trait":
            grams = found.situation.traits.get(name)
            there = f"{grams:.1f} g in 100 g of dough" if grams else "none in the formula"
            return f"{name.replace('_', ' ')}: {there}"
        case "process":
            return _process_line(name, found)
        case "symptom":
            seen = _SEEN[found.situation.symptoms.get(name)]
            return f"{knowledge.symptoms[name].name}: {seen}"
        case "answer":
            question, given = knowledge.questions[name], found.situation.answers.get(name)
            return f"{question.question} {question.answers[given] if given else 'Not told.'}"
        case "suspect":
            return f"suspected: {knowledge.causes[name].name.lower()}"
    return f"concluded: {name.replace('_', ' ')}"


def measure_line(name: str, found: Examination, knowledge: Knowledge) -> str:
    """A measure with its unit, and its band and where in it it lies where it has one."""
    entry, judged = knowledge.measures[name], found.inference.judged.get(name)
    value = judged.value if judged else found.situation.measures.get(name)
    if value is None:
        return f"{entry.name}: no value here"
    unit = "" if entry.unit == "-" else entry.unit
    said = f"{entry.name}: {with_unit(number(value, entry.decimals), unit)}"
    if judged is None:
        return said
    return f"{said} (good: {band_text(judged, entry.decimals, unit)}): {Thresholds.read(knowledge).state(judged)}"


def _process_line(name: str, found: Examination) -> str:
    number_said = found.situation.process_numbers.get(name)
    value = found.situation.process_words.get(name) if number_said is None else f"{number_said:.4g}"
    ending, unit = next((pair for pair in _UNITS if name.endswith(pair[0])), ("", ""))
    stated = "stated" if name in found.situation.stated else "not stated, so assumed"
    what = name.removesuffix(ending).replace("_", " ")
    if value is None:
        return f"{what}: not stated"
    said = with_unit(value, unit, difference=name == _OFFSET) if unit else value.replace("_", " ")
    return f"{what}: {said} ({stated})"


def evidence_line(said: Suspicion, knowledge: Knowledge) -> str:
    """What one piece of evidence does to the odds of its cause."""
    cause = knowledge.causes[said.cause].name
    scale = EvidenceScale.read(knowledge.coefficients)
    if said.evidence == "rules_out":
        return f"{cause}: ruled out"
    ratio = likelihood_ratio(said, scale)
    if abs(log(ratio)) < 0.005:
        return f"{cause}: {said.evidence} evidence, but at the very edge: odds as they were"
    way = f"times {ratio:.1f}" if ratio > 1 else f"divided by {1 / ratio:.1f}"
    return f"{cause}: odds {way} ({said.evidence} evidence{', against it' if ratio < 1 else ''})".replace(
        "against evidence, against it", "evidence against it"
    )


def because_of(rule: str, found: Examination, knowledge: Knowledge) -> str:
    """A rule's own sentence with the numbers of this formula."""
    return filled(knowledge.rules[rule].because, found)


def firing_facts(firing: Firing, found: Examination, knowledge: Knowledge) -> tuple[str, ...]:
    """Every fact that a firing stood on, a line each."""
    return tuple(fact_line(key, found, knowledge) for key in firing.premises)
