"""The interview as a whole program on a real pseudo-terminal: what a baker types, loses, and gets back."""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pexpect
import pytest

from advisor import load_knowledge
from advisor.interface.desk.bakers_answers import told_by
from advisor.trial_record.bake import Bake
from advisor.trial_record.record import open_record

TOP = Path(__file__).parents[2]
CTRL_C, CTRL_D, ENTER, TAB = "\x03", "\x04", "\r", "\t"
PROMPT = ">( |\x08)"
"""What a terminal gets for `> `: the blank may be a move of the cursor."""
LOAF = "Seed loaf\n\nDry:\n100 g ground flaxseed\n60 g almond meal\n\n3 eggs\n150 g water\n"
LOAF += "oven: 175 C for 60 min\npan: 20 x 10 x 8 cm\nslices: 12\n"
DEMO = "canteen-sandwich-loaf"
NUMBER = {name: str(n) for n, name in enumerate(load_knowledge().symptoms, 1)}
"""Symptom to its number in the list."""
LIST = "SHOWS:"
QUESTION = "(Why:|How to look:)"
AFTER = "result>"


def slowly(*values: object) -> Any:
    """A case for the slow tests: each starts the program once more, for two seconds and more."""
    return pytest.param(*values, marks=pytest.mark.slow)


def pasted(text: str) -> str:
    """What a terminal sends for a paste."""
    return f"\x1b[200~{text}\x1b[201~"


def surroundings(folder: Path) -> dict[str, str]:
    """The surroundings of a program; nothing here answers a question for the place of the cursor."""
    return {
        "TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1", "TMPDIR": str(folder), "ADVISOR_TYPED": str(folder),
        "PYTHONPATH": str(TOP),
        "ADVISOR_MEASURES": str(folder / "measures.json"), "ADVISOR_DRAFTS": str(folder / "drafts"),
        "ADVISOR_RECORD": str(folder / "record.sqlite3"), "LANG": "C.UTF-8",
    }  # fmt: skip


@pytest.fixture(autouse=True)
def measures_known(tmp_path: Path) -> None:
    """The baker was here before."""
    (tmp_path / "measures.json").write_text("{}")


@contextmanager
def program(*arguments: str, folder: Path, **environment: str) -> Iterator[pexpect.spawn[str]]:
    """The program on a pseudo-terminal of 24 rows and 80 columns."""
    child = pexpect.spawn(
        sys.executable,
        ["-m", "advisor", *arguments],
        env={**os.environ, **surroundings(folder), **environment},
        encoding="utf-8",
        dimensions=(24, 80),
        timeout=60,
        cwd=str(folder),
    )
    try:
        yield child
    finally:
        with suppress(OSError):  # a test may have closed the terminal itself
            child.close(force=True)


def ends(child: pexpect.spawn[str]) -> tuple[int | None, str]:
    """The exit code, and what was shown until then."""
    child.expect(pexpect.EOF)
    child.wait()
    return child.exitstatus, str(child.before)


def tick(child: pexpect.spawn[str], word: str, folder: Path, *, begun: bool = False) -> None:
    """Find a symptom in the list and tick it.

    The screen is redrawn only where it changes, so what was ticked is read from the draft.
    """
    if not begun:
        child.expect(LIST)
    child.send(word)
    child.send(" ")
    deadline = time.monotonic() + 30
    while not any(json.loads(path.read_text() or "{}").get("ticked") for path in drafts(folder)):
        assert time.monotonic() < deadline, "nothing was ticked"
        time.sleep(0.1)


def drafts(folder: Path) -> list[Path]:
    return sorted((folder / "drafts").glob("*.json"))


