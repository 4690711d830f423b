"""`advisor lint`: one line a finding, a closing line, and an exit code that a build can use."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from advisor.api.linted import process_fields, traits_of_words
from advisor.interface.commands import lint as lint_command
from advisor.interface.commands.command_line import main
from advisor.knowledge_base.places import Places
from advisor.rendering.documents.schemas import schema_of

SMALL = Path(__file__).parent.parent / "linting" / "small"


@pytest.fixture
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the small clean knowledge that the command takes for the real one."""
    top = tmp_path / "kitchen"
    shutil.copytree(SMALL, top)
    places = Places(knowledge=top / "knowledge", rules=top / "rules")
    monkeypatch.setattr(lint_command, "find_places", lambda: places)
    return top


def test_a_clean_knowledge_says_what_was_read(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["lint"])
    expected = (
        "clean: 7 rules, 2 causes, 2 symptoms, 4 links, 1 levers, 5 ingredients, 2 bands, 1 sources read\n"
    )
    assert expected == capsys.readouterr().out


def test_a_finding_is_a_line_with_its_place(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with (small / "knowledge" / "traits.yaml").open("a") as file:
        file.write('- {id: idle, says: "Does nothing."}\n')
    assert 1 == main(["lint"])
    expected = "knowledge/traits.yaml:2 orphan idle: no rule, lever or model reads this trait\n1 finding\n"
    assert expected == capsys.readouterr().out


def test_files_that_cannot_be_read_are_findings_too(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (small / "knowledge" / "traits.yaml").write_text("- {id: swelling, sayz: on}\n")
    assert 1 == main(["lint"])
    expected = "knowledge/traits.yaml:1 yaml write true or false, or put quotes around 'on'\n1 finding\n"
    assert expected == capsys.readouterr().out


def test_what_the_rule_compiler_refuses_stands_at_the_rule(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with (small / "rules" / "hydration" / "water.yaml").open("a") as file:
        file.write(
            "- id: too-late\n"
            "  when: [{suspect: unrested}]\n"
            "  then: [{suspect: excess_water, evidence: weak}]\n"
            '  because: "A suspect cannot lead to a suspect."\n'
            "  grade: practice\n"
        )
    assert 1 == main(["lint"])
    assert (
        "rules/hydration/water.yaml:38 engine too-late: reads a suspect, so it may conclude only caution, "
        "reminder or ask" in capsys.readouterr().out
    )


def test_json_follows_its_schema(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["lint", "--json"])
    clean = json.loads(capsys.readouterr().out)
    (small / "knowledge" / "traits.yaml").write_text("- {id: swelling}\n")
    assert 1 == main(["lint", "--json"])
    broken = json.loads(capsys.readouterr().out)
    for document in (clean, broken):
        jsonschema.validate(document, schema_of("findings"))
    assert [] == clean["findings"]
    assert [
        {
            "file": "knowledge/traits.yaml",
            "line": 1,
            "check": "shape",
            "message": "swelling: the key 'says' is missing",
        }
    ] == broken["findings"]


def test_the_words_of_the_process_come_from_the_process_itself() -> None:
    fields = process_fields()
    assert fields["rest_min"] is None
    assert fields["slices"] is None
    assert frozenset({"true", "false"}) == fields["oven_fan"]
    assert frozenset({"tin", "round", "free_standing", "rolls", "flat"}) == fields["pan_kind"]
    assert frozenset() == fields["added_last"]


def test_the_graph_is_written_beside_the_findings(
    small: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, start in (("causes.dot", "digraph "), ("causes.mmd", "flowchart LR\n"), ("causes", "digraph ")):
        assert 0 == main(["lint", "--graph", str(tmp_path / name)])
        text = (tmp_path / name).read_text("utf-8")
        assert text.startswith(start)
        assert "cause_excess_water" in text
        assert capsys.readouterr().out.startswith("clean: ")


def test_findings_do_not_keep_the_graph_from_being_drawn(small: Path, tmp_path: Path) -> None:
    with (small / "knowledge" / "traits.yaml").open("a") as file:
        file.write('- {id: idle, says: "Does nothing."}\n')
    assert 1 == main(["lint", "--graph", str(tmp_path / "causes.dot")])
    assert (tmp_path / "causes.dot").is_file()


def test_a_printed_graph_has_standard_output_to_itself(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 0 == main(["lint", "--graph", "-"])
    printed = capsys.readouterr()
    assert printed.out.startswith("digraph ")
    assert printed.out.endswith("}\n")
    assert printed.err.startswith("clean: ")
    assert 2 == main(["lint", "--json", "--graph", "-"])
    assert "both write to standard output" in capsys.readouterr().err


def test_no_graph_is_drawn_of_knowledge_that_cannot_be_read(
    small: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (small / "knowledge" / "traits.yaml").write_text("- {id: swelling, sayz: on}\n")
    assert 1 == main(["lint", "--graph", str(tmp_path / "causes.dot")])
    assert "advisor: no graph is drawn of knowledge that cannot be read\n" == capsys.readouterr().err
    assert not (tmp_path / "causes.dot").exists()


def test_a_graph_that_cannot_be_written_is_a_fault_of_the_command_line(
    small: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 2 == main(["lint", "--graph", str(tmp_path / "missing" / "causes.dot")])
    printed = capsys.readouterr()
    assert "" == printed.out
    assert "cannot be written" in printed.err


def test_traits_of_words_are_those_that_the_reader_of_formulas_sets() -> None:
    assert {"coated", "coarse", "melted"} <= traits_of_words()
