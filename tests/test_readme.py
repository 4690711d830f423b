"""What README.md shows is what is printed, and what DEVELOPERS.md teaches to write is accepted."""

from __future__ import annotations

import doctest
import json
import re
import shutil
from pathlib import Path

import pytest
from readme_commands import README, Shown, blocks, difference, set_up_commands, shown_commands

from advisor.api.linted import process_fields, words_of_code
from advisor.diagnosis.pipeline import Examiner
from advisor.formula.reading import read_formula_text
from advisor.interface.commands.command_line import main
from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge, read_knowledge
from advisor.knowledge_base.places import Places
from advisor.knowledge_base.reading import read_entries
from advisor.knowledge_base.rule_entries import Rule
from advisor.knowledge_base.strict_yaml import parse_yaml
from advisor.linting.checking import lint_knowledge
from advisor.remedy.assessing import Advisor
from advisor.rendering.documents.kinds import KINDS

TOP = README.parent
DEVELOPERS = TOP / "DEVELOPERS.md"
EXAMPLES = blocks(DEVELOPERS.read_text("utf-8"), "yaml")
CASE_FILES = "tests/cases/"


def file_of(example: str) -> str:
    """The file that an example belongs to, from its first line."""
    return example.partition("\n")[0].removeprefix("# ")


# ---- README