@pytest.mark.parametrize(
    "environment",
    [
        {},
        *(slowly(e) for e in ({"TERM": "dumb"}, {"NO_COLOR": "1", "LC_ALL": "C"}, {"ADVISOR_PLAIN": "1"})),
    ],
    ids=str,
)
def test_a_whole_interview(tmp_path: Path, environment: dict[str, str]) -> None:
    with program("diagnose", folder=tmp_path, **environment) as child:
        child.expect("Ctrl-C leaves")
        child.expect(PROMPT)
        lines = LOAF.replace("\n", ENTER)
        child.send(lines if environment.get("TERM") == "dumb" else pasted(lines))
        child.expect("slices: 12")
        child.send(ENTER)
        child.expect(r"Kept in (\S+)")
        kept = child.match.group(1)
        if environment:
            child.expect(r"page 1 of \d")
            child.send("gummy middle" + ENTER)
            child.expect(f"Ticked: {NUMBER['gummy_centre']} Gummy middle")
            child.send("d" + ENTER)
        else:
            tick(child, "gummy", tmp_path)
            child.send(TAB)
        while child.expect([QUESTION, "CHANGE FIRST"]) == 0:
            assert 1 == len(drafts(tmp_path))
            child.send("1" + ENTER)
        child.expect("CAUTIONS")
        child.expect(r"advisor diagnose (\S+) --answers (\S+)")
        path = child.match.group(1)
        child.expect(AFTER)
        child.send("why not underbaked" + ENTER)
        child.expect("SIGNS OF IT")
        child.send("k" + ENTER)
        child.expect("Kept as bake 1: Seed loaf.")
        child.send("keep" + ENTER)
        child.expect("kept already, as bake 1")
        child.send("save transcript said.txt" + ENTER)
        child.expect("Saved in said.txt")
        child.send("quit" + ENTER)
        code, shown = ends(child)
    assert 0 == code
    assert "Traceback" not in shown
    assert kept == path
    assert LOAF == Path(path).read_text()
    answers = next(tmp_path.glob("answers-*.yaml"))
    assert "gummy_centre" in told_by([], [], str(answers), load_knowledge()).saw
    said = (tmp_path / "said.txt").read_text("utf-8")
    assert "CHANGE FIRST" in said
    assert "result> why not underbaked" in said
    assert "\x1b" not in said
    assert [] == drafts(tmp_path)


@pytest.mark.parametrize(
    ("arguments", "key"),
    [(("diagnose",), CTRL_C), slowly(("diagnose", DEMO), CTRL_D), slowly(("check",), CTRL_C)],
)
def test_leaving_at_the_first_prompt_exits_2_with_one_line(
    arguments: tuple[str, ...], key: str, tmp_path: Path
) -> None:
    with program(*arguments, folder=tmp_path, ADVISOR_PLAIN="1") as child:
        child.expect(PROMPT)
        child.send(key)
        code, shown = ends(child)
    assert 2 == code
    assert "advisor: stopped" in shown
    assert "Traceback" not in shown


@pytest.mark.parametrize("plain", ["0", slowly("1")])
def test_leaving_a_question_gives_the_result_and_leaves_the_terminal_as_it_was(
    tmp_path: Path, plain: str
) -> None:
    command = f"{sys.executable} -m advisor diagnose {DEMO}"
    child = pexpect.spawn(
        "/bin/sh",
        ["-c", f"stty -g > before; {command}; stty -g > after; echo all-over"],
        env={**os.environ, **surroundings(tmp_path), "ADVISOR_PLAIN": plain},
        encoding="utf-8",
        dimensions=(24, 80),
        timeout=60,
        cwd=str(tmp_path),
    )
    if plain == "1":
        child.expect(PROMPT)
        child.send(NUMBER["collapse_in_oven"] + ENTER)
        child.expect("Ticked")
    else:
        tick(child, "fell", tmp_path)
    child.send(CTRL_C)
    child.expect("Going on with what was answered")
    child.expect("Most likely: |No cause|Nothing in the formula")
    child.expect(AFTER)
    child.send(CTRL_C)
    child.expect("all-over")
    child.close(force=True)
    assert (tmp_path / "before").read_text() == (tmp_path / "after").read_text()
    assert 1 == len(drafts(tmp_path))


def test_questions_stay_out_of_json_that_goes_to_a_file(tmp_path: Path) -> None:
    child = pexpect.spawn(
        "/bin/sh",
        ["-c", f"{sys.executable} -m advisor diagnose {DEMO} --json --transcript said.txt > found.json"],
        env={**os.environ, **surroundings(tmp_path)},
        encoding="utf-8",
        dimensions=(24, 80),
        timeout=60,
        cwd=str(tmp_path),
    )
    tick(child, "gummy", tmp_path)
    child.send(TAB)
    child.expect(QUESTION)
    child.send(CTRL_D)
    child.expect(pexpect.EOF)
    child.close(force=True)
    found = json.loads((tmp_path / "found.json").read_text())
    assert "diagnosis" == found["kind"]
    assert found["symptoms"]["gummy_centre"]["observed"] is True
    assert "Ticked: Gummy middle." in (tmp_path / "said.txt").read_text()


