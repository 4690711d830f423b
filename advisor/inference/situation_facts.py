"""A situation as the facts that rules read.

What is not known makes no fact: a measure without a value, a symptom nobody looked for. A trait that no line
has is known to be 0 g, and a process field that the formula does not state is known not to be stated.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from advisor.inference.condition_reading import to_six_decimals
from advisor.inference.engine import Fact
from advisor.inference.rule_book import RuleBook
from advisor.inference.rule_compiler import BAND_NUMBER, millionths
from advisor.inference.situation import Judged, Situation


def _numbers(kind: str, values: Mapping[str, float]) -> Iterator[Fact]:
    for name, value in values.items():
        yield Fact(f"{kind}_{name}", millionths(to_six_decimals(value, name)))


def _words(kind: str, words: Mapping[str, str], book: RuleBook) -> Iterator[Fact]:
    for name, word in words.items():
        number = book.vocabulary.number(word)
        if number is not None:
            yield Fact(f"{kind}_{name}", number)


def known_facts(situation: Situation, book: RuleBook) -> list[Fact]:
    """Give what is known before any rule has run, in a fixed order; only facts that some rule reads.

    Raises:
        SituationFault: when a number is not finite.
    """
    found = [*_numbers("measure", situation.measures), *_numbers("process", situation.process_numbers)]
    found += _numbers("trait", situation.traits)
    found += _words("word", situation.process_words, book)
    found += _words("answer", situation.answers, book)
    found += [Fact(f"symptom_{name}", int(seen)) for name, seen in situation.symptoms.items()]
    found += [Fact(key, 0) for key, name in book.read_traits.items() if name not in situation.traits]
    found += [Fact(key, int(name in situation.stated)) for key, name in book.read_stated.items()]
    return sorted(fact for fact in found if fact.key in book.read_keys)


def judged_facts(judged: Mapping[str, Judged], structures: Mapping[str, float], above: float) -> list[Fact]:
    """Give where measures lie in their bands, and the structures that hold: heavier than `above`."""
    found = [Fact(f"band_{name}", BAND_NUMBER[found.state]) for name, found in judged.items()]
    found += [Fact(f"structure_{name}", 1) for name, weight in structures.items() if weight > above]
    return sorted(found)
