"""Rules and knowledge of one's own, laid over the shipped ones; a hostile folder is refused at once, in a line."""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from advisor import load_knowledge
from advisor.interface.commands.command_line import build_parser, main
from advisor.knowledge_base.own_folder import MOST_ENTRIES, OwnFolderFault, laid_over, looked_through
from advisor.knowledge_base.places import OVER

TOP = Path(__file__).parents[2]
SECONDS, BYTES = 2.0, 300_000_000
CAUSE = """- id: skin_dried_here
  name: Skin dried while it rose here
  group: handling
  base_rate: 0.02
  handling: true
  says: "The dough rose uncovered, in dry air or a draught. Its skin cannot stretch any more and tears in the oven."
  grade: practice
"""
LINK = "- {from: skin_dried_here, to: early_crust, strength: 0.8, acts: proof, grade: practice}\n"
LEVER = """- id: cover-the-dough-here
  for: skin_dried_here
  turn: {do: "Cover the dough while it rises, or oil its top thinly."}
  efficacy: 0.9
  effort: tiny
  says: Cover the dough
  because: "A moist skin stretches with the dough."
  grade: practice
"""
RULE = """- id: skin-dries-here
  when:
    - {measure: mixing_hydration, is: low}
    - {process: proof_min, above: 60, over: 60}
  then:
    - {suspect: skin_dried_here, evidence: weak, evidence_group: proof_cover_here}
  because: "A dough as dry as this ({mixing_hydration:.2f}) skins over in {proof_min:.0f min} of proof."
  grade: practice
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    own = tmp_path / "mine"
    (own / "rules").mkdir(parents=True)
    for name, text in (("causes", CAUSE), ("links", LINK), ("levers", LEVER), ("rules/proof", RULE)):
        (own / f"{name}.yaml").write_text(text)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return own


def test_every_command_and_verb_takes_it():
    def leaves(parser):
        subs = [a for a in parser._actions if isinstance(a, argparse._SubParsersAction)]
        return [leaf for a in subs for sub in a.choices.values() for leaf in leaves(sub)] or [parser]

    for leaf in leaves(build_parser()):
        assert "--knowledge" in leaf._option_string_actions, leaf.prog


def test_own_entries_are_used_and_gone_afterwards(folder, capsys):
    assert 0 == main(
        ["why", "canteen-sandwich-loaf", "skin_dried_here", "--knowledge", str(folder), "--json"]
    )
    assert "skin-dries-here" in capsys.readouterr().out
    assert OVER not in os.environ
    assert "skin_dried_here" not in load_knowledge().causes
    assert 2 == main(["why", "canteen-sandwich-loaf", "skin_dried_here"])


def test_an_own_entry_takes_the_place_of_a_shipped_one(folder, capsys):
    (folder / "glossary.yaml").write_text(
        '- {word: oven spring, says: "Here: how far the loaf jumps.", grade: practice}\n'
    )
    assert 0 == main(["glossary", "oven", "spring", "--knowledge", str(folder)])
    assert "how far the loaf jumps" in capsys.readouterr().out
    shipped = load_knowledge()
    merged = laid_over(shipped, folder)
    assert len(merged.causes) == len(shipped.causes) + 1
    assert len(merged.links) == len(shipped.links) + 1


def test_workers_know_of_it_too(folder):
    done = outside(
        "check",
        "canteen-sandwich-loaf",
        "almond-egg-loaf",
        "--jobs",
        "2",
        "--jsonl",
        "--knowledge",
        str(folder),
    )
    assert done.returncode in (0, 1), done.stderr
    documents = [json.loads(line) for line in done.stdout.splitlines()]
    assert 2 == len(documents)


@pytest.mark.parametrize(
    ("file", "text", "said"),
    [
        ("causes.yaml", "- id: x\n", "causes.yaml:1 "),
        ("links.yaml", LINK.replace("early_crust", "earlier_crust"), "links.yaml:1 "),
        pytest.param(
            "levers.yaml", LEVER.replace("tiny", "enormous"), "levers.yaml:", marks=pytest.mark.slow
        ),
        pytest.param(
            "rules/proof.yaml",
            RULE.replace("mixing_hydration, is", "mixing_hydratoin, is"),
            "rules/proof.yaml:",
            marks=pytest.mark.slow,
        ),
        ("causes.yaml", CAUSE + "  refines: skin_dried_here\n", "in a circle"),
    ],
)
def test_a_fault_is_told_with_file_and_line(folder, file, text, said, capsys):
    (folder / file).write_text(text)
    assert 2 == main(["check", "canteen-sandwich-loaf", "--knowledge", str(folder)])
    shown = capsys.readouterr()
    assert "" == shown.out
    assert said in shown.err
    assert "Traceback" not in shown.err


def test_at_most_twenty_findings_are_printed(folder, capsys):
    (folder / "causes.yaml").write_text("".join(f"- id: x{n}\n" for n in range(100)))
    assert 2 == main(["check", "canteen-sandwich-loaf", "--knowledge", str(folder)])
    lines = capsys.readouterr().err.splitlines()
    assert 21 == len(lines)
    assert "and 4" in lines[-1] or "more in your own knowledge" in lines[-1]


def outside(*words: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(TOP)}
    return subprocess.run(
        [sys.executable, "-m", "advisor", *words], capture_output=True, encoding="utf-8", env=environment, check=False,
        timeout=120, stdin=subprocess.DEVNULL,
    )  # fmt: skip


def _pipe(folder: Path) -> None:
    os.mkfifo(folder / "traits.yaml")


def _device(folder: Path) -> None:
    (folder / "traits.yaml").symlink_to("/dev/zero")


def _endless(folder: Path) -> None:
    with (folder / "traits.yaml").open("wb") as file:
        file.truncate(40_000_000_000)


def _many(folder: Path) -> None:
    for n in range(MOST_ENTRIES + 10):
        (folder / f"{n}.txt").touch()


def _deep(folder: Path) -> None:
    (folder / "rules" / "a" / "b" / "c").mkdir(parents=True)


def _circle_of_links(folder: Path) -> None:
    (folder / "rules" / "again").mkdir()
    (folder / "rules" / "again" / "round.yaml").symlink_to(folder / "rules")


def _not_there(folder: Path) -> None:
    folder.rename(folder.with_name("elsewhere"))


HOSTILE = [_pipe, _device, _endless, _many, _deep, _circle_of_links, _not_there]


@pytest.mark.parametrize("make", HOSTILE, ids=lambda make: make.__name__.strip("_"))
def test_a_hostile_folder_is_refused_in_a_line(make, folder):
    make(folder)
    start = time.process_time()
    with pytest.raises(OwnFolderFault) as fault:
        looked_through(folder)
    assert time.process_time() - start < SECONDS
    assert 1 == len(str(fault.value).splitlines())


def test_a_hostile_folder_costs_a_command_little(folder):
    """Little more time than a look at one ingredient takes on this machine, and a bounded memory."""
    _device(folder)
    _, _, plain, _ = cost_of(["ingredients", "water"])
    exits, most, seconds, said = cost_of(["check", "canteen-sandwich-loaf", "--knowledge", str(folder)])
    assert ("2", True) == (exits, most < BYTES)
    assert seconds < plain + SECONDS
    assert 1 == said.count("\n")


def cost_of(words: list[str]) -> tuple[str, int, float, str]:
    """Exit, high water in bytes, seconds of processor time, and what is said on standard error."""
    code = (
        "import resource, sys; from advisor.interface.commands.command_line import main; "
        f"code = main({words!r}); "
        "used = resource.getrusage(resource.RUSAGE_SELF); "
        # The high water of this program alone: what getrusage tells, a child takes over from whoever started it.
        "most = next(l.split()[1] for l in open('/proc/self/status') if l.startswith('VmHWM')); "
        "print(); print(code, int(most) * 1024, used.ru_utime + used.ru_stime)"
    )
    environment = {**os.environ, "PYTHONPATH": str(TOP)}
    environment.pop("XDG_CACHE_HOME")
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=environment, check=True
    )
    exits, most, seconds = done.stdout.splitlines()[-1].split()
    return exits, int(most), float(seconds), done.stderr
