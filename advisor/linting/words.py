"""Can a newcomer read what bakers are shown: is each word plain, explained in the glossary, or an ingredient?"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.plain_words import PlainWords, bases, read_plain_words, words_in
from advisor.linting.report import Report

PLAIN_WORDS = "plain_words.txt"
Text = tuple[str, str, str]
"""Kind and id of an entry, and a text of it."""


def texts_shown(knowledge: Knowledge) -> Iterator[Text]:
    """Every text of the knowledge that a baker is shown; notes and blind spots are for who mends the knowledge."""
    for name, cause in knowledge.causes.items():
        yield from (("cause", name, text) for text in (cause.name, cause.says, cause.no_lever or ""))
    for name, mechanism in knowledge.mechanisms.items():
        yield from (("mechanism", name, text) for text in (mechanism.name, mechanism.says))
    for name, symptom in knowledge.symptoms.items():
        for text in (symptom.name, symptom.question, symptom.says, symptom.look):
            yield "symptom", name, text
    for name, rule in knowledge.rules.items():
        yield "rule", name, rule.because
        yield from (("rule", name, then.reminder) for then in rule.then if then.reminder)
    for name, lever in knowledge.levers.items():
        yield from (("lever", name, text) for text in (lever.says, lever.because, lever.turn.do or ""))
    for name, question in knowledge.questions.items():
        yield from (
            ("question", name, t) for t in (question.question, question.because, *question.answers.values())
        )
    for name, caution in knowledge.cautions.items():
        yield from (
            ("caution", name, text) for text in (caution.short, caution.text, caution.defers_to or "")
        )
    for name, rescue in knowledge.rescues.items():
        yield from (("rescue", name, text) for text in (rescue.says, rescue.because, rescue.mind or ""))
    for name, unstated in knowledge.unstated.items():
        yield from (("unstated field", name, text) for text in (unstated.asks, unstated.took))
    for name, bound in knowledge.sanity.items():
        yield ("bound", name, bound.says)
    for name, style in knowledge.styles.items():
        yield "style", name, style.name
        yield from (("style", name, part.for_) for part in style.parts.values() if part.for_)
    for name, part_of_dough in knowledge.dough_parts.items():
        yield "part of a dough", name, part_of_dough.name
    for name, slip in knowledge.hand_slips.items():
        yield from (("hand slip", name, text.replace("{line}", "")) for text in (slip.says, slip.asks or ""))
    for name, gap in knowledge.not_judged.items():
        yield "gap", name, gap.what
    for name, measure in knowledge.measures.items():
        yield from (("measure", name, text) for text in (measure.name, measure.says))
    for name, structure in knowledge.structures.items():
        yield from (("structure", name, text) for text in (structure.name, structure.says))
    for name, kind in knowledge.protein_classes.items():
        yield from (("protein class", name, text) for text in (kind.name, kind.says))
    for name, trait in knowledge.traits.items():
        yield "trait", name, trait.says
    for name, word in knowledge.glossary.items():
        yield "word", name, word.says
    for name, lesson in knowledge.lessons.items():
        yield from (("lesson", name, text) for text in (lesson.title, lesson.says, lesson.remember))
        for asked in lesson.questions:
            choices = (choice.says for choice in asked.choices)
            yield from (("lesson", name, text) for text in (asked.ask, asked.because, *choices))


class _Explained:
    """Terms of the glossary and words of ingredients' names, matched in any regular form."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.single: set[str] = set()
        self.phrases: dict[str, list[tuple[frozenset[str], ...]]] = {}
        """Terms of several words, longest first, by every form of their first word."""
        for entry in knowledge.glossary.values():
            for term in (entry.word, *entry.also):
                words = words_in(term)
                if len(words) == 1:
                    self.single |= bases(words[0])
                elif words:
                    phrase = tuple(bases(word) for word in words)
                    for first in phrase[0]:
                        self.phrases.setdefault(first, []).append(phrase)
        for some in self.phrases.values():
            some.sort(key=len, reverse=True)
        names = (name for entry in knowledge.ingredients.values() for name in (entry.name, *entry.also))
        for word in (word for name in names for word in words_in(name)):
            self.single.update(bases(word), *(bases(part) for part in word.split("-")))

    def left(self, words: tuple[str, ...]) -> Iterator[str]:
        """Words that stand in no phrase of the glossary and are no single term."""
        at = 0
        simple = [bases(word) for word in words]
        while at < len(words):
            likely = [p for first in simple[at] for p in self.phrases.get(first, ())]
            fitting = [p for p in likely if len(p) <= len(words) - at and _matches(p, simple[at:])]
            if fitting:
                at += max(map(len, fitting))
                continue
            if not simple[at] & self.single:
                yield words[at]
            at += 1


def _matches(phrase: tuple[frozenset[str], ...], words: list[frozenset[str]]) -> bool:
    return all(word & term for word, term in zip(words, phrase, strict=False))


def check_words(report: Report) -> None:
    """Find words that are neither plain nor explained, and terms that two glossary entries explain."""
    _terms(report)
    path = report.places.knowledge / PLAIN_WORDS
    try:
        plain = PlainWords(read_plain_words(path).as_written | report.knowledge.plain_words)
    except OSError:
        first = next(iter(report.knowledge.glossary), "")
        report.add("word", first, "word", f"no {PLAIN_WORDS} beside the glossary: no word can be looked up")
        return
    explained = _Explained(report.knowledge)
    told: set[tuple[str, str, str]] = set()
    for kind, name, text in texts_shown(report.knowledge):
        for word in explained.left(words_in(text)):
            key = (kind, name, word.casefold())
            if key in told or _known(word, plain, explained):
                continue
            told.add(key)
            message = f"'{word}' is not plain: explain it in glossary.yaml, or use a word of {PLAIN_WORDS}"
            report.add(kind, name, "word", message)


def _known(word: str, plain: PlainWords, explained: _Explained) -> bool:
    parts = word.split("-")
    return word in plain or (
        len(parts) > 1 and all(p in plain or p.isdigit() or bases(p) & explained.single for p in parts)
    )


def _terms(report: Report) -> None:
    owners: dict[str, str] = {}
    for name, entry in report.knowledge.glossary.items():
        for term in dict.fromkeys(t.casefold() for t in (entry.word, *entry.also)):
            if (first := owners.setdefault(term, name)) != name:
                where = report.knowledge.where("word", first)
                report.add("word", name, "word", f"'{term}' is explained already by {first} at {where}")
