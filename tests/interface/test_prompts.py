"""Asking at the terminal: through the line editor's own pipe, and as a whole program on a pseudo-terminal."""

from __future__ import annotations

import json
import os
import re
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

import pexpect
import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from advisor import load_knowledge
from advisor.interface.formula_choice import InputFault, choose_formula
from advisor.interface.formula_prompt import ask_for_formula
from advisor.interface.question_round import ask_about
from advisor.interface.told import Told, told_by
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor

R = TypeVar("R")
TOP = Path(__file__).parents[2]
CTRL_C, CTRL_D, ENTER = "\x03", "\x04", "\r"
PROMPT = ">( |\x08)"
"""What a terminal gets for `> `: the blank may be a move of the cursor."""
END_OF_TEXT = "\x1b\r"
"""Esc and Enter, which end a text at once; Enter alone does so only where no other key waits behind it."""
LOAF = "Seed loaf\n\nDry:\n100 g ground flaxseed\n60 g almond meal\n\n3 large eggs\n150 g water\nslices: 12\n"
DEMO = "canteen-sandwich-loaf"
NUMBER = {name: str(n) for n, name in enumerate(load_knowledge().symptoms, 1)}
"""Symptom to its number in the list."""
GUMMY, FELL, DENSE = NUMBER["gummy_centre"], NUMBER["collapse_in_oven"], NUMBER["dense_crumb"]


def pasted(text: str) -> str:
    """What a terminal sends for a paste."""
    return f"\x1b[200~{text}\x1b[201~"