@pytest.mark.parametrize("at", [slowly("list"), "question", "formula"])
def test_a_closed_terminal_loses_nothing_that_was_told(tmp_path: Path, at: str) -> None:
    arguments = ("diagnose",) if at == "formula" else ("diagnose", DEMO)
    with program(*arguments, folder=tmp_path) as child:
        if at == "formula":
            child.expect(PROMPT)
            child.send(pasted(LOAF.replace("\n", ENTER)))
            child.expect("slices: 12")
        elif at == "list":
            tick(child, "dense", tmp_path)
        else:
            tick(child, "dense", tmp_path)
            child.send(TAB)
            child.expect(QUESTION)
            child.send("1" + ENTER)
            child.expect(QUESTION)
        os.close(child.child_fd)  # the window is gone: the program gets a hangup and nothing to read
        deadline = time.monotonic() + 60
        while os.waitpid(child.pid, os.WNOHANG) == (0, 0):
            assert time.monotonic() < deadline, "it still runs without a terminal"
            time.sleep(0.1)
    if at == "formula":
        assert [LOAF.strip()] == [path.read_text().strip() for path in tmp_path.glob("formula-*.txt")]
        return
    kept = json.loads(drafts(tmp_path)[0].read_text())
    assert ["dense_crumb"] == kept["ticked"]
    assert (1 if at == "question" else 0) == len(kept["given"])


def test_who_quits_goes_on_another_time(tmp_path: Path) -> None:
    with program("diagnose", DEMO, folder=tmp_path) as child:
        tick(child, "dense", tmp_path)
        child.send(TAB)
        child.expect(QUESTION)
        child.send("1" + ENTER)
        child.expect(QUESTION)
        child.send("quit" + ENTER)
        child.expect("Kept.")
        assert 0 == ends(child)[0]
    with program("diagnose", folder=tmp_path) as child:
        child.expect("resume: go on with Canteen sandwich loaf")
        child.expect("1 ticked, 1")
        child.expect(PROMPT)
        child.send("resume" + ENTER)
        child.expect(r"2\.")
        child.expect(QUESTION)
        child.send("answers" + ENTER)
        child.expect("Ticked: Dense crumb")
        child.send("enough" + ENTER)
        child.expect("Most likely: |No cause|Nothing in the formula")
        child.expect(AFTER)
        child.send(CTRL_D)
        assert 0 == ends(child)[0]
    assert [] == drafts(tmp_path)


def test_measures_are_asked_for_once_and_temperatures_are_put_into_them(tmp_path: Path) -> None:
    (tmp_path / "measures.json").unlink()
    with program("diagnose", DEMO, folder=tmp_path) as child:
        child.expect("measures>")
        child.send("F uk medium" + ENTER)
        child.expect("Measures: F, grams, UK cups and spoons, medium eggs")
        tick(child, "dense", tmp_path)
        child.send(TAB)
        child.expect(QUESTION)
        child.send("enough" + ENTER)
        child.expect(AFTER)
        child.send("more" + ENTER)
        child.expect("345 F")  # 175 C
        child.send("quit" + ENTER)
        ends(child)
    kept = json.loads((tmp_path / "measures.json").read_text())
    assert {"degrees": "F", "amounts": "grams", "region": "uk", "egg": "medium"} == kept


def test_a_formula_that_is_pasted_where_measures_are_asked_is_taken_as_one(tmp_path: Path) -> None:
    (tmp_path / "measures.json").unlink()
    with program("diagnose", folder=tmp_path) as child:
        child.expect("measures>")
        child.send("2 cups almond flour" + ENTER)
        child.expect("> 2 cups almond flour")
        child.send(
            "4 eggs" + ENTER + "pan: 20 x 10 x 6 cm" + ENTER + "oven: 350 F for 40 min" + ENTER + ENTER
        )
        child.expect(LIST)
        child.send("\x03")
        ends(child)
    (kept,) = tmp_path.glob("formula*.txt")
    assert "2 cups almond flour\n4 eggs\n" in kept.read_text()


