"""Many formulas at once: order, a table, no formula that stops the others, and going on after a kill."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest

from advisor import check_text, load_knowledge
from advisor.api.pool import in_order
from advisor.api.sources import sources_of
from advisor.interface.batch.batch_log import open_log
from advisor.interface.batch.batch_progress import bar
from advisor.interface.batch.batch_table import table_lines
from advisor.interface.commands.command_line import main
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.constraints import Constraints
from advisor.rendering.checked import AskedOfMany, Checked
from advisor.rendering.documents.schemas import schema_of

TOP = Path(__file__).parents[2]
SOUND, FAULTY = "canteen-sandwich-loaf", "canteen-sandwich-loaf-excess-water"
ASKED = AskedOfMany(limits=Constraints(), risk_limit=0.35)


@pytest.fixture
def catalogue(tmp_path: Path) -> Path:
    """Five files: two sound, one faulty, one that is no formula, and one of a kind that is not read."""
    top = tmp_path / "catalogue"
    (top / "b").mkdir(parents=True)
    formulas = load_knowledge().formulas
    (top / "b" / "wet.TXT").write_bytes(formulas[FAULTY].read_bytes())
    (top / "a.txt").write_bytes(formulas[SOUND].read_bytes())
    (top / "c.md").write_bytes(formulas["almond-egg-loaf"].read_bytes())
    (top / "b.yaml").write_text("nothing: here\n")
    (top / "notes.csv").write_text("not read\n")
    (top / ".hidden.txt").write_text("not read\n")
    return top


def outside(*arguments: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(TOP)}
    command = [sys.executable, "-m", "advisor", "check", *arguments]
    return subprocess.run(
        command, capture_output=True, encoding="utf-8", check=False, env=environment, cwd=cwd,
        stdin=subprocess.DEVNULL,
    )  # fmt: skip


def documents(text: str) -> list[dict[str, object]]:
    return [json.loads(line) for line in text.splitlines()]


def test_a_folder_gives_a_table_in_order_and_the_worst_exit(
    catalogue: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 2 == main(["check", str(catalogue)])
    out, err = capsys.readouterr()
    head, *rows, empty, count = out.splitlines()[1:]
    assert f"In {catalogue}/:" == out.splitlines()[0]
    assert ["formula", "risk", "worst", "symptom", "first", "cause", "exit"] == head.split()
    assert [("a.txt", "0"), ("b.yaml", "2"), ("c.md", "0"), ("b/wet.TXT", "1")] == [
        (row.split()[0], row.split()[-1]) for row in rows
    ]
    assert "gummy middle" in rows[3]
    assert "too much free water" in rows[3]
    assert ("", "4 formulas: 2 sound, 1 at risk or past a limit, 1 not read.") == (empty, count)
    assert [f"{catalogue / 'b.yaml'}"] == [line.split(":")[0] for line in err.splitlines()]


def test_lines_follow_their_schema_and_hold_what_check_says(
    catalogue: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 2 == main(["check", str(catalogue), "--jsonl"])
    out, err = capsys.readouterr()
    found = documents(out)
    for document in found:
        jsonschema.validate(document, schema_of("batch"))
    assert [0, 2, 0, 1] == [document["exit"] for document in found]
    assert [False, True, False, False] == [document["answer"] is None for document in found]
    assert "4 formulas: " in err  # the table, where it does not mix with the lines
    main(["check", str(catalogue / "b" / "wet.TXT"), "--json"])
    assert json.loads(capsys.readouterr().out) == found[3]["answer"]
    main(["check", str(catalogue), "--json"])
    assert found == json.loads(capsys.readouterr().out)


def test_two_workers_write_what_one_writes(catalogue: Path) -> None:
    alone, together = outside(str(catalogue), "--jsonl"), outside(str(catalogue), "--jsonl", "--jobs", "2")
    assert 4 == len(alone.stdout.splitlines())
    assert (alone.returncode, alone.stdout, alone.stderr) == (
        together.returncode, together.stdout, together.stderr,
    )  # fmt: skip
    assert "\x1b" not in together.stderr  # no bar where there is no terminal


def test_files_and_demo_formulas_may_be_named_beside_a_folder(
    catalogue: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 2 == main(["check", FAULTY, str(catalogue), str(catalogue / "a.txt"), "no-such.txt", "--jsonl"])
    names = [str(document["source"]) for document in documents(capsys.readouterr().out)]
    inside = [str(catalogue / name) for name in ("a.txt", "b.yaml", "c.md", "b/wet.TXT")]
    assert [FAULTY, *inside, "no-such.txt"] == names  # each once


def test_limits_and_risk_decide_the_exit(catalogue: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (catalogue / "b.yaml").unlink()
    assert 1 == main(
        ["check", str(catalogue), "--risk", "1"]
    )  # a number far out is no all-clear at any limit
    (catalogue / "b" / "wet.TXT").unlink()
    assert 0 == main(["check", str(catalogue), "--risk", "1"])
    assert 1 == main(["check", str(catalogue), "--risk", "1", "--avoid", "egg"])
    assert 1 == main(["check", str(catalogue), "--risk", "1", "--net-carb-max", "0.1"])


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("-", "{}"), "standard input (-) is one formula"),
        (("{}", "--plot", "a.svg"), "--plot is for formulas named one by one"),
        (("{}", "--apply", "1"), "--apply is for"),
        (("{}", "--avoid", "sawdust"), "no allergen or ingredient 'sawdust'"),
        (("{}/empty",), "this is a folder without formulas"),
        (("{}", "--resume", "{}"), "cannot be opened"),
        (("{}", "--resume", "/dev/null"), "is no plain file"),
        (("{}", "--resume", "{}/no/such/folder.jsonl"), "cannot be opened"),
        (("{}", "--resume", "{}/a.txt"), "a.txt:1:1: no line of a batch"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line_and_nothing_is_written(
    arguments: tuple[str, ...], said: str, catalogue: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (catalogue / "empty").mkdir()
    before = {path: path.read_bytes() for path in catalogue.rglob("*") if path.is_file()}
    assert 2 == main(["check", *(word.format(catalogue) for word in arguments)])
    out, err = capsys.readouterr()
    assert "" == out
    assert said in err
    assert 1 == len(err.splitlines())
    assert before == {path: path.read_bytes() for path in catalogue.rglob("*") if path.is_file()}


# ---- links, pipes and odd names


def test_links_out_of_the_folder_are_left_out_and_said(
    catalogue: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    secret = tmp_path / "elsewhere"
    secret.mkdir()
    (secret / "theirs.txt").write_text("100 g water\n")
    (catalogue / "x-out.txt").symlink_to(secret / "theirs.txt")
    (catalogue / "x-folder").symlink_to(secret)
    (catalogue / "x-nowhere.txt").symlink_to(tmp_path / "none.txt")
    (catalogue / "x-round.txt").symlink_to(catalogue / "x-round.txt")
    (catalogue / "x-inside.txt").symlink_to(catalogue / "a.txt")
    (catalogue / "x-itself").symlink_to(catalogue)
    os.mkfifo(catalogue / "x-pipe.txt")
    assert 2 == main(["check", str(catalogue)])
    out, err = capsys.readouterr()
    said = {Path(line.split(":")[0]).name: line.split(": ", 1)[1] for line in err.splitlines()}
    assert {"b.yaml", "x-out.txt", "x-folder", "x-nowhere.txt", "x-round.txt", "x-pipe.txt"} == set(said)
    assert "a link out of the folder" in said["x-out.txt"]
    assert "a link out of the folder" in said["x-folder"]
    assert "leads nowhere" in said["x-nowhere.txt"]
    assert "no plain file" in said["x-pipe.txt"]
    assert ["x-inside.txt", "0"] == [
        row.split()[n] for row in out.splitlines() if row.startswith("x-inside") for n in (0, -1)
    ]


def test_names_that_hold_control_codes_or_no_letters_harm_nothing(
    catalogue: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    odd = [
        catalogue / "a\x1b[2Jb.txt",
        catalogue / os.fsdecode(b"\xff\xfe.txt"),
        catalogue / "two\nlines.txt",
    ]
    for path in odd:
        path.write_text("no formula\n")
    log = catalogue / "log.jsonl"
    assert 2 == main(["check", str(catalogue), "--resume", str(log)])
    out, err = capsys.readouterr()
    assert "\x1b" not in out + err
    assert {str(path) for path in odd} <= {str(document["source"]) for document in documents(log.read_text())}


def test_an_enormous_file_is_refused_by_itself(catalogue: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with (catalogue / "huge.txt").open("wb") as file:
        file.truncate(50_000_000_000)  # a hole: it takes no room, and must not be read whole
    assert 2 == main(["check", str(catalogue)])
    out, err = capsys.readouterr()
    assert "huge.txt:1:1: the file is larger than 1 MB" in err
    assert "5 formulas: 2 sound" in out


# ---- going on later


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return tmp_path / "answers.jsonl"


def test_what_is_there_is_left_out_and_what_changed_is_added(
    catalogue: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["check", str(catalogue), "--resume", str(log)]
    assert 2 == main(arguments)
    first = log.read_bytes()
    assert 4 == first.count(b"\n")
    table = capsys.readouterr().out
    assert 2 == main(arguments)
    assert first == log.read_bytes()
    again = capsys.readouterr().out
    assert table.splitlines()[:-1] == again.splitlines()[:-1]
    assert "4 formulas (4 known from before)" in again
    (catalogue / "b.yaml").write_bytes((catalogue / "a.txt").read_bytes())
    assert 1 == main(arguments)
    assert log.read_bytes().startswith(first)
    assert 5 == log.read_bytes().count(b"\n")
    assert 1 == main(arguments)
    assert 5 == log.read_bytes().count(b"\n")


def test_the_same_formulas_with_another_limit_are_checked_again(catalogue: Path, log: Path) -> None:
    main(["check", str(catalogue), "--resume", str(log)])
    main(["check", str(catalogue), "--resume", str(log), "--avoid", "egg"])
    found = documents(log.read_text())
    assert [False] * 4 + [True, False, True, True] == [document["limits_broken"] for document in found]


def test_another_risk_counts_for_what_is_there_too(catalogue: Path, log: Path) -> None:
    (catalogue / "b.yaml").unlink()
    (catalogue / "b" / "wet.TXT").unlink()
    assert 1 == main(["check", str(catalogue), "--resume", str(log), "--risk", "0.01"])
    assert 0 == main(["check", str(catalogue), "--resume", str(log), "--risk", "1"])


@pytest.mark.parametrize(
    "keep", [0, 29, -1, *(pytest.param(n, marks=pytest.mark.slow) for n in (1, 30, 500))]
)
def test_a_line_cut_short_is_taken_off_and_written_anew(catalogue: Path, log: Path, keep: int) -> None:
    arguments = ["check", str(catalogue), "--resume", str(log)]
    main(arguments)
    whole = log.read_bytes()
    *lines, last = whole.splitlines(keepends=True)
    log.write_bytes(b"".join(lines) + last[:keep])
    main(arguments)
    assert whole == log.read_bytes()


@pytest.mark.parametrize(
    "content",
    [
        b"{}\n", b"not json", b"\x00\x00\n", b'{"schema": 2, "kind": "check"}\n',
        b'{"schema": 2, "kind": "batch"}\n', b'{"schema": 2, "kind": "batch", "risk": "high"}\n',
        b'{"schema": 2, "kind": "batch"' + b"[" * 100_000 + b"\n",
    ],
)  # fmt: skip
def test_a_file_of_something_else_is_left_as_it_is(
    content: bytes, catalogue: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log.write_bytes(content)
    assert 2 == main(["check", str(catalogue), "--resume", str(log)])
    assert ":1:1: no line of a batch" in capsys.readouterr().err
    assert content == log.read_bytes()


def test_two_batches_do_not_write_to_one_file(log: Path) -> None:
    with (
        open_log(log, ASKED),
        pytest.raises(InputFault, match="another batch is writing"),
        open_log(log, ASKED),
    ):
        raise AssertionError("opened twice")


def test_after_a_kill_every_line_is_whole_and_the_rest_is_added(tmp_path: Path, log: Path) -> None:
    folder = tmp_path / "many"
    folder.mkdir()
    text = load_knowledge().formulas[FAULTY].read_text("utf-8")
    for n in range(16):
        (folder / f"{n:02}.txt").write_text(text.replace("240 g", f"{240 + n} g"))
    command = [sys.executable, "-m", "advisor", "check", str(folder), "--resume", str(log), "--jobs", "2"]
    environment = {**os.environ, "PYTHONPATH": str(TOP)}
    with subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL) as batch:
        while batch.poll() is None and (not log.exists() or log.read_bytes().count(b"\n") < 3):
            time.sleep(0.01)
        batch.send_signal(signal.SIGKILL)
    before = log.read_bytes()
    for line in before.splitlines(keepends=True)[:-1]:
        json.loads(line)
    assert 1 == outside(str(folder), "--resume", str(log)).returncode
    found = documents(log.read_text())
    assert [str(folder / f"{n:02}.txt") for n in range(16)] == [document["source"] for document in found]


# ---- workers


def doubled(number: int) -> int:
    if number == 13:
        os.kill(os.getpid(), signal.SIGKILL)
    return 2 * number


def unlucky(number: int, _: BaseException) -> int:
    return -number


# The test's own process holds threads of numerical libraries, of which newer interpreters warn when it forks.
@pytest.mark.filterwarnings("ignore:.*use of fork.*:DeprecationWarning")
@pytest.mark.parametrize("jobs", [2, 3])
def test_a_worker_that_dies_takes_one_answer_with_it(jobs: int) -> None:
    expected = [-n if n == 13 else 2 * n for n in range(40)]
    assert expected == list(in_order(doubled, range(40), jobs, unlucky))


@pytest.mark.filterwarnings("ignore:.*use of fork.*:DeprecationWarning")
def test_things_are_taken_a_few_at_a_time() -> None:
    taken: list[int] = []

    def things() -> Iterator[int]:
        for n in range(14, 1000):
            taken.append(n)
            yield n

    answers = in_order(doubled, things(), 2, unlucky)
    assert 28 == next(answers)
    assert len(taken) < 20
    answers.close()  # type: ignore[attr-defined]  # it is a generator


def test_a_fault_of_the_program_stops_one_formula(
    catalogue: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from advisor.diagnosis.pipeline import Examiner

    whole = Examiner.examine

    def failing(self: Examiner, formula: object, **options: object) -> object:
        if getattr(formula, "name", "") == "Canteen sandwich loaf":
            raise ZeroDivisionError("two\nlines")
        return whole(self, formula, **options)  # type: ignore[arg-type]

    monkeypatch.setattr(Examiner, "examine", failing)
    monkeypatch.delenv("ADVISOR_TRACEBACK", raising=False)
    assert 3 == main(["check", str(catalogue)])
    out, err = capsys.readouterr()
    assert "1 sound" in out
    assert "2 stopped by a fault in the program" in out
    assert 2 == err.count("this is a fault in the program")
    assert 3 == len(err.splitlines())


# ---- what is shown


def test_the_bar_says_how_far_it_is_and_fits() -> None:
    drawn = bar(10, 40, 30.0, 79)
    assert 79 == len(drawn)
    assert "[##########..............................] 10 of 40, about 90 s left"[:60] in bar(
        10, 40, 30, 79
    ) or ("10 of 40, about 2 min left" in drawn)
    for columns in (10, 19, 30, 200):
        assert columns == len(bar(1, 1000, 3.0, columns))
    assert "? left" in bar(0, 5, 0.0, 79)
    assert "0 of 0" in bar(0, 0, 1.0, 79)


@pytest.mark.parametrize("columns", ["34", "60", "80", "200"])
def test_a_long_name_has_a_line_of_its_own_and_nothing_is_lost(
    columns: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    one = Checked(source="a" * 70 + ".txt", exit=1, risk=0.5, symptom="gummy_centre", cause="excess_water")
    lines = list(table_lines([one, replace(one, source="short.txt")], load_knowledge(), 0.35))
    assert one.source in "\n".join(lines)
    assert "50 %  gummy middle" in lines[-1]


def test_a_text_that_cannot_be_read_is_a_result_and_no_error() -> None:
    found = check_text("100 g zorblax\n", name="mine")
    assert 2 == found.exit
    assert found.problems[0].startswith("mine:1:")
    text = load_knowledge().formulas[FAULTY].read_text("utf-8")
    short, full = check_text(text), check_text(text, in_full=True)
    assert (1, "gummy_centre", "excess_water", "") == (short.exit, short.symptom, short.cause, short.document)
    assert replace(full, document="") == short
    assert "check" == json.loads(full.document)["kind"]


def test_every_source_is_named_once(catalogue: Path) -> None:
    knowledge = load_knowledge()
    names = [
        source.name for source in sources_of([str(catalogue), str(catalogue / "a.txt"), SOUND], knowledge)
    ]
    assert 5 == len(names) == len(set(names))


def test_test_runners_read_a_case_a_formula(catalogue: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 2 == main(["check", str(catalogue), "--format", "junit"])
    top = ElementTree.fromstring(capsys.readouterr().out)
    (suite,) = top
    assert ("4", "1", "1") == tuple(suite.get(name) for name in ("tests", "failures", "errors"))
    cases = {Path(case.get("name", "")).name: list(case) for case in suite}
    assert [] == cases["a.txt"] == cases["c.md"]
    (failure,), (error,) = cases["wet.TXT"], cases["b.yaml"]
    assert ("failure", "error") == (failure.tag, error.tag)
    assert "Gummy middle: risk" in (failure.text or "")
    assert "Water load when baked is far too high." in (failure.text or "")
    assert "b.yaml:1:1:" in error.get("message", "")


def test_strict_counts_what_was_not_read_and_what_decides(tmp_path: Path, capsys) -> None:
    text = load_knowledge().formulas[SOUND].read_text("utf-8")
    whole, bare, odd = (tmp_path / f"{name}.txt" for name in ("whole", "bare", "odd"))
    whole.write_text(text)
    bare.write_text("".join(line for line in text.splitlines(True) if not line.startswith("oven")))
    odd.write_text(text + "Score it with 3 cuts.\n")
    assert 0 == main(["check", str(whole), "--strict"])
    assert "" == capsys.readouterr().err
    for path, said in (
        (bare, "not stated: how hot the oven is"),
        (odd, "is not read: 'Score it with 3 cuts.'"),
    ):
        main(["check", str(path), "--risk", "1"])
        capsys.readouterr()
        assert 1 == main(["check", str(path), "--strict", "--risk", "1"])
        assert said in capsys.readouterr().err
        assert 1 == main(["check", str(path), "--strict", "--risk", "1", "--format", "junit"])
        assert said in capsys.readouterr().out
    assert 1 == main(["check", str(whole), str(bare), "--strict", "--risk", "1", "--summary"])
    assert "guessed" in capsys.readouterr().out


def test_a_batch_that_goes_on_knows_what_was_guessed(catalogue: Path, log: Path, capsys) -> None:
    for path in (catalogue / "b.yaml", catalogue / "b" / "wet.TXT"):
        path.unlink()
    text = (catalogue / "a.txt").read_text()
    (catalogue / "a.txt").write_text("".join(x for x in text.splitlines(True) if not x.startswith("oven")))
    arguments = ["check", str(catalogue), "--resume", str(log), "--risk", "1"]
    assert 0 == main(arguments)
    assert 1 == main([*arguments, "--strict"])
    assert "2 formulas (2 known from before)" in capsys.readouterr().out
