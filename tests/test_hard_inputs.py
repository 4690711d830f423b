"""Hard inputs at every door: one clear line each, in bounded time and memory, and never a crash."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from advisor import check_text, load_knowledge
from advisor.formula.faults import shown
from advisor.formula.reading import read_formula_text
from advisor.interface.commands.command_line import main

TOP = Path(__file__).parents[1]
SOUND = "canteen-sandwich-loaf"
LOAF = load_knowledge().formulas[SOUND].read_text("utf-8")
BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n"
    for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)
DEEP = "[" * 200_000
LONG = "9" * 400
HARD_YAML = {
    "alias bomb": (BOMB, "aliases are refused"),
    "merge key": ("a: &a {b: 1}\nc: {<<: *a}\n", "aliases are refused"),
    "deep lists": (DEEP, ":1"),
    "deep maps": ("{a: " * 5_000 + "1" + "}" * 5_000, ":1"),
    "deep by indent": ("".join(" " * n + f"k{n}:\n" for n in range(40)), "nested deeper than 12"),
    "duplicate key": ("saw: [dry_crumb]\nsaw: [gummy_centre]\n", "stands twice"),
    "huge whole number": (f"answers: {{door_opened: {LONG}}}\n", "plain number"),
    "huge number": ("answers: {door_opened: 1.0e+999}\n", "plain number"),
    "not a number": ("saw: [.nan]\n", "'.nan' would be guessed"),
    "infinity": ("saw: [-.inf]\n", "'-.inf' would be guessed"),
    "text for a list": ("saw: dry_crumb\n", "must be a list"),
    "number for a word": ("saw: [3]\n", "must be a text"),
    "none for a word": ("not: [null]\n", "must be a text"),
    "map for a word": ("saw: [{a: b}]\n", "must be a text"),
    "list for a map": ("answers: [door_opened]\n", "must be key: value"),
    "list for an answer": ("answers: {door_opened: [a]}\n", "answers.door_opened: must be a text"),
    "tab for indent": ("answers:\n\tdoor_opened: shut\n", "is not YAML"),
    "control character": ("saw:\n- dry_crumb\x07\n", ":2 yaml is not YAML: it holds the character U+0007"),
    "NUL": ("saw: [\x00]\n", "U+0000"),
    "letter that is none": ("saw: [\ufffe]\n", "U+FFFE"),
    "turned writing": ("saw: [\u202edry_crumb]\n", "no symptom"),
    "look-alike letters": ("saw: [dry_crum\u0432]\n", "no symptom"),
    "tag that runs code": ("!!python/object/apply:os.system [id]\n", "the tag"),
    "two documents": ("saw: []\n---\nsaw: []\n", "is not YAML"),
    "JSON cut short": ('{"saw": ["dry_crumb"', "is not YAML"),
    "a key that is no word": ("? [a]\n: 1\n", "a key must be a plain word"),
    "terminal codes in a key": ('"\\e[2J": 1\n"\\e[2J": 2\n', "stands twice"),
    "terminal codes in a word": ('saw: ["\\e]0;x\\a"]\n', "no symptom"),
    "a megabyte of digits": ("saw: [" + "9" * 1_000_000 + "]\n", ":1 yaml "),
    "a long word": ("saw: [" + "w" * 100_000 + "]\n", "no symptom"),
    "nothing": ("", "is empty"),
}


@pytest.mark.parametrize("name", HARD_YAML)
def test_a_hard_file_of_answers_is_refused_in_one_line(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text, said = HARD_YAML[name]
    path = tmp_path / "a.yaml"
    path.write_text(text, "utf-8")
    assert 2 == main(["diagnose", SOUND, "--answers", str(path)])
    out, err = capsys.readouterr()
    assert "" == out
    assert said in err
    assert len(err) < 2500
    assert all(line.startswith((str(path), "advisor: ")) for line in err.splitlines()), err
    assert all(line.isprintable() for line in err.splitlines()), err


HARD_LINES = {
    "huge amount": "9" * 300 + " g water",
    "power": "1e400 g water",
    "infinite": "inf g water",
    "not a number": "nan g water",
    "below nothing": "-5 g water",
    "nothing by nothing": "0/0 cup water",
    "by nothing": "1/0 cup water",
    "long sum": "1 g + " * 40 + "1 g water",
    "other digits": "١٢٣ g water",
    "fraction letters": "½½½ cup water",
    "superscript": "10² g water",
    "control character": "100 g wa\x1b[2Jter",
    "turned writing": "100 g \u202ewater",
    "half a pair": "100 g \ud83d water",
    "private letter": "100 g \ue000water",
    "only marks": "100 g " + "\u0301" * 90,
    "emoji": "100 g 🥚🥛",
    "long word": "100 g " + "w" * 5000,
    "brackets": "100 g water " + "(" * 200,
    "huge pan": "pan: 99999999999999999999 x 1 x 1 cm",
    "huge oven": "oven: 1e9 C for 70 min",
    "oven not a number": "oven: nan C for 70 min",
    "cold oven": "oven: -300 C for 70 min",
    "endless proof": "proof: 99999999999 min at 27 C",
    "many slices": "slices: 99999999999999999999",
    "no slices": "slices: 0",
    "no loaves": "loaves: -1",
    "high up": "altitude: 1e300 m",
}


@pytest.mark.parametrize("name", HARD_LINES)
def test_a_hard_line_is_refused_or_read_and_never_crashes(name: str) -> None:
    found = check_text(LOAF + HARD_LINES[name] + "\n")
    assert found.exit in (0, 1, 2), found.problems
    assert all(len(line) < 1000 and line.isprintable() for line in found.problems), found.problems
    if found.exit == 2:
        last = len(LOAF.splitlines()) + 1
        assert f"formula:{last}:" in found.problems[-1]
    else:
        assert found.risk is not None
        assert 0 <= found.risk <= 1


@pytest.mark.parametrize(
    "text",
    [
        LOAF.replace("\n", "\r"),
        LOAF.replace("\n", "\u2028"),
        LOAF.replace(" ", "\u00a0"),
        LOAF.replace(" ", "\t"),
        "\ufeff" + LOAF,
        LOAF.upper(),
    ],
    ids=["old line ends", "line separators", "hard spaces", "tabs", "byte order mark", "capitals"],
)
def test_odd_spaces_and_line_ends_change_nothing(text: str) -> None:
    usual, found = check_text(LOAF), check_text(text)
    assert (usual.exit, usual.risk, usual.symptom) == (found.exit, found.risk, found.symptom), found.problems


@pytest.mark.parametrize("grams", ["0.000001", "1e-9", "999999", "50000000"])
def test_a_formula_out_of_all_measure_is_answered_or_refused(grams: str) -> None:
    for text in (
        f"100 g vital wheat gluten\n{grams} g water\n",
        f"{grams} g vital wheat gluten\n90 g water\n",
    ):
        found = check_text(text, in_full=True)
        assert found.exit in (0, 1, 2), found.problems
        assert "NaN" not in found.document
        assert "Infinity" not in found.document


def test_hard_knowledge_is_found_by_lint_with_file_and_line(tmp_path: Path) -> None:
    from advisor.knowledge_base.faults import KnowledgeFault
    from advisor.knowledge_base.reading import read_entries
    from advisor.knowledge_base.rule_entries import Rule

    path = tmp_path / "rules.yaml"
    for name, (text, _) in HARD_YAML.items():
        path.write_text(text, "utf-8")
        with pytest.raises(KnowledgeFault) as caught:
            read_entries(path, "rules.yaml", Rule)
        assert all(f.line >= 1 and "\n" not in f.message for f in caught.value.findings), name


# ---- bounded time and memory, in a process of its own that may not have more


def held_in_bounds(arguments: list[str], given: bytes | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command with 60 s of processor time and 1.5 GB of addresses."""

    def bound() -> None:
        resource.setrlimit(resource.RLIMIT_CPU, (60, 60))
        resource.setrlimit(resource.RLIMIT_AS, (1_500_000_000, 1_500_000_000))

    environment = {**os.environ, "PYTHONPATH": str(TOP), "OPENBLAS_NUM_THREADS": "1"}
    ran = subprocess.run(
        [sys.executable, "-m", "advisor", *arguments], preexec_fn=bound, env=environment, check=False,
        capture_output=True, input=given, timeout=300,
    )  # fmt: skip
    return subprocess.CompletedProcess(
        ran.args, ran.returncode, ran.stdout.decode("utf-8", "replace"), ran.stderr.decode("utf-8", "replace")
    )