@pytest.mark.parametrize("shown", shown_commands(), ids=lambda shown: shown.command)
def test_what_readme_shows_is_what_is_printed(
    shown: Shown, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    exits = main(shown.arguments)
    printed = capsys.readouterr()
    assert "" == printed.err or shown.exits, "what was found goes to standard output"
    assert shown.exits == exits, printed.out
    assert difference(shown.lines, printed.out) is None


def test_readme_shows_a_check_and_a_diagnosis_with_their_output() -> None:
    assert {"check", "diagnose"} <= {shown.arguments[0] for shown in shown_commands() if shown.lines}


def test_readme_shows_every_command_and_every_schema(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    listed = capsys.readouterr().out.partition("COMMAND\n")[2]
    commands = {line.split()[0] for line in listed.splitlines() if line.startswith("    ") and line[4] != " "}
    shown = [shown.arguments for shown in shown_commands()]
    assert {"check", "lint"} <= commands
    # The page goes on until it is stopped: it is the third of the set-up commands.
    assert commands == {arguments[0] for arguments in shown} - {"--schema"} | {"open"}
    assert set(KINDS) == {arguments[1] for arguments in shown if "--schema" == arguments[0]}


def test_python_in_readme_does_what_it_shows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(TOP)
    (session,) = blocks(README.read_text("utf-8"), "pycon")
    test = doctest.DocTestParser().get_doctest(session, {}, "README", str(README), 0)
    assert 4 <= len(test.examples)
    said: list[str] = []
    failed = doctest.DocTestRunner(verbose=False).run(test, out=said.append).failed
    assert 0 == failed, "".join(said)


def test_readme_has_three_set_up_commands_of_one_line() -> None:
    look, open_page, run_tests = set_up_commands()
    for command in (look, open_page, run_tests):
        assert "\n" not in command
        assert command.startswith("python3 -m venv ")
    assert "advisor check canteen-sandwich-loaf" in look
    assert open_page.endswith("advisor open canteen-sandwich-loaf")
    assert run_tests.endswith("python -m pytest")


@pytest.mark.parametrize(
    ("shown", "printed", "differs"),
    [
        (["a", "b"], "a\nb\n", False),
        (["a", "..."], "a\nb\nc\n", False),
        (["...", "c"], "a\nb\nc\n", False),
        (["a", "...", "c"], "a\nb\nc\n", False),
        (["a"], "a\nb\n", True),
        (["a", "c"], "a\nb\nc\n", True),
        (["c", "...", "a"], "a\nb\nc\n", True),
        (["...", "x", "..."], "a\nb\nc\n", True),
    ],
)
def test_lines_may_be_left_out_only_where_the_dots_are(shown: list[str], printed: str, differs: bool) -> None:
    assert differs == (difference(shown, printed) is not None)


# ---- DEVELOPERS


@pytest.fixture(scope="module")
def taught(tmp_path_factory: pytest.TempPathFactory) -> Places:
    """A copy of the knowledge with every example appended to its file."""
    folder = tmp_path_factory.mktemp("taught")
    for name in ("knowledge", "rules"):
        shutil.copytree(TOP / name, folder / name)
    for example in EXAMPLES:
        if not (name := file_of(example)).startswith(CASE_FILES):
            path = folder / name
            assert path.is_file(), name
            path.write_text(path.read_text("utf-8").rstrip("\n") + "\n" + example, "utf-8")
    return Places(knowledge=folder / "knowledge", rules=folder / "rules")


@pytest.fixture(scope="module")
def taught_advisor(taught: Places) -> Advisor:
    return Advisor(Examiner(read_knowledge(taught)))


def case_examples() -> list[dict]:
    texts = [example for example in EXAMPLES if file_of(example).startswith(CASE_FILES)]
    return [dict(case) for text in texts for case in parse_yaml(text, "DEVELOPERS.md").data]


def test_developers_shows_how_to_add_each_kind() -> None:
    kinds = {file_of(example).rpartition("/")[0] or file_of(example) for example in EXAMPLES}
    assert {"knowledge", "knowledge/ingredients", "rules/handling", "tests/cases/sound"} == kinds
    single = {Path(file_of(example)).stem for example in EXAMPLES}
    assert {
        "causes", "links", "questions", "levers", "rescues", "sources", "fibres", "mixing", "gluten_egg",
    } == single  # fmt: skip


def test_the_linter_has_nothing_to_say_to_the_examples(knowledge: Knowledge, taught: Places) -> None:
    """Nothing that it would not say of the knowledge without them."""

    def said(of: Knowledge) -> set[tuple[str, str]]:
        found: tuple[Finding, ...] = lint_knowledge(
            of, taught, process=process_fields(), read_by_code=words_of_code()
        )
        return {(finding.check, finding.message) for finding in found}

    assert set() == said(read_knowledge(taught)) - said(knowledge)


def test_the_example_ingredient_and_lever_are_used(taught_advisor: Advisor) -> None:
    path = taught_advisor.knowledge.formulas["canteen-sandwich-loaf-excess-water"]
    formula = read_formula_text(path.read_text("utf-8"), taught_advisor.knowledge)
    levers = {proposal.lever for proposal in taught_advisor.check(formula).plans.proposals}
    assert "example-fibre-for-water" in levers


def test_the_example_cause_is_found_by_the_example_rules(taught_advisor: Advisor) -> None:
    path = taught_advisor.knowledge.formulas["ordinary-wheat-tin-loaf"]
    formula = read_formula_text(path.read_text("utf-8"), taught_advisor.knowledge)
    answer = taught_advisor.diagnose(formula, saw=["split_crust"], answers={"proof_covered": "no"})
    assert "skin_dried_in_proof" == answer.examination.diagnosis.causes[0].id
    assert "cover-the-dough" in {proposal.lever for proposal in answer.plans.proposals}


def test_the_example_case_holds(taught_advisor: Advisor) -> None:
    (case,) = case_examples()
    path = TOP / file_of(EXAMPLES[-1])
    others = parse_yaml(path.read_text("utf-8"), path.name).data
    assert isinstance(others, list)
    assert set(case) in [set(other) for other in others]
    answer = taught_advisor.check(read_formula_text(case["text"], taught_advisor.knowledge))
    assert case["structure"] == answer.examination.structure
    assert answer.worst_risk < case["no_symptom_above"]


def test_files_named_in_developers_exist() -> None:
    """The tour leads nowhere when a file was renamed."""
    named = re.findall(r"`((?:advisor|knowledge|rules|tests)/[\w./-]*)`", DEVELOPERS.read_text("utf-8"))
    assert 20 <= len(named)
    for name in named:
        assert (TOP / name).exists(), name
    bare = set(re.findall(r"`(\w+\.(?:py|yaml))`", DEVELOPERS.read_text("utf-8")))
    there = {path.name for folder in ("advisor", "tests") for path in (TOP / folder).rglob("*.*")}
    assert set() == bare - there


def test_a_wrong_example_would_be_refused(tmp_path: Path) -> None:
    """The check above can fail: a key that no rule has is not accepted."""
    (rules,) = [example for example in EXAMPLES if file_of(example).startswith("rules/")]
    path = tmp_path / "rules.yaml"
    path.write_text(rules.replace("because:", "reason:", 1), "utf-8")
    with pytest.raises(KnowledgeFault, match="'reason' is not known"):
        read_entries(path, "rules.yaml", Rule)


def test_schemas_in_readme_are_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["--schema", "check"])
    assert "object" == json.loads(capsys.readouterr().out)["type"]
