"""Which way the words of a phrase lean, by the clues in which they stand and by what people said.

A clue is met whole or not at all. Most of what a baker says meets none whole, but its words still lean one way:
"chisel" and "tin" were only ever said of a loaf that sticks. What may lean are words, the groups they are in, two words
in a row, and three or four letters in a row, which stand for stems and spellings; what is rare counts more, and a long
phrase no more than a short one (weights by inverse frequency, each phrase of length one). Two readings are added: how
often each mark stands in what was said of one symptom against what was said of all (naive Bayes), and how near the
phrases are that were said of it (a sum of steep likenesses). Both are common practice for sorting texts, no source.
"""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from advisor.diagnosis.phrases.clues import PRAISE
from advisor.diagnosis.phrases.said_words import SaidWord, said_words
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.phrase_entries import WordGroup

if TYPE_CHECKING:
    from numpy.typing import NDArray

NO_FAULT = ""
"""Stands for praise, and for what no symptom stands for."""
_GROUP = re.compile(r"(not )?<([a-z_]+)>")
_RARE = 0.02
"""Added to how often anything was said, so that nothing is divided by nought."""
_LETTERS = (3, 4)


class Leanings:
    """How much each word speaks for each symptom; made once for a Knowledge."""

    def __init__(self, knowledge: Knowledge) -> None:
        import numpy as np  # heavy, and only needed here

        self._groups = _groups_by_word(knowledge.word_groups)
        smoothing = knowledge.coefficient("heard_smoothing")
        self._steepness = knowledge.coefficient("heard_steepness")
        self._nearness = knowledge.coefficient("heard_nearness")
        examples = list(_examples(knowledge))
        marks = {text: self._marks_of_text(text) for _, text, _ in examples}
        self._names = list(dict.fromkeys(name for name, _, _ in examples))
        self._columns = {
            mark: n for n, mark in enumerate(dict.fromkeys(m for s in marks.values() for m in s))
        }
        place = {name: n for n, name in enumerate(self._names)}
        self._symptom = np.array([place[name] for name, _, _ in examples])
        self._weight = np.array([weight for _, _, weight in examples])
        rows = np.repeat(np.arange(len(examples)), [len(marks[text]) for _, text, _ in examples])
        columns = np.array([self._columns[mark] for _, text, _ in examples for mark in marks[text]])
        met = np.bincount(columns, minlength=len(self._columns))
        self._kinds = {
            "#": knowledge.coefficient("heard_letters_count"),
            "<": knowledge.coefficient("heard_groups_count"),
        }
        self._rarest = float(np.log(len(examples) + 1)) + 1
        kind = np.array([self._counts(mark) for mark in self._columns])
        self._rarity = kind * (self._rarest - np.log(met + 1))
        worth = self._rarity[columns]
        worth /= np.sqrt(np.bincount(rows, worth**2, len(examples)))[rows]
        size = (len(self._names), len(self._columns))
        cells = np.ravel_multi_index((self._symptom[rows], columns), size)
        counts = np.bincount(cells, worth * self._weight[rows], size[0] * size[1]).reshape(size)
        share = (counts.sum(axis=0) + _RARE) / counts.sum()
        said = counts.sum(axis=1, keepdims=True)
        added = smoothing * said.mean()
        self._speaks = np.log((counts + added * share) / ((said + added) * share))
        by_mark = np.argsort(columns, kind="stable")
        self._rows, self._worth = rows[by_mark], worth[by_mark]
        self._starts = np.searchsorted(columns[by_mark], np.arange(len(self._columns) + 1))

    def of(self, words: Sequence[SaidWord]) -> dict[str, float]:
        """Give how far the words lean to each symptom and to no fault, as logarithms of shares that add up to one."""
        import numpy as np

        marks = self._marks(words)
        columns = np.array([self._columns[m] for m in marks if m in self._columns], dtype=int)
        unknown = sum((self._counts(m) * self._rarest) ** 2 for m in marks if m not in self._columns)
        worth = self._rarity[columns]
        worth = worth / max(float(np.sqrt((worth**2).sum() + unknown)), 1.0)
        likeness = np.zeros(len(self._symptom))
        for column, one in zip(columns, worth, strict=True):
            among = slice(self._starts[column], self._starts[column + 1])
            likeness[self._rows[among]] += one * self._worth[among]
        steep = self._weight * np.expm1(self._steepness * likeness)
        near = np.log1p(np.bincount(self._symptom, steep, len(self._names)))
        leaning: NDArray[np.float64] = self._speaks[:, columns] @ worth / 2 + self._nearness * near
        leaning -= np.log(np.exp(leaning - leaning.max()).sum()) + leaning.max()
        return dict(zip(self._names, leaning.tolist(), strict=True))

    def knows(self, words: Sequence[SaidWord]) -> bool:
        """Whether any word of a phrase was ever said of a symptom: letters alone are no ground for a reading."""
        return any(mark in self._columns for mark in self._marks(words) if not mark.startswith("#"))

    def _counts(self, mark: str) -> float:
        return self._kinds.get(mark.removeprefix("-")[0], 1.0)

    def _marks(self, words: Sequence[SaidWord]) -> set[str]:
        """Give all that may lean: words, groups in angle brackets, two words in a row in either order, letters."""
        telling = [word for word in words if not (word.filling or word.text.isdecimal())]
        marks = {_plain(word) for word in telling}
        for word in telling:
            for form in word.forms:
                marks.update(_denied(word, f"<{group}>") for group in self._groups.get(form, ()))
        for one, other in itertools.pairwise(telling):
            if one.clause == other.clause:
                marks.add(" ".join(sorted((_plain(one), _plain(other)))))
        for word in (word for word in words if not word.text.isdecimal()):
            whole = f"_{word.text}_"
            marks.update(f"#{whole[at : at + n]}" for n in _LETTERS for at in range(len(whole) - n + 1))
        return marks

    def _marks_of_text(self, text: str) -> set[str]:
        groups = {f"{'-' if no else ''}<{name}>" for no, name in _GROUP.findall(text)}
        plain = _GROUP.sub(" ", text).replace("...", " ").replace("+", " ")
        return groups | self._marks(said_words(plain, str))


def _examples(knowledge: Knowledge) -> Iterator[tuple[str, str, float]]:
    """Give a symptom, what is said of it, and how much that counts; a phrase of two faults counts half for each."""
    for name, symptom in knowledge.symptoms.items():
        for text in (symptom.name, *symptom.also, symptom.question, symptom.says):
            yield name, text, 1.0
    for name, entry in knowledge.symptom_words.items():
        for text in (*entry.clear, *entry.likely):
            yield name, text, 1.0
    if PRAISE in knowledge.word_groups:
        for text in knowledge.word_groups[PRAISE].words:
            yield NO_FAULT, text, 1.0
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
