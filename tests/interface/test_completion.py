"""Completion in the shells themselves, and help that tells of every command with an example that runs."""

from __future__ import annotations

import argparse
import re
import shlex
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

from advisor import load_knowledge
from advisor.interface.commands.command_help import MANUALS
from advisor.interface.commands.command_line import build_parser, main
from advisor.interface.commands.completion_scripts import SHELLS, completion_script
from advisor.rendering.documents.kinds import KINDS
from advisor.version import __version__

TOP = Path(__file__).parents[2]
COMMANDS = next(a for a in build_parser()._actions if isinstance(a, argparse._SubParsersAction)).choices


@pytest.fixture(scope="module")
def scripts(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("completion")
    (folder / "my-loaf.txt").write_text("")
    (folder / "my folder").mkdir()
    found = {}
    for shell in SHELLS:
        found[shell] = folder / f"advisor.{shell}"
        found[shell].write_text(completion_script(shell, build_parser()))
    return found


def shell(name: str, script: Path, commands: str) -> list[str]:
    if (program := shutil.which(name)) is None:
        pytest.skip(f"{name} is not on this machine")
    bare = {"bash": ["--norc", "--noprofile"], "zsh": ["-f"], "fish": ["--no-config"]}[name]
    ran = subprocess.run(
        [program, *bare, "-c", commands], capture_output=True, text=True, check=True, cwd=script.parent
    )
    assert "" == ran.stderr
    return sorted(ran.stdout.splitlines())


def completed(name: str, script: Path, line: str) -> list[str]:
    """What a shell offers at the end of a line."""
    if name == "fish":
        asked = f"source {script}; complete -C {shlex.quote(line)}"
        return sorted(offer.split("\t")[0] for offer in shell(name, script, asked))
    words = line.split(" ")
    if name == "bash":
        asked = (
            f"source {script}; COMP_WORDS=({' '.join(words[:-1])} {shlex.quote(words[-1])}); "
            f"COMP_CWORD={len(words) - 1}; _advisor; printf '%s\\n' \"${{COMPREPLY[@]}}\""
        )
        return [word for word in shell(name, script, asked) if word]
    # Outside its line editor zsh completes nothing: the part that chooses the words is called as it is by the editor.
    asked = (
        f"compdef() {{ : }}; source {script}; local command option words files; "
        f"_advisor_where {' '.join(words[1:-1])}; "
        f'_advisor_words "$command" "$option" {shlex.quote(words[-1])}; print -l -- ${{=words}}'
    )
    return [word for word in shell(name, script, asked) if word.startswith(words[-1]) and word]


@pytest.mark.parametrize("name", SHELLS)
@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("advisor di", {"diagnose", "differ"}),
        ("advisor help di", {"diagnose", "differ"}),
        ("advisor --sch", {"--schema"}),
        ("advisor --schema che", {"check"}),
        ("advisor check --no", {"--no-learning"}),
        ("advisor check --region a", {"au"}),
        ("advisor diagnose canteen-sandwich-loaf-ex", {"canteen-sandwich-loaf-excess-water"}),
        ("advisor diagnose canteen-sandwich-loaf --saw gumm", {"gummy_base", "gummy_centre"}),
        ("advisor diagnose canteen-sandwich-loaf --saw gummy_base dense", {"dense_crumb"}),
        ("advisor why canteen-sandwich-loaf excess_w", {"excess_water"}),
        ("advisor check --json canteen-sandwich-loaf-ex", {"canteen-sandwich-loaf-excess-water"}),
        ("advisor check --risk 0.3 canteen-sandwich-loaf-ex", {"canteen-sandwich-loaf-excess-water"}),
    ],
)
def test_a_shell_offers_what_can_stand_there(
    name: str, line: str, offered: set[str], scripts: dict[str, Path]
) -> None:
    if name == "fish" and (" help " in line or "gummy_base dense" in line):
        pytest.skip("fish completes what is described for the command, one value an option")
    found = set(completed(name, scripts[name], line))
    assert offered <= found
    assert all(word.startswith(line.rpartition(" ")[2]) for word in found)
    assert len(found) < 10


@pytest.mark.parametrize("name", ["bash", "fish"])
def test_files_are_offered_where_a_formula_may_stand(name: str, scripts: dict[str, Path]) -> None:
    assert "my-loaf.txt" in completed(name, scripts[name], "advisor check my")
    assert "my-loaf.txt" not in completed(name, scripts[name], "advisor glossary my")


@pytest.mark.parametrize("name", SHELLS)
def test_a_script_is_sound_and_holds_every_name(name: str, scripts: dict[str, Path]) -> None:
    text = scripts[name].read_text()
    knowledge = load_knowledge()
    for word in (*COMMANDS, *knowledge.formulas, *knowledge.symptoms, *knowledge.causes, *KINDS):
        assert re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text), word
    if (program := shutil.which(name)) is not None:
        assert 0 == subprocess.run([program, "-n", str(scripts[name])], check=False).returncode


def test_completion_is_printed_and_another_shell_refused(capsys: pytest.CaptureFixture[str]) -> None:
    for name in SHELLS:
        assert 0 == main(["--completion", name])
        assert capsys.readouterr().out == completion_script(name, build_parser())
    with pytest.raises(SystemExit) as left:
        main(["--completion", "sh"])
    assert 2 == left.value.code
    assert 1 == len(capsys.readouterr().err.splitlines())


# ---- help


@pytest.mark.parametrize("command", COMMANDS)
def test_help_shows_an_example_and_the_exits(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    shown = []
    for words in (["help", command], [command, "--help"]):
        with pytest.raises(SystemExit) as left:
            main(words)
        assert 0 == left.value.code
        shown.append(capsys.readouterr().out)
    assert shown[0] == shown[1]
    manual = MANUALS[command]
    assert f"examples:\n  {manual.examples[0]}\n" in shown[0]
    assert shown[0].rstrip().endswith("3  a fault in the program")
    assert max(map(len, shown[0].splitlines())) <= 80


@pytest.mark.parametrize("example", [e for c in COMMANDS for e in MANUALS[c].examples])
def test_every_example_is_a_command_line_that_is_accepted(example: str) -> None:
    name, *words = shlex.split(example)
    assert "advisor" == name
    assert words[0] == build_parser().parse_args(words).command


QUICK = [
    e for c in ("check", "why", "try", "differ", "write", "sources", "glossary") for e in MANUALS[c].examples
]


@pytest.mark.parametrize("example", [e for e in QUICK if "my-loaf" not in e and "catalogue/" not in e])
def test_examples_with_demo_formulas_run(example: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(shlex.split(example)[1:]) in (0, 1)
    assert capsys.readouterr().out


def test_help_alone_lists_the_commands(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["help"], ["--help"]):
        with pytest.raises(SystemExit):
            main(words)
        assert "advisor help COMMAND" in capsys.readouterr().out
    assert 2 == main(["help", "chek"])
    assert "did you mean check" in capsys.readouterr().err


def test_the_version_is_that_of_the_package(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["--version"])
    assert 0 == left.value.code
    project = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["project"]
    assert "version" in project["dynamic"], "it stands in advisor/version.py alone"
    assert f"{project['name']} {__version__}\n" == capsys.readouterr().out
