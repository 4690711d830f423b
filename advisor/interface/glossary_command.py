"""`advisor glossary`: what a word of the trade means, in one or two plain sentences."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import dataclass

from advisor import load_knowledge
from advisor.interface.escaping import shown
from advisor.interface.json_form import Json, head
from advisor.interface.output import write_json, write_page
from advisor.interface.page import Page
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.plain_words import bases, words_in

_NEAREST = 5
_CUTOFF = 0.6  # below it what is offered has little more in common than its length
_GRADES = {
    "practice": "common practice, no source",
    "memory": "from memory, to be confirmed",
    "calibrated": "chosen here so that known formulas come right",
    "demo": "invented",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """Something a page may say: a word of the glossary, a measure or a structure; a measure has a unit and no grade."""

    kind: str
    word: str
    says: str
    also: tuple[str, ...] = ()
    unit: str | None = None
    grade: str | None = None
    sources: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """All that it is called, in small letters."""
        return tuple(name.casefold() for name in (self.word, *self.also))


def terms_of(knowledge: Knowledge) -> tuple[Term, ...]:
    """Every term, by its first letter; where the glossary has the name of a measure, the glossary speaks."""
    terms = {term.word.casefold(): term for term in _terms(knowledge)}
    return tuple(terms[name] for name in sorted(terms))


def _terms(knowledge: Knowledge) -> Iterator[Term]:
    for name, measure in knowledge.measures.items():
        also = tuple({name.replace("_", " "): None} if name.replace("_", " ") != measure.name else ())
        yield Term(kind="measure", word=measure.name, says=measure.says, also=also, unit=measure.unit)
    for structure in knowledge.structures.values():
        yield Term(
            kind="structure", word=structure.name, says=structure.says, grade=structure.grade,
            sources=structure.sources,
        )  # fmt: skip
    for word in knowledge.glossary.values():
        yield Term(
            kind="term",
            word=word.word,
            says=word.says,
            also=word.also,
            grade=word.grade,
            sources=word.sources,
        )


def run_glossary(words: list[str], as_json: bool) -> int:
    """Print one term, or all of them where no word is given; exit 1 where no term has that word."""
    knowledge = load_knowledge()
    wanted = " ".join(words).strip()
    entries = terms_of(knowledge)
    found = look_up(wanted, entries) if wanted else entries
    near = () if found else nearest(wanted, entries)
    if as_json:
        terms: list[Json] = [_json(entry, knowledge) for entry in found]
        offered: list[Json] = [*near]
        write_json(head("glossary") | {"words": terms, "nearest": offered})
    else:
        write_page(_page(found, knowledge) if found else _none(wanted, near))
    return 0 if found else 1


def look_up(wanted: str, entries: tuple[Term, ...]) -> tuple[Term, ...]:
    """Terms that are called just that; else those that are in another form (proofed), else those that hold the word."""
    plain = " ".join(wanted.casefold().split())
    exact = tuple(e for e in entries if plain in e.names)
    if exact:
        return exact
    forms = _forms(wanted)
    alike = tuple(e for e in entries if any(_same_words(forms, name) for name in e.names))
    if alike or not forms:
        return alike
    return tuple(e for e in entries if _holds(forms, e))


def _forms(text: str) -> list[frozenset[str]]:
    return [bases(word) for word in words_in(text.replace("-", " "))]


def _same_words(forms: list[frozenset[str]], name: str) -> bool:
    others = _forms(name)
    return (
        len(forms) == len(others) and bool(forms) and all(a & b for a, b in zip(forms, others, strict=True))
    )


def _holds(forms: list[frozenset[str]], entry: Term) -> bool:
    own = [form for name in entry.names for form in _forms(name)]
    return all(any(form & other for other in own) for form in forms)


def nearest(wanted: str, entries: tuple[Term, ...]) -> tuple[str, ...]:
    """Terms that are spelt most like a word, the nearest first."""
    owners = {name: entry.word for entry in entries for name in entry.names}
    near = difflib.get_close_matches(wanted.casefold(), owners, n=_NEAREST, cutoff=_CUTOFF)
    return tuple(dict.fromkeys(owners[name] for name in near))


def _page(found: tuple[Term, ...], knowledge: Knowledge) -> str:
    page = Page()
    for entry in found:
        page.blank()
        page.paragraph(entry.word)
        page.paragraph(entry.says, 2)
        if entry.also:
            page.paragraph(f"also: {', '.join(entry.also)}", 2, 4)
        for key in entry.sources:
            page.paragraph(f"source: {knowledge.sources[key].cites}", 2, 4)
        if entry.unit is not None:
            unit = "" if entry.unit == "-" else f", in {entry.unit}"
            page.paragraph(f"worked out from the formula{unit}", 2, 4)
        elif entry.grade in _GRADES:
            page.paragraph(_GRADES[entry.grade], 2, 4)
    return page.text()


def _none(wanted: str, near: tuple[str, ...]) -> str:
    page = Page()
    hint = f"Did you mean {' or '.join(near)}?" if near else "'advisor glossary' lists every term."
    page.paragraph(f"No term '{shown(wanted)}'. {hint}")
    return page.text()


def _json(entry: Term, knowledge: Knowledge) -> Json:
    also: list[Json] = [*entry.also]
    sources: list[Json] = [{"key": key, "cites": knowledge.sources[key].cites} for key in entry.sources]
    return {
        "kind": entry.kind,
        "word": entry.word,
        "also": also,
        "says": entry.says,
        "unit": entry.unit,
        "grade": entry.grade,
        "sources": sources,
    }
