"""Can every clue for a symptom be read, and does every group of words serve one?"""

from __future__ import annotations

from advisor.diagnosis.phrases.clues import PRAISE, TURNING, read_clue, terms_of_groups
from advisor.linting.report import Report

_SYMPTOM = "words for symptom"
_GROUP = "word group"


def check_phrases(report: Report) -> None:
    """Find clues without a word, groups that are not there or serve nobody, and symptoms without clues."""
    known = report.knowledge
    terms = terms_of_groups(known.word_groups)
    for name, group in known.word_groups.items():
        if name == TURNING:
            continue  # plain words, looked for as they stand
        for word, (words, _) in zip(group.words, terms[f"<{name}>"].phrases, strict=True):
            if not words:
                report.add(_GROUP, name, "clue", f"'{word}' holds no word to listen for")
        if name != PRAISE and not any(f"<{name}>" in clue for clue in _all_clues(report)):
            report.add(_GROUP, name, "orphan", "no clue names this group")
    for name, told in known.told_phrases.items():
        for phrase, symptoms in told.said.items():
            for symptom in symptoms:
                report.refer("told phrases", name, phrase, symptom, known.symptoms)
    for name, entry in known.symptom_words.items():
        report.refer(_SYMPTOM, name, "symptom", name, known.symptoms)
        for text in (*entry.clear, *entry.likely, *entry.hint, *entry.against):
            try:
                read_clue(text, 1.0, terms)
            except KeyError as fault:
                report.add(_SYMPTOM, name, "reference", f"no word group {fault.args[0]} in '{text}'")
            except ValueError as fault:
                report.add(_SYMPTOM, name, "clue", str(fault))
    if known.symptom_words:
        for name in known.symptoms:
            if name not in known.symptom_words:
                report.add("symptom", name, "clue", "no words for it in symptom_words.yaml")


def _all_clues(report: Report) -> list[str]:
    return [
        clue
        for entry in report.knowledge.symptom_words.values()
        for clue in (*entry.clear, *entry.likely, *entry.hint, *entry.against)
    ]
