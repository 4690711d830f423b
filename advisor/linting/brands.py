"""Does a text name a maker? Marks, addresses, and words written like a name where a sentence has none."""

from __future__ import annotations

import re

from advisor.knowledge_base.plain_words import PlainWords, read_plain_words, words_in
from advisor.linting.report import Report
from advisor.linting.words import PLAIN_WORDS, texts_shown

_MARKS = re.compile(r"\((?:R|TM|C|r|tm)\)|\b(?:TM|Inc|Ltd|LLC|GmbH|Corp)\b\.?")
_ADDRESS = re.compile(r"https?:|www\.|\b[\w-]+\.(?:com|net|org|info|co\.uk|de|eu)\b", re.IGNORECASE)
_INNER_CAPITAL = re.compile(r"\b[A-Za-z]*[a-z][A-Z]\w*")
_WITHIN = re.compile(r"(?<=[a-z0-9,;)] )[A-Z][\w'’-]*")
"""A word with a capital that starts no sentence."""


def check_brands(report: Report) -> None:
    """Find what looks like a brand in texts that bakers are shown and in the names of ingredients."""
    try:
        listed = read_plain_words(report.places.knowledge / PLAIN_WORDS).as_written
        plain = PlainWords(listed | report.knowledge.plain_words)
    except OSError:
        plain = PlainWords(())  # another check says that the list is missing
    terms = (t for entry in report.knowledge.glossary.values() for t in (entry.word, *entry.also))
    allowed = plain.as_written | {word for term in terms for word in words_in(term)}
    for kind, name, text in texts_shown(report.knowledge):
        if found := looks_like_brand(text, allowed):
            message = f"'{found}' looks like a brand: use the plain name, or list it in {PLAIN_WORDS}"
            report.add(kind, name, "brand", message)
    for name, entry in report.knowledge.ingredients.items():
        for text in (entry.name, *entry.also):
            if found := _marked(text):
                report.add("ingredient", name, "brand", f"'{found}' looks like a brand: use the plain name")


def _marked(text: str) -> str:
    found = _MARKS.search(text) or _ADDRESS.search(text) or _INNER_CAPITAL.search(text)
    return found.group() if found else ""


def looks_like_brand(text: str, allowed: frozenset[str]) -> str:
    """Give the first part of a text that looks like a brand; empty where nothing does.

    Letters alone (C, U) and words all in capitals that are allowed with theirs are no names.
    """
    bare = re.sub(r"\{[^}]*\}", "0", text)
    if found := _marked(bare):
        return "" if found in allowed else found
    for match in _WITHIN.finditer(bare):
        word = match.group().removesuffix("'s").removesuffix("’s")
        if len(word) > 1 and word not in allowed:
            return word
    return ""
