"""Asking at the terminal, through the line editor's own pipe."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import ClassVar, TypeVar

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from advisor import load_knowledge
from advisor.diagnosis.asking import QuestionChooser, QuestionInWords
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.interface.desk.baker_measures import BakersMeasures
from advisor.interface.desk.bakers_answers import Told, told_by
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.formula_prompt import ask_for_formula
from advisor.interface.desk.prompting import Prompter
from advisor.interface.interview.interview_heard import Heard, Kind
from advisor.interface.interview.interview_talk import Talk
from advisor.interface.interview.interview_ticks import Quit
from advisor.interface.interview.question_round import QuestionRound, question_of
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor

R = TypeVar("R")
CTRL_C, CTRL_D, ENTER = "\x03", "\x04", "\r"
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
    """A terminal with all abilities but the list, and folders for what is kept."""
    monkeypatch.setenv("ADVISOR_PLAIN", "1")
    (tmp_path / "measures.json").write_text("{}")
    monkeypatch.setenv("ADVISOR_MEASURES", str(tmp_path / "measures.json"))
    monkeypatch.setenv("ADVISOR_DRAFTS", str(tmp_path / "drafts"))
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("LC_ALL", raising=False)
    monkeypatch.setenv("PROMPT_TOOLKIT_NO_CPR", "1")
    monkeypatch.setenv("ADVISOR_TYPED", str(tmp_path))


@contextmanager
def typing(text: str) -> Iterator[None]:
    with create_pipe_input() as keys, create_app_session(input=keys, output=DummyOutput()):
        keys.send_text(text)
        yield


def asked_for(text: str) -> str:
    with typing(text):
        return ask_for_formula()


def told_after(formula: Formula, examiner: Examiner, chooser: QuestionChooser) -> Told:
    talk, heard = Talk(Prompter(), examiner.knowledge, BakersMeasures(), None), Heard()
    QuestionRound(talk, formula, examiner, heard, chooser=chooser).ask()
    return heard.told


@pytest.fixture
def round_of(advisor: Advisor, knowledge: Knowledge) -> Callable[[str], Told]:
    formula = choose_formula(DEMO, knowledge, "us")

    def run(text: str) -> Told:
        with typing(text):
            return told_after(formula, advisor.examiner, QuestionChooser(advisor.examiner))

    return run


class InTurn(QuestionChooser):
    """Asks the same questions in turn, so that what is tested is the asking and not the choice."""

    TURN: ClassVar[tuple[tuple[Kind, str], ...]] = (
        ("question", "door_opened"),
        ("question", "moved_in_oven"),
        ("symptom", "overflow"),
        ("symptom", "pale_crust"),
        ("question", "panning"),
    )

    def choose(
        self, found: Examination, *, skipped: Collection[str] = (), asked: int = 0
    ) -> QuestionInWords | None:
        left = (one for one in self.TURN if one[1] not in skipped)
        return next((question_of(kind, name, load_knowledge()) for kind, name in left), None)


@pytest.fixture
def in_turn(advisor: Advisor, knowledge: Knowledge) -> Callable[[str], Told]:
    """A round after the loaf fell in the oven."""
    formula = choose_formula(DEMO, knowledge, "us")

    def run(text: str) -> Told:
        with typing(FELL + ENTER + "d" + ENTER + text):
            return told_after(formula, advisor.examiner, InTurn(advisor.examiner))

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
    typed = pasted("100 g vital wheat gluten\n90 g wxqzr\n") + END_OF_TEXT
    mended = "\x1b[A\x1b[F" + 4 * "\x7f" + "ater" + "\x1b[B" + ENTER
    path = asked_for(typed + mended)
    assert "100 g vital wheat gluten\n90 g water\n" == Path(path).read_text()
    said = "".join(capsys.readouterr().out.split())
    assert ".txt:2:" in said or "…:2:" in said  # a long path is shortened
    assert "'wxqzr'" in said


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
        ("9" * 50, "No symptom fits"),
        ("wet", f"{GUMMY} Gummy middle, "),
        ("not burnt", "read as no Crust too dark; nothing is ticked for it."),
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
    told = round_of(GUMMY + ENTER + "d" + ENTER + "1" + ENTER + key)
    assert 2 == len(told.saw) + len(told.not_seen) + len(told.answers)


def test_not_knowing_is_always_an_answer_and_the_questions_end(
    round_of: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = round_of("collapse in oven, dense crumb" + ENTER + "d" + ENTER * 12)
    assert {} == told.answers
    assert ("collapse_in_oven", "dense_crumb") == told.saw
    assert () == told.not_seen
    shown = capsys.readouterr().out
    asked = re.findall(r"^(\d)\. ", shown, re.MULTILINE)
    assert [str(n) for n in range(1, len(asked) + 1)] == asked
    assert 1 < len(asked) <= 8
    assert len(asked) == shown.count("   Why: ") + shown.count("   How to look: ")
    assert shown.count("I do not know.") == len(asked)
    assert "That is enough." in shown or "No other question would change the advice." in shown


def test_an_answer_is_given_by_its_first_words_too(in_turn: Callable[[str], Told]) -> None:
    assert {"door_opened": "before_set"} == in_turn("while the" + ENTER + CTRL_C).answers


def test_b_takes_back_the_last_answer(in_turn: Callable[[str], Told]) -> None:
    told = in_turn("1" + ENTER + "b" + ENTER + "2" + ENTER + CTRL_C)
    assert {"door_opened": "before_set"} == told.answers


@pytest.mark.parametrize("typed", ["0", "5", "-1", "²", "99999999999999999999", "maybe", "1 2", "x" * 10_000])
def test_what_is_no_answer_is_asked_again(
    typed: str, in_turn: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = in_turn(typed + ENTER + "1" + ENTER + CTRL_C)
    assert {"door_opened": "no"} == told.answers
    assert "A number from 1 to 3, or Enter alone" in capsys.readouterr().out


def test_a_paste_of_several_lines_is_one_line_and_no_answer_to_what_comes_next(
    in_turn: Callable[[str], Told],
) -> None:
    told = in_turn(pasted("1\n2\n1\n") + ENTER + "2" + ENTER + CTRL_C)
    assert {"door_opened": "before_set"} == told.answers


def test_a_symptom_asked_for_is_there_or_not(in_turn: Callable[[str], Told]) -> None:
    told = in_turn(ENTER * 2 + "1" + ENTER + "2" + ENTER + CTRL_C)
    assert ("collapse_in_oven", "overflow") == told.saw
    assert ("pale_crust",) == told.not_seen
    assert {} == told.answers


def test_an_earlier_answer_is_told_otherwise_by_its_number(
    in_turn: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = in_turn(ENTER.join(["1", "1", "answers", "change 1", "2", "1", ""]) + CTRL_C)
    assert {"door_opened": "before_set", "moved_in_oven": "no"} == told.answers
    assert ("collapse_in_oven", "overflow") == told.saw
    shown = " ".join(capsys.readouterr().out.split())
    assert "0. Ticked: Fell in the oven. 1. Was the oven door opened" in shown
    assert "So far: It stayed shut to the end." in shown


@pytest.mark.parametrize("number", ["7", "x", "-1", "", "99999999"])
def test_a_number_that_was_not_answered_is_said(
    number: str, in_turn: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = in_turn(f"change {number}" + ENTER + "1" + ENTER + CTRL_C)
    assert {"door_opened": "no"} == told.answers
    assert "There is no such number" in capsys.readouterr().out


def test_the_ticks_are_gone_back_to_by_nought(in_turn: Callable[[str], Told]) -> None:
    lines = ["1", "change 0", f"{GUMMY} -{FELL}", "d", "1", ""]
    told = in_turn(ENTER.join(lines) + CTRL_C)
    assert ("gummy_centre",) == told.saw
    assert {"door_opened": "no", "moved_in_oven": "no"} == told.answers


def test_what_is_put_aside_is_not_counted_and_can_be_answered_later(
    in_turn: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = in_turn(ENTER.join(["s", "1", "answers", "change 1", "3", ""]) + CTRL_C)
    assert {"door_opened": "after_set", "moved_in_oven": "no"} == told.answers
    assert "(put aside)" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("why", "with what the loaf shows"),
        ("why underbaked", "In general about"),
        ("why not underbaked", "Signs of it that are missing"),
        ("why not", "Of which cause?"),
        ("why not nonsense", "No cause or symptom is called 'nonsense'"),
        ("why gummy middle", "Where the risk comes from"),
        ("explain", "would move"),
        ("explain proof", "proof: "),
        ("explain gummy middle", "(#####)"),
        ("explain zzzz", "No such word is explained"),
        ("units", "Measures: C, grams"),
        ("units F", "Measures: F, grams"),
        ("units parsecs", "Not understood: parsecs"),
        ("help", "take back the last answer"),
    ],
)
def test_what_is_asked_beside_a_question_is_answered_and_the_question_stays(
    typed: str, said: str, in_turn: Callable[[str], Told], capsys: pytest.CaptureFixture[str]
) -> None:
    told = in_turn(typed + ENTER + "1" + ENTER + CTRL_C)
    assert {"door_opened": "no"} == told.answers
    shown = " ".join(capsys.readouterr().out.split())
    assert said.lower() in shown.lower()


def test_enough_ends_the_questions_and_quit_the_interview(in_turn: Callable[[str], Told]) -> None:
    assert {"door_opened": "no"} == in_turn(ENTER.join(["1", "enough", ""])).answers
    with pytest.raises(Quit):
        in_turn(ENTER.join(["1", "quit", ""]))


def test_what_was_told_comes_back_from_its_file(tmp_path: Path, knowledge: Knowledge) -> None:
    told = Told(
        saw=("gummy_centre",), not_seen=("overflow",), answers={"door_opened": "no", "panning": "pressed"}
    )
    path = tmp_path / "answers.yaml"
    path.write_text(told.as_file())
    assert told == told_by([], [], str(path), knowledge)
    path.write_text(Told(saw=("gummy_centre",)).as_file())
    assert Told(saw=("gummy_centre",)) == told_by([], [], str(path), knowledge)
