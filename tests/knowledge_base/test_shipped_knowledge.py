"""The rules and the knowledge that ship are clean, by every check, with the process and the program known."""

from __future__ import annotations

from advisor.api.linted import process_fields, traits_of_words, words_of_code
from advisor.knowledge_base.knowledge import read_knowledge
from advisor.knowledge_base.places import find_places
from advisor.linting.checking import lint_knowledge


def test_the_linter_finds_nothing_in_what_ships() -> None:
    places = find_places()
    found = lint_knowledge(
        read_knowledge(places),
        places,
        process=process_fields(),
        read_by_code=words_of_code(),
        traits_of_words=traits_of_words(),
    )
    assert [] == [str(finding) for finding in found]
