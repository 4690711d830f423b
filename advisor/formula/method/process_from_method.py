"""What becomes of free sentences: each is kept and named, and the process is taken from them where they agree."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.sentences import amounts_within, sentences_of
from advisor.formula.lines.totals import total_in
from advisor.formula.method.method_facts import SAME_C, Fact, shaped_behind_proof
from advisor.formula.process.named_pans import pan_in
from advisor.formula.process.process_values import Value
from advisor.formula.process.rolls_named import rolls_in

if TYPE_CHECKING:
    from advisor.formula.draft import Draft
    from advisor.formula.lines.matching import NameIndex
    from advisor.formula.lines.units import UnitTable
    from advisor.formula.text_lines import TextLine
    from advisor.knowledge_base.measured import PanSize

_ADVICE = "what matters of it can be written as 'oven: 175 C for 70 min'"
_KEY_OF = {"rolls": "pan"}
_ALIKE = 0.01
_YIELD = re.compile(r"(?:makes|yields?|gives)\b", re.IGNORECASE)
_SAID = {
    "oven_c": ("oven", "{:.4g} C"), "oven_fan": ("oven", "fan"), "bake_min": ("oven", "for {:.4g} min"),
    "mix_min": ("mix", "{:.4g} min"), "proof_min": ("proof", "{:.4g} min"), "proof_c": ("proof", "at {:.4g} C"),
    "rest_min": ("rest", "{:.4g} min"), "cooled_in_pan_min": ("cooled in pan", "{:.4g} min"),
    "pan_kind": ("pan", "{}"), "pan_length_cm": ("pan", "{:.4g} cm"), "pan_width_cm": ("pan", "x {:.4g} cm"),
    "pan_height_cm": ("pan", "x {:.4g} cm"), "slices": ("slices", "{}"),
}  # fmt: skip


def note_facts(draft: Draft, line: TextLine, text: str, pans: Mapping[str, PanSize]) -> bool:
    """Note what a sentence, or a title, says of the process; tell whether it says anything."""
    facts = draft.method_reader.read(text)
    found = list(facts.found)
    if pan := pan_in(text, pans):
        said = (pan.said,) if pan.said else ()
        found.append(Fact(topic="pan", fields=dict(pan.fields), text=pan.text, said=said))
    if rolls := rolls_in(text):
        fields: dict[str, Value] = {"pan_kind": "rolls", "slices": rolls[1]}
        found.append(Fact(topic="rolls", fields=fields, text=rolls[0]))
    draft.facts += ((line.number, fact) for fact in found)
    draft.warnings += (f"line {line.number}: {doubt}" for doubt in facts.doubts)
    draft.sentences.append(text)
    return bool(found)


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
    further = " further" if note_facts(draft, line, text, pans) else ""
    within = () if counted else amounts_within(text, units, names)
    lost = "; ".join(f"'{shown(w.text)}'" for w in within if w.known)
    lost = f" ({lost} in it: counted as nothing)" if lost else ""
    draft.warnings.append(f"line {line.number} is not read{further}: '{shown(text)}'{lost}; {_ADVICE}")


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


def take_method(draft: Draft) -> None:
    """Put the facts of the sentences into the process; a process line wins, and two that differ are asked."""
    topics = dict.fromkeys(fact.topic for _, fact in draft.facts)
    if (
        "proof" in topics
        and "proof" not in draft.key_lines
        and shaped_behind_proof(" ".join(draft.sentences))
    ):
        number = next(n for n, fact in draft.facts if fact.topic == "proof")
        draft.warnings.append(
            f"line {number}: the dough rises more than once; write the rise before the oven as 'proof: 45 min at 27 C'"
        )
        topics.pop("proof")
    for topic in topics:
        facts = _told_apart([(n, fact) for n, fact in draft.facts if fact.topic == topic])
        if topic == "oven" and [fact.sure for _, fact in sorted(facts, key=lambda e: e[0])][-1:] == [True]:
            sure = [entry for entry in facts if entry[1].sure]  # heated first, then baked for a time
            facts = sure if len(sure) == 1 else facts
        if len(facts) > 1 and _KEY_OF.get(topic, topic) not in draft.key_lines:
            lines = ", ".join(str(n) for n in dict.fromkeys(n for n, _ in facts))
            words = " and ".join(f"'{shown(fact.text)}'" for _, fact in facts[:3])
            draft.warnings.append(
                f"line {lines}: {words} differ; write the one that counts as '{_written(facts[0][1])}'"
            )
            continue
        _take(draft, *facts[0])


def _told_apart(facts: list[tuple[int, Fact]]) -> list[tuple[int, Fact]]:
    """Give the facts that say different things, the fullest of those that agree."""
    kept: list[tuple[int, Fact]] = []
    for number, fact in sorted(facts, key=lambda entry: -len(entry[1].fields)):
        if not any(all(_alike(v, other.fields.get(f)) for f, v in fact.fields.items()) for _, other in kept):
            kept.append((number, fact))
    return kept


def _alike(one: Value, other: Value) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= _ALIKE * max(abs(one), 1.0)
    return one == other


def _near(one: Value, other: Value) -> bool:
    return isinstance(one, int | float) and isinstance(other, int | float) and abs(one - other) <= SAME_C


def _written(fact: Fact) -> str:
    parts: dict[str, list[str]] = {}
    for field, value in fact.fields.items():
        key, how = _SAID[field]
        parts.setdefault(key, []).append(how.format(value))
    return ", ".join(f"{key}: {' '.join(values)}" for key, values in parts.items())


def _take(draft: Draft, number: int, fact: Fact) -> None:
    key = _KEY_OF.get(fact.topic, fact.topic)
    stated = key in draft.key_lines
    taken: dict[str, Value] = {}
    for field, value in fact.fields.items():
        known = draft.fields.get(field)
        if known is None:
            if not (stated and key == "pan"):
                taken[field] = value
        elif not (_alike(known, value) or (field == "oven_c" and _near(known, value))):
            draft.warnings.append(
                f"line {number}: '{shown(fact.text)}' is not used; "
                f"{_written_known(field, known)} is, as another line says"
            )
            return
    if not taken:
        return
    draft.fields.update(taken)
    said = f" ({'; '.join(fact.said)})" if fact.said else ""
    shown_fact = Fact(topic=fact.topic, fields=taken, text=fact.text)
    draft.assumed.append(f"line {number}: '{shown(fact.text)}' is taken as {_written(shown_fact)}{said}")


def _written_known(field: str, value: Value) -> str:
    key, how = _SAID[field]
    return f"{key}: {how.format(value)}"
