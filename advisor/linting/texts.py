"""Is every text worth reading, and does every name mean one thing?"""

from __future__ import annotations

import re
from collections import Counter

from advisor.knowledge_base.all_entries import all_entries, parts_of
from advisor.knowledge_base.text_fields import places_in_text
from advisor.linting.report import Report

_FILLER = re.compile(r"\b(unknown|various|n/a|todo|tbd|fixme|xxx)\b", re.IGNORECASE)
_TRADE_MARKS = re.compile("[®™©]")
_NO_PROSE = frozenset({"key", "id", "unit", "pinned_by"})


def check_texts(report: Report) -> None:
    """Find filler, empty texts, trade marks, and ingredient names that two entries claim."""
    for named in all_entries(report.knowledge):
        for part in parts_of(named.entry):
            for field in type(part).model_fields:
                value = getattr(part, field)
                if isinstance(value, str) and field not in _NO_PROSE:
                    _text(report, named.kind, named.name, field, value)
    for name, question in report.knowledge.questions.items():
        for answer, text in question.answers.items():
            _text(report, "question", name, f"answers.{answer}", text)
    _names(report)


def _text(report: Report, kind: str, name: str, field: str, text: str) -> None:
    field = field.removesuffix("_")
    if not text.strip():
        report.add(kind, name, "text", f"{field} is empty: leave it out or say something")
    elif found := _FILLER.search(text):
        report.add(kind, name, "text", f"{field} says '{found.group()}': leave it out or say what is known")
    elif _TRADE_MARKS.search(text):
        report.add(kind, name, "text", f"{field} carries a trade mark: use the plain name of the thing")


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").split())


def _names(report: Report) -> None:
    owners: dict[str, str] = {}
    for owner, entry in report.knowledge.ingredients.items():
        for name in (entry.name, *entry.also):
            if (first := owners.setdefault(_plain(name), owner)) != owner:
                where = report.knowledge.where("ingredient", first)
                report.add("ingredient", owner, "name", f"'{name}' is a name of {first} already, at {where}")
    foods = report.knowledge.ingredients.items()
    shared = Counter(_plain(name) for _, entry in foods for name in entry.shared_names)
    for owner, entry in foods:
        for name in entry.shared_names:
            if shared[_plain(name)] == 1 or _plain(name) in owners:
                said = f"shared_names: '{name}' has to stand in two ingredients or more, and be no other name of any"
                report.add("ingredient", owner, "name", said)


def check_placeholders(report: Report) -> None:
    """Every {place} in a rule's sentences names a measure or a process field, with a format that fits it."""
    for name, rule in report.knowledge.rules.items():
        for text in (rule.because, *(then.reminder for then in rule.then if then.reminder)):
            _places(report, name, text)


def _places(report: Report, rule: str, text: str) -> None:
    known = report.knowledge.measures
    for found in places_in_text(text):
        place, spec, word = found.name, found.form, False
        if place not in known:
            if report.process is None:
                continue
            if not report.refer("rule", rule, "measure or process field", place, {*known, *report.process}):
                continue
            word = report.process[place] is not None
        try:
            format("word" if word else 1.0, spec)
        except ValueError:
            kind = "word" if word else "number"
            report.add("rule", rule, "placeholder", f"'{{{place}:{spec}}}' is no format for a {kind}")