def hole(path: Path) -> Path:
    """A file of 20 GB that takes no room."""
    with path.open("wb") as file:
        file.truncate(20_000_000_000)
    return path


@pytest.mark.parametrize("kind", ["formula", "answers", "device", "folder", "bomb", "wide", "deep"])
def test_enormous_inputs_take_neither_the_time_nor_the_memory(kind: str, tmp_path: Path) -> None:
    path = tmp_path / f"{kind}.yaml"
    if kind in ("bomb", "deep"):
        path.write_text(BOMB if kind == "bomb" else DEEP)
    elif kind == "wide":
        path.write_text("name: wide\nlines:\n" + "- 1 g water\n" * 80_000)
    elif kind == "folder":
        path.mkdir()
        hole(path / "huge.txt")
    elif kind != "device":
        hole(path)
    named = "/dev/zero" if kind == "device" else str(path)
    by_answers = kind in ("answers", "bomb", "deep")
    ran = held_in_bounds(["diagnose", SOUND, "--answers", named] if by_answers else ["check", named])
    assert 2 == ran.returncode, ran.stderr
    assert "fault in the program" not in ran.stderr
    assert 1 == len(ran.stderr.splitlines()), ran.stderr[:2000]


def test_the_bounds_would_be_met(tmp_path: Path) -> None:
    """The check above can fail: a process that reads the whole file dies of it."""
    script = "import sys; open(sys.argv[1], 'rb').read()"

    def bound() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (1_500_000_000, 1_500_000_000))

    ran = subprocess.run(
        [sys.executable, "-c", script, str(hole(tmp_path / "huge"))], preexec_fn=bound, check=False,
        capture_output=True,
    )  # fmt: skip
    assert b"MemoryError" in ran.stderr


