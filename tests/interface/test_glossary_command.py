"""`advisor glossary`: one term, all terms, and what is near where there is no such term."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from advisor.interface.commands import glossary as glossary_command
from advisor.interface.commands.command_line import main
from advisor.knowledge_base.knowledge import read_knowledge
from advisor.knowledge_base.places import Places, find_places
from advisor.knowledge_base.terms import terms_of
from advisor.rendering.documents.schemas import schema_of

SMALL = Path(__file__).parent.parent / "linting" / "small"
MORE = (
    '- {word: proof, also: [prove, proved], says: "The rise before the oven.", grade: published, '
    "sources: [handbook]}\n"
    '- {word: oven spring, says: "The rise in the oven.", grade: memory}\n'
    '- {word: egg-set loaf, says: "Egg holds it.", grade: practice}\n'
)


@pytest.fixture(autouse=True)
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    top = tmp_path / "kitchen"
    shutil.copytree(SMALL, top)
    with (top / "knowledge" / "glossary.yaml").open("a") as file:
        file.write(MORE)
    knowledge = read_knowledge(Places(knowledge=top / "knowledge", rules=top / "rules"))
    monkeypatch.setattr(glossary_command, "load_knowledge", lambda: knowledge)
    monkeypatch.setenv("COLUMNS", "80")


PROOF = (
    "proof\n"
    "The rise before the oven.\n"
    "Also: prove, proved.\n"
    "Source: An invented handbook for tests\n"
)  # fmt: skip


@pytest.mark.parametrize("word", ["proof", "PROOF", " proved ", "proofs", "proving"])
def test_a_term_is_found_by_its_name_another_name_or_a_form(
    word: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 0 == main(["glossary", word])
    assert PROOF == capsys.readouterr().out


@pytest.mark.parametrize("words", [["oven", "spring"], ["oven spring"], ["spring"], ["oven-spring"]])
def test_a_term_of_two_words_needs_no_quotes(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["glossary", *words])
    assert "oven spring\nThe rise in the oven.\nFrom memory, to be confirmed.\n" == capsys.readouterr().out


@pytest.mark.parametrize("words", [["water", "load"], ["baked_water_load"], ["baked", "water", "load"]])
def test_a_measure_is_a_term(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["glossary", *words])
    assert "water load\nWater over what the loaf holds.\n" in capsys.readouterr().out


def test_a_measure_says_its_unit(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["glossary", "setting protein"])
    assert capsys.readouterr().out.endswith("\nWorked out from the formula, in %.\n")


def test_where_a_structure_has_the_name_of_a_term_the_glossary_speaks(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert 0 == main(["glossary", "egg-set loaf"])
    assert "egg-set loaf\nEgg holds it.\nCommon practice, no source.\n" == capsys.readouterr().out


def test_without_a_word_every_term_stands_in_order(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["glossary"])
    heads = [part.splitlines()[0] for part in capsys.readouterr().out.split("\n\n")]
    assert [
        "crumb",
        "egg-set loaf",
        "oven spring",
        "proof",
        "setting protein",
        "time to set",
        "water load",
    ] == heads


def test_an_unknown_word_offers_the_nearest_and_is_no_success(capsys: pytest.CaptureFixture[str]) -> None:
    assert 1 == main(["glossary", "crumd"])
    assert "No term 'crumd'. Did you mean crumb?\n" == capsys.readouterr().out


@pytest.mark.parametrize("word", ["marzipan", "!?", "a\x1b[2Jb"])
def test_a_word_like_nothing_else(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert 1 == main(["glossary", word])
    page = capsys.readouterr().out
    assert page.endswith("'advisor glossary' lists every term.\n")
    assert "\x1b" not in page


@pytest.mark.parametrize(
    ("words", "code", "found", "near"),
    [(["proved"], 0, ["proof"], []), (["prooof"], 1, [], ["proof"]), (["marzipan"], 1, [], [])],
)
def test_json_follows_its_schema(
    words: list[str], code: int, found: list[str], near: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert code == main(["glossary", *words, "--json"])
    document = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, schema_of("glossary"))
    assert found == [term["word"] for term in document["words"]]
    assert near == document["nearest"]


def test_json_of_all_terms_has_kinds_units_and_citations(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["glossary", "--json"])
    document = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, schema_of("glossary"))
    terms = {term["word"]: term for term in document["words"]}
    assert ("measure", "%", None) == tuple(terms["setting protein"][k] for k in ("kind", "unit", "grade"))
    assert [{"key": "handbook", "cites": "An invented handbook for tests"}] == terms["proof"]["sources"]


@pytest.mark.parametrize("columns", [40, 60])
def test_no_line_is_wider_than_the_terminal(
    columns: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    main(["glossary"])
    assert max(map(len, capsys.readouterr().out.splitlines())) <= columns


def test_what_ships_explains_each_term_in_a_sentence_or_two() -> None:
    knowledge = read_knowledge(find_places())
    for term in terms_of(knowledge):
        assert term.says.rstrip().endswith("."), term.word
    for entry in knowledge.glossary.values():
        assert entry.says.count(". ") <= 3, entry.word


def test_the_command_reaches_the_glossary(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["glossary", "proof"])
    assert PROOF == capsys.readouterr().out
