"""From what a baker said to symptoms: taken where one reading is clearly ahead, offered where two or three are close.

The symptom that explains the phrase best is heard first; the words that it used up are then no more evidence for
another, so that "sank and burnt" gives two symptoms and "gummy" one. Then all words of the phrase are asked which way
they lean: what clues and words agree on is taken, and what the words alone say only where they are far ahead; where
they differ, both are offered. A wrong symptom is worse than a question, and a question worse than silence on praise.
What each kind of clue is worth, and how far words must lean, stands in knowledge/coefficients.yaml (heard_...).
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from advisor.diagnosis.phrases.clues import (
    PRAISE,
    SUBJECTS,
    TURNING,
    Clue,
    Met,
    PhraseWords,
    read_clue,
    terms_of_groups,
    words_of,
)
from advisor.diagnosis.phrases.leanings import NO_FAULT, Leanings
from advisor.diagnosis.phrases.said_words import SaidWord, forms_of, parts_of, plain_tokens, said_words
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest

_COEFFICIENTS = (
    "heard_clear", "heard_likely", "heard_hint", "heard_against", "heard_further", "heard_torn", "heard_more_words",
    "heard_taken_from", "heard_further_taken_from", "heard_offered_from", "heard_clearly_ahead", "heard_spelt_like",
    "heard_agreed_lead", "heard_leaning_lead", "heard_leaning_besides", "heard_leaning_offered", "heard_no_fault_more",
    "heard_parts_most_words",
)  # fmt: skip
_MOST_OFFERED = 3
_LETTERS = re.compile("[a-z]+")
_SHORTEST_MENDED = 4
"""Letters from which a misspelt word is mended; a shorter one is another word as easily."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """What a phrase says: symptoms taken (surest first), denied ones, and groups of which one may be meant.

    All empty where no symptom fits, so that the phrase is a remark. `mended` are misspelt words and what was read.
    """

    taken: tuple[str, ...] = ()
    denied: tuple[str, ...] = ()
    choices: tuple[tuple[str, ...], ...] = ()
    mended: tuple[tuple[str, str], ...] = ()

    @property
    def nothing(self) -> bool:
        """Say whether no symptom fits."""
        return not (self.taken or self.denied or self.choices)


def _few(*names: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))[:_MOST_OFFERED]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Clues:
    speaks_for: tuple[Clue, ...]
    against: tuple[Clue, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Score:
    symptom: str
    worth: float
    own: frozenset[int]


class PhraseReader:
    """Hears symptoms in phrases; made once for a Knowledge.

    Raises:
        KeyError: a clue names a group that is not there.
        ValueError: a clue without a word to listen for.
    """

    def __init__(self, knowledge: Knowledge) -> None:
        self._worth = {name.removeprefix("heard_"): knowledge.coefficient(name) for name in _COEFFICIENTS}
        self._groups = terms_of_groups(knowledge.word_groups)
        self._clues = {name: self._read(name, knowledge) for name in knowledge.symptoms}
        clues = (c for one in self._clues.values() for c in (*one.speaks_for, *one.against))
        self._listened = frozenset(word for clue in clues for word in words_of(clue))
        self._spellings = sorted(word for word in self._listened if len(word) >= _SHORTEST_MENDED)
        said = Counter(
            w for told in knowledge.told_phrases.values() for text in told.said for w in plain_tokens(text)
        )
        often = (word for word, times in said.items() if times > 2)  # said by one or two, it may be misspelt
        self._known = self._listened | knowledge.plain_words | frozenset(often)
        self._leanings = Leanings(knowledge)
        groups = knowledge.word_groups
        self._praise = (
            read_clue(f"<{PRAISE}>", self._worth["clear"], self._groups) if PRAISE in groups else None
        )
        self._subjects = frozenset(word for name in SUBJECTS if name in groups for word in groups[name].words)
        self._turns = frozenset(groups[TURNING].words) if TURNING in groups else frozenset[str]()

    def hear(self, text: str) -> Heard:
        """Read one phrase; commas, "and" and "but" part its clauses, which may each tell a fault of their own."""
        _, heard = self._hear(text)
        parts = parts_of(text, self._subjects)
        if len(parts) == 1 or len(plain_tokens(text)) > self._worth["parts_most_words"]:
            return heard  # in a long story a clause by itself says less than it means
        taken = tuple(dict.fromkeys(name for part in parts for name in self._plainly(part)))
        offered = [name for group in heard.choices for name in group]
        agreed = set(taken) & {*heard.taken, *offered} if heard.taken else set(taken) <= set(offered)
        if len(taken) < 2 or not agreed or set(taken) & set(heard.denied):
            return heard
        likeliest = (*heard.taken, *(name for name in offered if name in taken), *taken)
        return replace(heard, taken=tuple(dict.fromkeys(likeliest)), choices=())

    def _plainly(self, part: str) -> tuple[str, ...]:
        """Give what clues and all words of a clause agree on: by itself it is too short to be guessed at."""
        clues, judged = self._hear(part)
        return tuple(name for name in judged.taken if name in clues.taken)

    def _hear(self, text: str) -> tuple[Heard, Heard]:
        """Read a phrase as a whole: what clues say of it, and that judged by all its words."""
        mended: dict[str, str] = {}

        def mend(word: str) -> str:
            known = self._mended(word)
            if known != word:
                mended[word] = known
            return known

        words = said_words(text, mend)
        phrase = PhraseWords(words)
        turned = bool(self._turns & set(_LETTERS.findall(text.lower())))
        if not turned and self._praise is not None and phrase.met(self._praise) is not None:
            praised = Heard(mended=tuple(mended.items()))
            return praised, praised  # "chewy, just like I wanted", not "perfect until it sank"
        heard = self._by_clues(phrase, tuple(mended.items()))
        more = 0.0 if turned else self._worth["no_fault_more"]
        return heard, self._judged(heard, words, more) if words else heard

    def _by_clues(self, phrase: PhraseWords, mended: tuple[tuple[str, str], ...]) -> Heard:
        """Hear what clues say."""
        met = {name: self._met(clues.speaks_for, phrase) for name, clues in self._clues.items()}
        against = {name: self._met(self._clues[name].against, phrase) for name, found in met.items() if found}
        taken: list[str] = []
        choices: list[tuple[str, ...]] = []
        used: frozenset[int] = frozenset()
        likened, least = phrase.only_likened, self._worth["offered_from"]
        while (scores := self._scores(met, against, used, likened)) and scores[0].worth >= least:
            best = scores[0]
            rivals = [
                s for s in scores[1:]
                if s.own & best.own and s.worth > best.worth - self._worth["clearly_ahead"]
            ]  # fmt: skip
            sure = best.worth >= self._worth["further_taken_from" if taken else "taken_from"]
            if sure and not rivals:
                taken.append(best.symptom)
            elif sure or not taken:
                near = rivals or [s for s in scores[1:] if s.own & best.own]
                choices.append((best.symptom, *(s.symptom for s in near[: _MOST_OFFERED - 1])))
            used |= best.own.union(*(s.own for s in rivals))
            used |= phrase.likeness_beside(used)
        choices = [left for group in choices if (left := tuple(s for s in group if s not in taken))]
        if all(len(group) == 1 for group in choices) and (taken or self._denied(phrase, frozenset())):
            choices, used = [], frozenset().union(*(m.own for s in taken for m in met[s]))
        denied = self._denied(phrase, used) - set(taken) - {s for group in choices for s in group}
        return Heard(
            taken=tuple(dict.fromkeys(taken)),
            denied=tuple(name for name in self._clues if name in denied),
            choices=tuple(choices),
            mended=mended,
        )

    def _judged(self, heard: Heard, words: Sequence[SaidWord], more: float) -> Heard:
        """Take what clues and words agree on, or what the words say clearly; ask where neither is so.

        `more` is what no fault has in its favour; nothing in a phrase that turns ("lovely, then went soft").
        """
        if heard.nothing and not self._leanings.knows(words):
            return heard
        leaning = self._leanings.of(words)
        no_fault = leaning.pop(NO_FAULT, -math.inf) + more
        ranked = sorted(leaning, key=lambda name: -leaning[name])
        best = ranked[0]

        def lead(names: Iterable[str]) -> float:
            """Say how far the best of these names is before no fault and all other names."""
            return leaning[best] - max(no_fault, *(leaning[name] for name in ranked if name not in names))

        by_clues = (heard.taken or (heard.choices[0] if heard.choices else ()))[:1]
        if no_fault > leaning[best] + (0 if by_clues else -more) or best in heard.denied:
            return replace(heard, taken=(), choices=())
        if best in heard.taken and lead(heard.taken) >= self._worth["agreed_lead"]:
            least = leaning[best] - self._worth["leaning_besides"]
            return replace(heard, taken=tuple(n for n in ranked if n in heard.taken and leaning[n] >= least))
        if lead((best,)) >= self._worth["leaning_lead"]:
            return replace(heard, taken=(best,), choices=())
        if not by_clues and (heard.denied or leaning[best] < math.log(self._worth["leaning_offered"])):
            return heard
        return replace(heard, taken=(), choices=(_few(best, *by_clues, *ranked),))

    def _read(self, name: str, knowledge: Knowledge) -> _Clues:
        symptom, groups = knowledge.symptoms[name], self._groups
        entry = knowledge.symptom_words.get(name)
        likely = (symptom.name.lower(), *symptom.also)
        written = [("likely", text) for text in likely]
        if entry is not None:
            written += [("clear", t) for t in entry.clear] + [("likely", t) for t in entry.likely]
            written += [("hint", t) for t in entry.hint]
        return _Clues(
            speaks_for=tuple(read_clue(text, self._worth[kind], groups) for kind, text in written),
            against=tuple(
                read_clue(t, self._worth["against"], groups) for t in (entry.against if entry else ())
            ),
        )

    def _mended(self, word: str) -> str:
        if len(word) < _SHORTEST_MENDED or word.isdecimal():
            return word
        # "gumy" is no form of "gum" here, but "gummy" misspelt.
        if (forms_of(word) - {word.removesuffix("y")} | {word}) & self._known:
            return word
        near = nearest(word, self._spellings, 1, self._worth["spelt_like"])
        return near[0] if near and near[0][0] == word[0] else word

    def _met(self, clues: Iterable[Clue], phrase: PhraseWords) -> list[Met]:
        return [met for clue in clues if (met := phrase.met(clue)) is not None]

    def _value(self, met: Met) -> float:
        more = self._worth["more_words"] * (len(met.places) - 1)
        return (met.clue.worth + more) * (self._worth["torn"] if met.torn else 1.0)

    def _scores(
        self,
        met: Mapping[str, list[Met]],
        against: Mapping[str, list[Met]],
        used: frozenset[int],
        likened: Callable[[frozenset[int]], bool],
    ) -> list[_Score]:
        """Weigh what is left of the evidence, most first; of the clues after the best each counts a part.

        What is only said as a likeness comes last: "waisted like an egg timer" is a waist and no egg.
        """
        scores = []
        for name, found in met.items():
            left = sorted((m for m in found if not m.own & used), key=self._value, reverse=True)
            if not left or max(one.clue.worth for one in left) < self._worth["likely"]:
                continue  # hints alone say nothing
            # What speaks against it must stand in its clause: "smells of beer and tastes sour" is both.
            contrary = [self._value(m) for m in against[name] if m.clauses & left[0].clauses]
            worth, heard, own = -max(contrary, default=0.0), frozenset[int](), left[0].own
            for n, one in enumerate(left):
                if one.own - heard:
                    worth += self._value(one) * (1.0 if n == 0 else self._worth["further"])
                heard |= one.own
                if one.clue.worth >= self._worth["likely"]:  # a hint claims no word for itself
                    own |= one.own
            scores.append(_Score(symptom=name, worth=worth, own=own))
        return sorted(scores, key=lambda s: (likened(s.own), -s.worth))

    def _denied(self, phrase: PhraseWords, used: frozenset[int]) -> set[str]:
        """Symptoms that one denied word or phrase would have said by itself: "not burnt"."""
        out = set()
        for name, clues in self._clues.items():
            for clue in clues.speaks_for:
                if len(clue.terms) == 1 and clue.worth >= self._worth["likely"]:
                    met = phrase.met(clue, denied=True)
                    if (
                        met is not None
                        and not met.own & used
                        and all(phrase.words[p].denied for p in met.own)
                    ):
                        out.add(name)
        return out