@pytest.fixture(autouse=True)
def quiet_terminal(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A terminal with all abilities, and a folder for what is kept."""
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("LC_ALL", raising=False)
    monkeypatch.setenv("PROMPT_TOOLKIT_NO_CPR", "1")
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))


@contextmanager
def typing(text: str) -> Iterator[None]:
    with create_pipe_input() as keys, create_app_session(input=keys, output=DummyOutput()):
        keys.send_text(text)
        yield


def asked_for(text: str) -> str:
    with typing(text):
        return ask_for_formula()


@pytest.fixture
def round_of(advisor: Advisor, knowledge: Knowledge) -> Callable[[str], Told]:
    formula = choose_formula(DEMO, knowledge, "us")

    def run(text: str) -> Told:
        with typing(text):
            return ask_about(formula, advisor.examiner)

    return run


@pytest.mark.parametrize("typed", [DEMO, "Canteen sandwich LOAF", f"  {DEMO} "])
def test_a_demo_formula_is_named_with_hyphens_or_blanks(typed: str) -> None:
    assert DEMO == asked_for(typed + ENTER)


def test_a_file_is_named_even_with_blanks_in_its_name(tmp_path: Path) -> None:
    path = tmp_path / "my loaf 2.txt"
    path.write_text(LOAF)
    assert str(path) == asked_for(str(path) + ENTER)


def test_the_tabulator_completes_a_demo_formula() -> None:
    assert "almond-egg-loaf-excess-fat" == asked_for("almond-egg-loaf-excess-f\t" + ENTER)


def test_a_pasted_formula_with_empty_lines_is_kept_whole(
    knowledge: Knowledge, capsys: pytest.CaptureFixture[str]
) -> None:
    path = asked_for(pasted(LOAF) + ENTER)
    assert LOAF == Path(path).read_text()
    assert "Seed loaf" == choose_formula(path, knowledge, "us").name
    assert path in capsys.readouterr().out.replace("\n", "")


def test_a_paste_that_the_terminal_does_not_mark_is_not_cut_at_its_empty_lines() -> None:
    assert LOAF == Path(asked_for(LOAF.replace("\n", ENTER) + ENTER)).read_text()


def test_a_formula_is_typed_line_by_line_and_ended_with_ctrl_d_too() -> None:
    typed = "200 g water" + ENTER + "100 g vital wheat gluten" + CTRL_D
    assert "200 g water\n100 g vital wheat gluten\n" == Path(asked_for(typed)).read_text()


def test_a_formula_that_cannot_be_read_stands_there_to_be_mended(capsys: pytest.CaptureFixture[str]) -> None:
    typed = pasted("100 g vital wheat gluten\n90 g watr\n") + END_OF_TEXT
    mended = "\x1b[A\x1b[F" + "\x7f" + "er" + "\x1b[B" + ENTER
    path = asked_for(typed + mended)
    assert "100 g vital wheat gluten\n90 g water\n" == Path(path).read_text()
    said = "".join(capsys.readouterr().out.split())
    assert ".txt:2:" in said or "…:2:" in said  # a long path is shortened
    assert "'watr'" in said


def test_a_name_that_is_near_is_offered_and_asked_again(capsys: pytest.CaptureFixture[str]) -> None:
    assert DEMO == asked_for("canteen sandwhich" + END_OF_TEXT + DEMO + ENTER)
    assert f"near: {DEMO}," in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("typed", ["", ENTER, "nonsense" + ENTER, "x" * 5000 + ENTER, "\x07??" + ENTER])
@pytest.mark.parametrize("key", [CTRL_C, CTRL_D])
def test_leaving_without_a_formula_is_one_clear_line(typed: str, key: str) -> None:
    with pytest.raises(InputFault, match=r"^advisor: stopped without a formula$"):
        asked_for(typed + (key if key == CTRL_C or typed.endswith(ENTER) or not typed else ENTER + key))


def test_leaving_keeps_what_was_pasted() -> None:
    with pytest.raises(InputFault, match="what was typed is kept in ") as fault:
        asked_for(pasted(LOAF) + CTRL_C)
    assert LOAF == Path(str(fault.value).split("kept in ")[1]).read_text()


def test_control_characters_in_a_paste_are_named_and_never_sent_to_the_terminal(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(InputFault):
        asked_for(pasted("Loaf \x1b[2J\x07\n100 g water\n") + END_OF_TEXT + CTRL_C)
    shown = capsys.readouterr().out
    assert "U+001B" in shown
    assert "\x1b" not in shown


def test_symptoms_are_ticked_by_number_and_word_and_taken_back(round_of: Callable[[str], Told]) -> None:
    lines = [f"{GUMMY} {DENSE}", "gummy layer; runny", f"-{DENSE}", "d"]
    told = round_of(ENTER.join(lines) + ENTER + CTRL_C)
    assert ("gummy_centre", "gummy_base", "runny_dough") == told.saw


def test_pages_go_forward_with_enter_and_back_with_b(
    round_of: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    round_of(GUMMY + ENTER + ENTER + "b" + ENTER + CTRL_C)
    pages = re.findall(r"\(page (\d) of \d\)", capsys.readouterr().out)
    assert ["1", "2", "1"] == pages


@pytest.mark.parametrize(("columns", "lines"), [(80, 24), (40, 24), (34, 12)])
def test_a_page_of_symptoms_fits_the_terminal(
    columns: int,
    lines: int,
    round_of: Callable[[str], Told],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    knowledge: Knowledge,
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    monkeypatch.setenv("LINES", str(lines))
    with pytest.raises(InputFault):
        round_of(ENTER * 40 + CTRL_C)
    shown = capsys.readouterr().out
    pages = shown.split("WHAT DOES THE LOAF SHOW?")[1:]
    count = int(re.findall(r"page\s\d+\sof\s(\d+)", shown)[0])
    for page in pages[:count]:
        # The heading is counted with its page; the last row is the one to type in.
        assert len(page.split("Nothing is ticked")[0].rstrip("\n").split("\n")) <= lines - 1
    assert max(map(len, shown.splitlines())) <= columns
    first_round = " ".join("\n".join(pages[:count]).split())
    assert all(symptom.name in first_round for symptom in knowledge.symptoms.values())


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("99", f"There is no number 99: they go from 1 to {len(NUMBER)}."),
        ("0", "There is no number 0"),
        ("9" * 50, "Nothing is called"),
        (
            "gummy",
            f"'gummy' may be: {GUMMY} Gummy middle, {NUMBER['gummy_base']} Gummy layer at the base. Give",
        ),
        ("purpel crumb", f"{NUMBER['purple_crumb']} Purple or reddish crumb"),
        ("colapse", f"{FELL} Fell in the oven"),
        ("\x1b[2J", "Nothing is ticked yet"),
    ],
)
def test_what_cannot_be_ticked_is_said_and_nothing_is_ticked(
    typed: str, said: str, round_of: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(InputFault, match="nothing was ticked"):
        round_of(typed + ENTER + "done" + ENTER + CTRL_D)
    assert said in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("key", [CTRL_C, CTRL_D])
def test_leaving_before_anything_is_ticked_is_one_clear_line(
    key: str, round_of: Callable[[str], Told]
) -> None:
    with pytest.raises(
        InputFault, match=r"^advisor: stopped; nothing was ticked, so there is nothing to go by$"
    ):
        round_of(key)


@pytest.mark.parametrize("key", [CTRL_C, CTRL_D])
def test_leaving_early_keeps_what_was_answered(key: str, round_of: Callable[[str], Told]) -> None:
    assert Told(saw=("gummy_centre",)) == round_of(GUMMY + ENTER + key)
    assert Told(saw=("gummy_centre",)) == round_of(GUMMY + ENTER + "d" + ENTER + key)
    told = round_of(GUMMY + ENTER + "d" + ENTER + ENTER + "1" + ENTER + key)
    assert 1 == len(told.answers)


def test_none_of_the_telling_symptoms_counts_as_looked_for(round_of: Callable[[str], Told]) -> None:
    told = round_of(GUMMY + ENTER + "d" + ENTER + "0" + ENTER + CTRL_D)
    assert 4 == len(told.not_seen)
    assert ("gummy_centre",) == told.saw
    some = round_of(GUMMY + ENTER + "d" + ENTER + "2" + ENTER + CTRL_D)
    assert 2 == len(some.saw)
    assert 3 == len(some.not_seen)
    assert not set(some.saw) & set(some.not_seen)


def test_not_knowing_is_always_an_answer_and_the_questions_end(
    round_of: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = round_of("collapse in oven, dense crumb" + ENTER + "d" + ENTER * 12)
    assert {} == told.answers
    shown = capsys.readouterr().out
    asked = re.findall(r"^(\d)\. ", shown, re.MULTILINE)
    assert [str(n) for n in range(1, len(asked) + 1)] == asked
    assert 1 < len(asked) <= 8
    assert shown.count("   Why: ") == len(asked)
    assert shown.count("I do not know.") == len(asked)
    assert "That is enough." in shown or "No other question would change the advice." in shown


def test_the_question_that_tells_most_comes_first_and_is_answered_by_its_words(
    round_of: Callable[[str], Told],
) -> None:
    told = round_of("fell in the oven" + ENTER + "d" + ENTER + ENTER + "while the" + ENTER + CTRL_C)
    assert {"door_opened": "before_set"} == told.answers


def test_b_takes_back_the_last_answer(round_of: Callable[[str], Told]) -> None:
    told = round_of(FELL + ENTER + "d" + ENTER * 2 + "1" + ENTER + "b" + ENTER + "2" + ENTER + CTRL_C)
    assert {"door_opened": "before_set"} == told.answers


@pytest.mark.parametrize("typed", ["0", "5", "-1", "²", "99999999999999999999", "maybe", "1 2"])
def test_what_is_no_answer_is_asked_again(
    typed: str, round_of: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = round_of(FELL + ENTER + "d" + ENTER * 2 + typed + ENTER + "1" + ENTER + CTRL_C)
    assert {"door_opened": "no"} == told.answers
    assert "A number from 1 to 3, or Enter alone" in capsys.readouterr().out


def test_what_was_told_comes_back_from_its_file(tmp_path: Path, knowledge: Knowledge) -> None:
    told = Told(
        saw=("gummy_centre",), not_seen=("overflow",), answers={"door_opened": "no", "panning": "pressed"}
    )
    path = tmp_path / "answers.yaml"
    path.write_text(told.as_file())
    assert told == told_by([], [], str(path), knowledge)
    path.write_text(Told(saw=("gummy_centre",)).as_file())
    assert Told(saw=("gummy_centre",)) == told_by([], [], str(path), knowledge)


def terminal(folder: Path) -> dict[str, str]:
    """The surroundings of a program; nothing here answers a question for the place of the cursor."""
    return {"TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1", "TMPDIR": str(folder), "PYTHONPATH": str(TOP)}


@contextmanager
def program(*arguments: str, folder: Path, **environment: str) -> Iterator[pexpect.spawn[str]]:
    """The program on a pseudo-terminal of 24 rows and 80 columns."""
    child = pexpect.spawn(
        sys.executable,
        ["-m", "advisor", *arguments],
        env={**os.environ, **terminal(folder), **environment},
        encoding="utf-8",
        dimensions=(24, 80),
        timeout=60,
        cwd=str(folder),
    )
    try:
        yield child
    finally:
        child.close(force=True)


def ends(child: pexpect.spawn[str]) -> tuple[int | None, str]:
    """The exit code, and what was shown until then."""
    child.expect(pexpect.EOF)
    child.wait()
    return child.exitstatus, str(child.before)


@pytest.mark.parametrize("environment", [{}, {"NO_COLOR": "1", "LC_ALL": "C"}, {"TERM": "dumb"}])
def test_a_full_round_on_a_terminal(tmp_path: Path, environment: dict[str, str]) -> None:
    with program("diagnose", folder=tmp_path, **environment) as child:
        child.expect("Ctrl-C leaves")
        child.expect(PROMPT)
        lines = LOAF.replace("\n", ENTER)
        child.send(lines if environment.get("TERM") == "dumb" else pasted(lines))
        child.expect("slices: 12")
        child.send(ENTER)
        child.expect(r"Kept in (\S+)")
        kept = child.match.group(1)
        child.expect("page 1 of 2")
        child.send("gummy middle" + ENTER)
        child.expect(f"Ticked: {GUMMY} Gummy middle")
        child.send("d" + ENTER)
        child.expect("LOOK ONCE MORE")
        child.send(ENTER)
        child.expect("Why: ")
        child.send("1" + ENTER)
        while child.expect(["Why: ", "No other question|That is enough"]) == 0:
            child.send(ENTER)
        child.expect("MOST LIKELY CAUSES")
        child.expect(r"advisor diagnose (\S+) --answers (\S+)")
        path, answers = child.match.groups()
        code, _ = ends(child)
    assert 0 == code
    assert kept == path
    assert LOAF == Path(path).read_text()
    told = told_by([], [], answers, load_knowledge())
    assert ("gummy_centre",) == told.saw
    assert 1 == len(told.answers)


@pytest.mark.parametrize("key", [CTRL_C, CTRL_D])
@pytest.mark.parametrize("arguments", [("diagnose",), ("diagnose", DEMO), ("check",)])
def test_leaving_at_the_first_prompt_exits_2_with_one_line(
    arguments: tuple[str, ...], key: str, tmp_path: Path
) -> None:
    with program(*arguments, folder=tmp_path) as child:
        child.expect(PROMPT)
        child.send(key)
        code, shown = ends(child)
    assert 2 == code
    assert "advisor: stopped" in shown
    assert "Traceback" not in shown


def test_leaving_a_question_still_gives_the_result_and_leaves_the_terminal_as_it_was(tmp_path: Path) -> None:
    command = f"{sys.executable} -m advisor diagnose {DEMO}"
    child = pexpect.spawn(
        "/bin/sh",
        ["-c", f"stty -g > before; {command}; stty -g > after; echo finished"],
        env={**os.environ, **terminal(tmp_path)},
        encoding="utf-8",
        dimensions=(24, 80),
        timeout=60,
        cwd=str(tmp_path),
    )
    child.expect(PROMPT)
    child.send(FELL + ENTER)
    child.expect("Ticked")
    child.send(CTRL_C)
    child.expect("Going on with what was answered")
    child.expect("MOST LIKELY CAUSES")
    child.expect("finished")
    child.close(force=True)
    assert (tmp_path / "before").read_text() == (tmp_path / "after").read_text()


def test_questions_stay_out_of_json_that_goes_to_a_file(tmp_path: Path) -> None:
    command = f"{sys.executable} -m advisor diagnose {DEMO} --json > found.json"
    child = pexpect.spawn(
        "/bin/sh",
        ["-c", command],
        env={**os.environ, **terminal(tmp_path)},
        encoding="utf-8",
        timeout=60,
        cwd=str(tmp_path),
    )
    child.expect(PROMPT)
    child.send(GUMMY + ENTER)
    child.expect("Ticked")
    child.send(CTRL_D)
    child.expect(pexpect.EOF)
    child.close(force=True)
    found = json.loads((tmp_path / "found.json").read_text())
    assert found["symptoms"]["gummy_centre"]["observed"] is True
