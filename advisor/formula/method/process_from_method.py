"""What becomes of free sentences: each is kept and named, and the process is taken from them where they agree."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from advisor.formula.faults import LineFault, shown
from advisor.formula.formula import Process
from advisor.formula.lines.prose_amounts import pairs_in
from advisor.formula.lines.prose_words import is_for_dough
from advisor.formula.lines.sentences import sentences_of
from advisor.formula.lines.totals import total_in
from advisor.formula.method.facts import SAME_C, Fact
from advisor.formula.method.handling import handling_in
from advisor.formula.method.meanings import words_of_work
from advisor.formula.method.method_facts import MethodReader
from advisor.formula.method.numbers_not_taken import tell_left
from advisor.formula.method.open_facts import decided
from advisor.formula.method.told_numbers import numbers_told
from advisor.formula.method.told_steps import ToldSteps, oven_told, rises_told, times_told
from advisor.formula.process.as_said import said, said_oven, said_pan
from advisor.formula.process.named_pans import pan_in
from advisor.formula.process.process_values import Value
from advisor.formula.process.rolls_named import pieces_in

if TYPE_CHECKING:
    from advisor.formula.draft import Draft
    from advisor.formula.lines.matching import NameIndex
    from advisor.formula.lines.units import UnitTable
    from advisor.formula.text_lines import TextLine
    from advisor.knowledge_base.measured import PanSize

_ADVICE = "what matters of it can be written as 'oven: 175 C for 70 min'"
_KEY_OF = {
    "piece_g": "piece weight", "thickness_cm": "thickness", "height_after_cm": "height after",
    "weight_after_g": "weight after", "altitude_m": "altitude", "boil_min": "boil", "steam_min": "steam",
    "griddle_side_min": "griddle", "griddle_c": "griddle", "microwave_min": "microwave",
    "sliced_after_min": "sliced after", "cooled_in_pan_min": "cooled in pan", "stored_min": "stored",
    "tented_at_min": "tented at", "opened_at_min": "opened at", "preheat_c": "preheat", "room_c": "room temp",
    "dough_measured_c": "dough temp", "dough_wanted_c": "target dough temp", "water_c": "water temp",
    "target_core_c": "target core", "core_measured_c": "core measured", "baked_on": "baked on",
    "cooled_in": "cooled in", "whites_whipped": "whites", "cold_start": "from cold", "pan_material": "pan material",
}  # fmt: skip
_SIZES = frozenset(["piece_g", "thickness_cm", "altitude_m"])
"""What an ingredient line can hold too: "2 cans (5 oz each)"."""
_ANOTHER = re.compile(
    r"^\W*(?:day\s+one|last\s+(?:time|week|year|month)|attempt\s+[0-9]|next\s+time|previous(?:ly)?|first\s+(?:try|time|attempt)|"
    r"(?:run|trial|version|test)\s+[0-9]+\s+(?:planned|will)|before\s*\()|\bbinned\b|\bnot\s+baked\s+yet\b",
    re.IGNORECASE,
)
"""Words of a paragraph that tells of another bake: its numbers are named, and none is taken."""
_NEAR, _LONG_SENTENCE = 25, 100
"""Letters around an amount that tell what it is for, in a sentence longer than so many."""
_WEIGHS = re.compile(
    r"\(\s*(?:(?:about|around|approx\.?|ca\.?|~)\s*)?[0-9.,]+\s*(?:g|gr|grams?|ml|oz)\s*\)", re.IGNORECASE
)
"""A weight in a bracket behind an amount, which is taken with it: "a pinch of salt (2g)"."""
_LONGEST_SPAN = 60
_ALIKE = 0.01
_YIELD = re.compile(r"(?:makes|yields?|gives)\b", re.IGNORECASE)


def note_facts(draft: Draft, line: TextLine, text: str, pans: Mapping[str, PanSize]) -> bool:
    """Note what a sentence, or a title, says of the process; tell whether it says anything."""
    if _ANOTHER.search(text):
        tell_left(draft, line.number, [t for s in sentences_of(text) for t in numbers_told(s)])
        return False
    pan, pieces = pan_in(text, pans), pieces_in(text)
    rest = text
    for words in (*(pan.text.split(" … ") if pan else ()), *(pieces.text.split(" … ") if pieces else ())):
        rest = rest.replace(words, " " * len(words), 1)  # their numbers are no times and no heats
    facts = draft.method_reader.read(rest)
    found = list(facts.found)
    if pan:
        notes = (pan.said,) if pan.said else ()
        draft.pans.append((line.number, pan.text, dict(pan.fields), notes))
    if pieces:
        found += (
            Fact(topic=f, what=f, value=v, text=pieces.text, said=pieces.said)
            for f, v in pieces.fields.items()
        )
    found += (Fact(topic=f, what=f, value=v, text=words) for f, v, words in handling_in(text))
    draft.facts += ((line.number, fact) for fact in found)
    tell_left(draft, line.number, facts.left)
    return bool(found or pan)


def tells_process(text: str, pans: Mapping[str, PanSize]) -> bool:
    """Tell whether a line by itself says anything of a process."""
    facts = MethodReader().read(text)
    if any(fact.topic not in _SIZES for fact in facts.found) or pan_in(text, pans):
        return True
    if facts.found and (words := words_of_work(text)) and words[0].start == 0:
        return True  # "scaled at 450 g each"
    shaped = not text[:1].isdigit() and pieces_in(text) is not None
    return shaped or any(told.kind in ("time", "heat") for told in facts.left)


def note_sentence(
    draft: Draft,
    line: TextLine,
    text: str,
    pans: Mapping[str, PanSize],
    names: NameIndex,
    units: UnitTable,
    *,
    counted: bool = False,
) -> None:
    """Keep a free sentence as a remark, and name it, with the amounts in it that are not counted."""
    for sentence in sentences_of(text):
        _note_yield(draft, line, sentence.rstrip(" .!"), units)
    amounts, lost = note_amounts(draft, line, text, names, units, counted=counted)
    told = note_facts(draft, line, amounts, pans)
    lost = f" ({lost} in it: counted as nothing)" if lost and not counted else ""
    if lost or not told:  # else every number of it is taken, or named as not taken
        further = " further" if told else ""
        draft.warnings.append(f"line {line.number} is not read{further}: '{shown(text)}'{lost}; {_ADVICE}")


def note_amounts(
    draft: Draft,
    line: TextLine,
    text: str,
    names: NameIndex,
    units: UnitTable,
    *,
    counted: bool = False,
) -> tuple[str, str]:
    """Note the amounts of ingredients in sentences; give the text without them, and the words of those not counted.

    What goes into the dough counts where no line gives that ingredient; what is for another bake, for the top or in a
    question counts as nothing.
    """
    lost: list[str] = []
    for sentence in sentences_of(text):
        pairs = [p for p in pairs_in(sentence, units, names) if p.known]
        for pair in pairs:
            words = sentence[pair.start : pair.end]
            near = sentence[max(0, pair.start - _NEAR) : pair.end + _NEAR]
            if is_for_dough(near if len(sentence) > _LONG_SENTENCE else sentence) or counted:
                draft.told += [] if counted else [(line, pair)]
            else:
                lost.append(f"'{shown(words)}'")
            amount = sentence[slice(*pair.at)]
            gone = _WEIGHS.sub(
                lambda held: " " * len(held.group()), words.replace(amount, " " * len(amount), 1)
            )
            text = text.replace(words, gone, 1)
    return text, "; ".join(lost)


def _note_yield(draft: Draft, line: TextLine, sentence: str, units: UnitTable) -> None:
    if not _YIELD.match(sentence):
        return
    try:
        total = total_in(sentence, units)
    except LineFault:
        return
    if total is not None:
        draft.totals += ((line.number, field, count) for field, count in total.counts)
        draft.totals += [(line.number, "rolls", 1)] if total.rolls else []


def take_method(draft: Draft, whole: str) -> None:
    """Put the facts of the sentences into the process; a process line wins, and two that differ are asked."""
    _take_pans(draft)
    draft.facts = decided(draft.facts, draft.lines, whole)
    facts = sorted(draft.facts, key=lambda entry: entry[0])
    by_topic: dict[str, list[tuple[int, Fact]]] = {}
    for number, fact in facts:
        by_topic.setdefault(fact.topic, []).append((number, fact))
    heated = by_topic.get("preheat_c", [])
    preheat = next((f.value for _, f in heated if isinstance(f.value, float)), None)
    for topic, told in by_topic.items():
        if topic == "oven":
            _take_steps(draft, "oven", told, oven_told(told, preheat))
        elif topic == "proof":
            _take_steps(draft, "proof", told, rises_told(told))
        elif topic in ("mix", "rest"):
            steps, total = ("mixes", "mix_min") if topic == "mix" else ("rests", "rest_min")
            _take_steps(draft, topic, told, times_told(told, steps, total))
        else:
            _take_one(draft, topic, told)


def _words_of(told: Sequence[tuple[int, Fact]]) -> str:
    """Give the words of some facts, those of one sentence as they stand in it."""
    spans: list[tuple[int, Fact, int, int]] = []
    for _, fact in told:
        before = spans[-1] if spans else None
        if before and fact.source and before[0] == fact.sentence:
            start, end = min(before[2], fact.start), max(before[3], fact.end)
            if end - start <= _LONGEST_SPAN:
                spans[-1] = (fact.sentence, fact, start, end)
                continue
        spans.append((fact.sentence, fact, fact.start, fact.end))
    words = [fact.source[start:end] if fact.source else fact.text for _, fact, start, end in spans]
    return " and ".join(dict.fromkeys(f"'{shown(word.strip(' .,;:()'))}'" for word in words))


def _take_steps(draft: Draft, key: str, told: Sequence[tuple[int, Fact]], found: ToldSteps) -> None:
    numbers = ", ".join(str(n) for n in dict.fromkeys(n for n, _ in told))
    if key in draft.key_lines:
        stated, other = Process(**draft.fields), Process(**found.fields)  # type: ignore[arg-type]
        heats = [s.celsius for s in other.bakes if s.celsius is not None]
        alone = key == "oven" and stated.bake_min is None and other.bake_min is not None and not found.differ
        if alone and stated.oven_c and all(abs(c - stated.oven_c) <= SAME_C for c in heats):
            steps = tuple(replace(s, celsius=stated.oven_c) for s in other.bakes)
            draft.fields |= {"oven_steps": steps, "oven_c": None, "bake_min": None}
            draft.assumed.append(
                f"line {numbers}: {_words_of(told)} is taken as oven: {said_oven(steps, fan=None)}"
            )
            return
        if not _agree(stated, other, key):
            used = f"{key}: {_written(stated, key)} is, as another line says"
            draft.warnings.append(f"line {numbers}: {_words_of(told)} is not used; {used}")
        return
    if found.differ:
        draft.warnings.append(
            f"line {numbers}: {_words_of(told)} differ; write the one that counts as 'oven: 175 C for 70 min'"
        )
        return
    if not found.fields:
        return
    draft.fields.update(found.fields)
    note = f" ({'; '.join(dict.fromkeys(found.said))})" if found.said else ""
    written = _written(Process(**found.fields), key)  # type: ignore[arg-type]
    told = [(n, fact) for n, fact in told if fact not in found.unused]
    draft.assumed.append(f"line {numbers}: {_words_of(told)} is taken as {key}: {written}{note}")


def _agree(stated: Process, other: Process, key: str) -> bool:
    pairs = {
        "oven": ((stated.oven_c, other.oven_c), (stated.bake_min, other.bake_min)),
        "proof": ((stated.proof_min, other.proof_min), (stated.proof_c, other.proof_c)),
        "mix": ((stated.mix_min, other.mix_min),),
        "rest": ((stated.rest_min, other.rest_min),),
    }[key]
    return all(two is None or (one is not None and abs(one - two) <= SAME_C) for one, two in pairs)


def _written(process: Process, key: str) -> str:
    if key == "oven":
        return said_oven(process.bakes, fan=process.oven_fan)
    steps = {
        "proof": process.rises,
        "mix": process.mixes or process.mix_min,
        "rest": process.rests or process.rest_min,
    }
    return said("_min", steps[key])


def _take_one(draft: Draft, field: str, told: list[tuple[int, Fact]]) -> None:
    key = _KEY_OF.get(field, field)
    kept = draft.fields.get(field)
    if field == "pan_kind":  # a basket in which it rises says little beside a tin in which it is baked
        told = sorted(told, key=lambda one: one[1].value == "free_standing")
    for number, fact in told:
        if field == "pan_kind":
            draft.fields.setdefault(field, fact.value)
        elif kept is None and key not in draft.key_lines:
            kept = draft.fields[field] = fact.value
            written = said(field, fact.value)
            note = f" ({'; '.join(fact.said)})" if fact.said else ""
            draft.assumed.append(f"line {number}: '{shown(fact.text)}' is taken as {key}: {written}{note}")
        elif kept is not None and not _alike(kept, fact.value):
            known = said(field, kept)
            draft.warnings.append(
                f"line {number}: '{shown(fact.text)}' is not used; {key}: {known} is, as another place says"
            )


def _alike(one: Value, other: Value) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= _ALIKE * max(abs(one), 1.0)
    return one == other


def _take_pans(draft: Draft) -> None:
    """Take the pan that is told most fully; another that differs is said."""
    told = sorted(draft.pans, key=lambda entry: -len(entry[2]))
    for place, (number, text, fields, notes) in enumerate(told):
        if place == 0 and "pan" not in draft.key_lines:
            draft.fields.update(fields)
            note = f" ({'; '.join(notes)})" if notes else ""
            size = said_pan(fields)
            draft.assumed.append(f"line {number}: '{shown(text)}' is taken as pan: {size}{note}")
        elif any(not _alike(draft.fields.get(f), v) for f, v in fields.items()):
            draft.warnings.append(f"line {number}: '{shown(text)}' is not used; another line says the pan")
