"""Which way the words of a phrase lean, by the clues in which they stand and by what people said.

A clue is met whole or not at all. Most of what a baker says meets none whole, but its words still lean one way:
"chisel" and "tin" were only ever said of a loaf that sticks. Each word, each group it is in, and each two words in a
row is weighed by how often it stands in what was said of one symptom against what was said of all: the logarithm of
the ratio of the two shares, smoothed, summed over the phrase (naive Bayes; common practice for sorting texts, no
source).
"""

from __future__ import annotations

import itertools
import math
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from advisor.diagnosis.phrases.clues import PRAISE
from advisor.diagnosis.phrases.said_words import SaidWord, said_words
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.phrase_entries import WordGroup

NO_FAULT = ""
"""Stands for praise, and for what no symptom stands for."""
_GROUP = re.compile(r"(not )?<([a-z_]+)>")
_RARE = 0.1
"""Added to how often anything was said, so that nothing is divided by nought."""


class Leanings:
    """How much each word speaks for each symptom; made once for a Knowledge."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._groups = _groups_by_word(knowledge.word_groups)
        smoothing = knowledge.coefficient("heard_smoothing")
        said: dict[str, float] = defaultdict(float)
        counts: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
        for symptom, text, weight in _examples(knowledge):
            said[symptom] += weight
            for mark in self._marks_of_text(text):
                counts[symptom][mark] += weight
        usual: dict[str, float] = defaultdict(float)
        for count in counts.values():
            for mark, number in count.items():
                usual[mark] += number
        total = sum(said.values())
        prior = knowledge.coefficient("heard_usual")
        self._start = {name: prior * math.log(number / total) for name, number in said.items()}
        self._unheard = {name: math.log(smoothing / (number + smoothing)) for name, number in said.items()}
        self._weights: dict[str, dict[str, float]] = {mark: {} for mark in usual}
        for name, count in counts.items():
            for mark, number in count.items():
                share = (usual[mark] + _RARE) / (total + 2 * _RARE)
                ratio = (number + smoothing * share) / ((said[name] + smoothing) * share)
                self._weights[mark][name] = math.log(ratio)

    def of(self, words: Sequence[SaidWord]) -> dict[str, float]:
        """Give how far the words lean to each symptom and to no fault, as logarithms of odds."""
        known = [self._weights[mark] for mark in self._marks(words) if mark in self._weights]
        return {
            name: start + sum(weights.get(name, self._unheard[name]) for weights in known)
            for name, start in self._start.items()
        }

    def _marks(self, words: Sequence[SaidWord]) -> set[str]:
        """Give all that may lean: words, groups in angle brackets, two words in a row in either order."""
        telling = [word for word in words if not (word.filling or word.text.isdecimal())]
        marks = {_plain(word) for word in telling}
        for word in telling:
            for form in word.forms:
                marks.update(_denied(word, f"<{group}>") for group in self._groups.get(form, ()))
        for one, other in itertools.pairwise(telling):
            if one.clause == other.clause:
                marks.add(" ".join(sorted((_plain(one), _plain(other)))))
        return marks

    def _marks_of_text(self, text: str) -> set[str]:
        groups = {f"{'-' if no else ''}<{name}>" for no, name in _GROUP.findall(text)}
        plain = _GROUP.sub(" ", text).replace("...", " ").replace("+", " ")
        return groups | self._marks(said_words(plain, str))


def _examples(knowledge: Knowledge) -> Iterator[tuple[str, str, float]]:
    """Give a symptom, what is said of it, and how much that counts; a phrase of two faults counts half for each."""
    clue = knowledge.coefficient("heard_clue_counts")
    for name, symptom in knowledge.symptoms.items():
        for text in (symptom.name, *symptom.also, symptom.question, symptom.says):
            yield name, text, clue
    for name, entry in knowledge.symptom_words.items():
        for text in (*entry.clear, *entry.likely):
            yield name, text, clue
    if PRAISE in knowledge.word_groups:
        for text in knowledge.word_groups[PRAISE].words:
            yield NO_FAULT, text, clue
    for told in knowledge.told_phrases.values():
        for text, means in told.said.items():
            for name in means or (NO_FAULT,):
                yield name, text, 1 / max(len(means), 1)


def _groups_by_word(groups: Mapping[str, WordGroup]) -> dict[str, list[str]]:
    out: dict[str, list[str]] = defaultdict(list)
    for name, group in groups.items():
        for word in group.words:
            if " " not in word:
                out[word].append(name)
    return out


def _plain(word: SaidWord) -> str:
    return _denied(word, min(word.forms, key=lambda form: (len(form), form)))


def _denied(word: SaidWord, text: str) -> str:
    return f"-{text}" if word.denied else text