def test_an_endless_pipe_is_read_no_further_than_a_formula_goes() -> None:
    ran = held_in_bounds(["check", "-"], given=b"100 g water\n" * 500_000)
    assert 2 == ran.returncode
    assert "more than 1 MB" in ran.stderr


def test_text_with_control_characters_is_shown_short():
    """Each is written out as an escape, six times as long as it was."""
    for text in ("\x00" * 40, "\x01\x02" * 500, "a" * 500):
        assert len(shown(text)) <= len(shown("a" * 500))


def test_a_height_that_no_loaf_has_is_not_taken_from_a_sentence():
    text = "x\n200 g wheat gluten\n200 g water\nBake 180 C for 50 min. Height after baking 68 cm."
    assert read_formula_text(text, load_knowledge(), name="x").process.height_after_cm is None
    low = text.replace("68 cm", "8 cm")
    assert read_formula_text(low, load_knowledge(), name="x").process.height_after_cm == 8


@pytest.mark.parametrize(
    ("text", "exits"), [("7l oil", (0, 1)), ("7 l water", (0, 1)), ("....", (2,)), (LOAF + "....\n", (0, 1))]
)
def test_a_text_of_one_thing_or_of_stops_alone_is_no_fault_of_the_program(
    text: str, exits: tuple[int, ...]
) -> None:
    found = check_text(text)
    assert found.exit in exits, found.problems
    assert not any("fault in the program" in said for said in found.problems)
