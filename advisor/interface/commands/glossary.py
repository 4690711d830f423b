"""`advisor glossary`: what a word of the trade means, in one or two plain sentences."""

from __future__ import annotations

from advisor import load_knowledge
from advisor.interface.desk.output import write_document, write_page
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.terms import Term, look_up, nearest_terms, terms_of
from advisor.rendering.text import Page

_GRADES = {
    "practice": "common practice, no source",
    "memory": "from memory, to be confirmed",
    "calibrated": "chosen here so that known formulas come right",
    "demo": "invented",
}


def run_glossary(words: list[str], as_json: bool) -> int:
    """Print one term, or all of them where no word is given; exit 1 where no term has that word."""
    knowledge = load_knowledge()
    wanted = " ".join(words).strip()
    entries = terms_of(knowledge)
    found = look_up(wanted, entries) if wanted else entries
    near = () if found else nearest_terms(wanted, entries)
    if as_json:
        from advisor.rendering.documents.known import glossary_document

        write_document(glossary_document(found, near, knowledge))
    else:
        write_page(_page(found, knowledge) if found else _none(wanted, near))
    return 0 if found else 1


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