def test_a_terminal_made_narrow_and_pasted_rubbish_are_borne(tmp_path: Path) -> None:
    with program("diagnose", DEMO, folder=tmp_path) as child:
        child.expect(LIST)
        child.setwinsize(20, 40)
        child.send(pasted("\x07\x1b]0;title\x07" + "x" * 10_000))
        child.expect("Backspace")
        child.send("\x1b")
        child.expect("never rose far")  # the whole list is back, at its first line
        tick(child, "gummy", tmp_path, begun=True)
        child.send(TAB)
        child.expect(QUESTION)
        child.send(pasted("\x07\x1b[2J" + "9" * 10_000 + "\n1\n2\n") + ENTER)
        child.expect("A number from 1 to")
        child.send("1" + ENTER)
        while child.expect([QUESTION, AFTER]) == 0:
            child.send("enough" + ENTER)
        child.send("quit" + ENTER)
        code, shown = ends(child)
    assert 0 == code
    assert "\x1b]0;" not in shown
    assert "Traceback" not in shown


def test_without_the_formula_it_says_what_it_cannot_know_and_gives_directions(tmp_path: Path) -> None:
    with program("diagnose", folder=tmp_path, ADVISOR_PLAIN="1") as child:
        child.expect(PROMPT)
        child.send("I don't have it" + ENTER)
        for question, answer in (("carries", "loaf held by egg"), ("raised", "2"), ("baked as", "1")):
            child.expect(question)
            child.expect(PROMPT)
            child.send(answer + ENTER)
        child.expect(r"page 1 of \d")
        child.send(NUMBER["collapse_in_oven"] + ENTER + "d" + ENTER)
        child.expect(QUESTION)
        child.send("enough" + ENTER)
        child.expect("WHICH WAY TO GO")
        child.expect("CAUTIONS")
        child.expect("WHAT THIS CANNOT KNOW")
        child.expect(r"advisor diagnose --answers (\S+)")
        child.expect(AFTER)
        child.send("change 1" + ENTER)
        child.expect("no change in grams")
        child.send("quit" + ENTER)
        code, _ = ends(child)
    assert 0 == code
    answers = next(tmp_path.glob("answers-*.yaml"))
    told = told_by([], [], str(answers), load_knowledge())
    assert told.loaf is not None
    assert ("egg_set", "powder", "tin") == (told.loaf.carried_by, told.loaf.raised_by, told.loaf.shape)


def test_a_bake_of_the_trial_record_gives_its_formula(tmp_path: Path) -> None:
    with open_record(tmp_path / "record.sqlite3", to_write=True) as record:
        record.add(Bake(formula="Seed loaf", formula_text=LOAF, baked_on="2026-05-31"))
    with program("diagnose", folder=tmp_path, ADVISOR_PLAIN="1") as child:
        child.expect("bake 1: Seed loaf, baked 2026-05-31")
        child.expect(PROMPT)
        child.send("bake 2" + ENTER)
        child.expect("There is no number 2")
        child.expect(PROMPT)
        child.send("bake 1" + ENTER)
        child.expect(r"page 1 of \d")
        child.send(NUMBER["gummy_centre"] + ENTER)
        child.expect("Ticked")
        child.send("quit" + ENTER)
        child.expect("Kept.")
        assert 0 == ends(child)[0]
    assert LOAF.strip() == json.loads(drafts(tmp_path)[0].read_text())["formula"].strip()


def test_one_key_keeps_the_bake_after_an_answer(tmp_path: Path) -> None:
    (tmp_path / "loaf.txt").write_text(LOAF)
    for key, number in (("k", 1), ("", 1)):
        with program("diagnose", "loaf.txt", "--saw", "gummy", "--no-pager", folder=tmp_path) as child:
            child.expect("k keeps this bake in your record; Enter leaves")
            child.send(key + ENTER)
            code, shown = ends(child)
        assert code == 0
        assert ("Kept as bake 1: Seed loaf." in shown) == (key == "k")
        with open_record(tmp_path / "record.sqlite3", to_write=False) as record:
            assert record.count() == number
            (bake,) = record.latest(9)
            assert bake.seen == ("gummy_centre",)
