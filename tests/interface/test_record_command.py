"""`advisor record` from the command line: bakes in and out, what was learnt, and every fault in one line."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

import jsonschema
import pytest

from advisor import load_knowledge
from advisor.interface.commands.command_line import main
from advisor.interface.desk.bake_keeping import Noted
from advisor.interface.record import record_adding
from advisor.interface.record.record_noted import with_known_names
from advisor.rendering.documents.schemas import schema_of

LOAF = "canteen-sandwich-loaf-underbaked"


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "record.sqlite3"
    monkeypatch.setenv("ADVISOR_RECORD", str(path))
    return path


@pytest.fixture
def longer(tmp_path: Path, knowledge: object) -> str:
    """The loaf that came out underbaked, baked half an hour longer."""
    from advisor import load_knowledge

    text = load_knowledge().formulas[LOAF].read_text("utf-8")
    assert "for 45 min" in text
    path = tmp_path / "longer.txt"
    path.write_text(text.replace("for 45 min", "for 75 min"), "utf-8")
    return str(path)


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    try:
        code = main(["record", *words])
    except SystemExit as left:
        code = int(str(left.code))
    said = capsys.readouterr()
    return code, said.out, said.err


def keep_two(capsys: pytest.CaptureFixture[str], longer: str, *, worked: bool) -> None:
    seen = ["--saw", "gummy_centre", "--nothing-else"]
    first = ("add", LOAF, *seen, "--crumb-mark", "1", "--core", "76", "--date", "2026-05-01")
    after = ["--nothing-else"] if worked else seen
    marks = ("--crumb-mark", "4" if worked else "1", "--volume-mark", "4", "--lot", "whole-egg=L12")
    second = (
        "add",
        longer,
        *after,
        *marks,
        "--followed",
        "bake-longer",
        "--after",
        "1",
        "--date",
        "2026-05-03",
    )
    for words in (first, second):
        assert 0 == run(capsys, *words)[0]


def test_every_verb_has_its_json_and_its_exit(
    place: Path, longer: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep_two(capsys, longer, worked=True)
    export = str(tmp_path / "out.yaml")
    verbs: Sequence[Sequence[str]] = (
        ("add", LOAF), ("list",), ("show", "2"), ("over-time", "Canteen sandwich loaf"), ("over-time", LOAF),
        ("find", "canteen"), ("export",), ("export", "--out", export), ("import", export), ("learned",),
        ("take-back",), ("take-back", "3", "--undo"),
    )  # fmt: skip
    for words in verbs:
        code, out, err = run(capsys, *words, "--json")
        assert (0, "") == (code, err), words
        jsonschema.validate(json.loads(out), schema_of("record"))
    for words in (("show", "99"), ("find", "nothing-like-it"), ("over-time", "nothing"), ("take-back", "99")):
        code, out, err = run(capsys, *words)
        assert (1, "") == (code, out), words
        assert err.startswith("advisor: ")


@pytest.mark.parametrize("verb", ["list", "export", "learned", "take-back"])
def test_without_a_record_there_is_nothing_and_none_is_made(
    verb: str, place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, verb)
    assert (1, "") == (code, out)
    assert "no bakes are kept yet" in err
    assert not place.exists()


def test_a_change_that_worked_speaks_for_its_cause(
    place: Path, longer: str, capsys: pytest.CaptureFixture[str]
) -> None:
    keep_two(capsys, longer, worked=True)
    page = run(capsys, "show", "2")[1]
    assert "It worked (gone: Gummy middle)." in page
    assert "Right about" in page
    back = json.loads(run(capsys, "show", "2", "--json")[1])["looked_back"]
    was, now = back["causes"]["underbaked"]
    assert now > was
    taught = {shift["id"]: shift for shift in json.loads(run(capsys, "learned", "--json")[1])["shifts"]}
    assert 1 < taught["underbaked"]["value"] <= 2
    assert [2] == taught["underbaked"]["bakes"]


def test_a_change_that_failed_speaks_against_its_cause(
    place: Path, longer: str, capsys: pytest.CaptureFixture[str]
) -> None:
    keep_two(capsys, longer, worked=False)
    page = run(capsys, "show", "2")[1]
    assert "It did not help (still there: Gummy middle)." in page
    back = json.loads(run(capsys, "show", "2", "--json")[1])["looked_back"]
    was, now = back["causes"]["underbaked"]
    assert now < was
    assert "wrong: Gummy middle came" in " ".join(page.split())
    taught = {shift["id"]: shift for shift in json.loads(run(capsys, "learned", "--json")[1])["shifts"]}
    assert taught["underbaked"]["value"] < 1


def test_what_was_learnt_is_used_said_and_left_out(
    place: Path, longer: str, capsys: pytest.CaptureFixture[str]
) -> None:
    def odds_of_underbaked(*words: str) -> float:
        main(["diagnose", "canteen-sandwich-loaf", "--saw", "gummy_centre", "--json", *words])
        found = json.loads(capsys.readouterr().out)
        p = next(c["probability"] for c in found["causes"] if c["id"] == "underbaked")
        said = any(text.startswith("learnt here: ") for text in found["assumed"])
        assert ("--no-learning" not in words and place.exists()) == said
        return float(p / (1 - p))

    plain = odds_of_underbaked()
    keep_two(capsys, longer, worked=True)
    assert odds_of_underbaked() > plain
    assert odds_of_underbaked("--no-learning") == plain
    assert 0 == run(capsys, "take-back", "2")[0]
    assert run(capsys, "learned")[0] == 1


def test_a_bake_that_changed_more_teaches_nothing_and_says_why(
    place: Path, longer: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = Path(longer)
    text = path.read_text("utf-8")
    water = next(line for line in text.splitlines() if line.endswith("water"))
    path.write_text(text.replace(water, "90 g water"), "utf-8")
    keep_two(capsys, longer, worked=True)
    assert "Nothing is learnt from it: more than one thing was changed." in run(capsys, "show", "2")[1]
    assert 1 == run(capsys, "learned")[0]


def test_over_time_says_what_changed_what_it_did_and_the_best(
    place: Path, longer: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep_two(capsys, longer, worked=True)
    for ending in ("svg", "png"):
        plot = tmp_path / f"marks.{ending}"
        code, page, _ = run(capsys, "over-time", "Canteen sandwich loaf", "--plot", str(plot))
        assert 0 == code
        assert plot.stat().st_size > 1000
    assert "Bake longer" in (tmp_path / "marks.svg").read_text("utf-8")
    one_line = " ".join(page.split())
    assert "Changed: followed: Bake longer, oven 175 C for 75 min instead of 175 C for 45 min" in one_line
    assert "It did: marks +3.0; gone: Gummy middle" in one_line
    assert "Best so far: bake 2 of 2026-05-03, mark 4.0 of 5." in one_line


def test_a_bake_is_read_from_yaml(place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    note = tmp_path / "bake.yaml"
    note.write_text(
        f"formula: {LOAF}\nsaw: [gummy_centre]\nnot: [flat_loaf]\ncrumb: 2\nheight_cm: 9.5\n"
        'lots: {whole_egg: "12"}\ndate: "2026-05-01"\nnotes: "soft"\n',
        "utf-8",
    )
    assert 0 == run(capsys, "add", "--from", str(note))[0]
    kept = json.loads(run(capsys, "show", "1", "--json")[1])["bakes"][0]
    assert (["gummy_centre"], ["flat_loaf"], 2, 9.5) == (
        kept["saw"],
        kept["not"],
        kept["crumb"],
        kept["height_cm"],
    )
    assert ({"whole_egg": "12"}, "2026-05-01", "soft") == (kept["lots"], kept["date"], kept["notes"])
    note.write_text(f"formula: {LOAF}\ncrum: 2\n", "utf-8")
    code, _, err = run(capsys, "add", "--from", str(note))
    assert 2 == code
    assert err.startswith(f"{note}:2: 'crum' is no key of a bake")


def test_a_bake_is_asked_for_at_a_terminal(
    place: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from advisor.interface.record import record_asking

    answers = iter(["y", "gummy middle", "d", "y", "3", "6", "2", "", "", "9,5", "", "", "", "", "by hand"])
    monkeypatch.setattr(record_adding, "can_ask", lambda: True)
    monkeypatch.setattr(record_asking, "ask_for_formula", lambda region: LOAF)
    monkeypatch.setattr(record_asking.Prompter, "can_show_a_list", False)
    monkeypatch.setattr(record_asking.Prompter, "line", lambda self, prompt, words=(): next(answers))
    code, out, _ = run(capsys, "add")
    assert 0 == code
    assert "Give a mark from 1 to 5" in out
    kept = json.loads(run(capsys, "show", "1", "--json")[1])["bakes"][0]
    assert (["gummy_centre"], 3, 2, 9.5, "by hand") == (
        kept["saw"], kept["volume"], kept["crumb"], kept["height_cm"], kept["notes"],
    )  # fmt: skip
    assert "flat_loaf" in kept["not"]


def test_a_bakers_own_words_are_read_and_kept(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(
        capsys, "add", LOAF, "--saw", "sank on the rack", "lovely day", "--notes", "Oven 2.", "--json"
    )
    kept = json.loads(out)["bakes"][0]
    assert (0, ["collapse_on_cooling"]) == (code, kept["saw"])
    assert "Oven 2. Said: sank on the rack; lovely day." == kept["notes"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("add",), "name a formula"),
        (("add", "no-such-loaf"), "no file and no demo formula"),
        (("add", LOAF, "--saw", "flat_loaf", "--not", "flat_loaf"), "seen and as not seen"),
        (("add", LOAF, "--crumb-mark", "6"), "no mark from 1 to 5"),
        (("add", LOAF, "--date", "today"), "is no date"),
        (("add", LOAF, "--core", "400"), "cannot be"),
        (("add", LOAF, "--lot", "L12"), "write it as ingredient=lot"),
        (("add", LOAF, "--followed", "more-luck"), "no change 'more-luck'"),
        (("add", LOAF, "--followed", "cut-water"), "no earlier bake"),
        (("add", LOAF, "--after", "7"), "there is no bake 7"),
        (("import", "/nowhere/bakes.yaml"), "cannot be read"),
        (("list", "--record", "/"), "this is a folder"),
        (("list", "--record", "/nowhere/record"), "there is no trial record"),
        (("over-time", "x", "--plot", "x.gif"), "a picture ends in .svg or .png"),
        ((), "VERB"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_a_fault_is_one_line_and_exit_2(
    words: tuple[str, ...], says: str, place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, *words)
    assert (2, "") == (code, out)
    assert says in err
    assert 1 == len(err.splitlines())


def test_a_damaged_record_keeps_nobody_from_a_check(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place.write_bytes(b"not a database, and long enough to be looked at" * 20)
    assert main(["check", "canteen-sandwich-loaf"]) in (0, 1)
    said = capsys.readouterr()
    assert "WHAT" in said.out or "Canteen" in said.out
    assert "nothing learnt was used" in said.err
    code, _, err = run(capsys, "list")
    assert 2 == code
    assert "is damaged" in err


@pytest.mark.parametrize("word", ["cut-water", "cut water", "{says}", "{says}."])
def test_a_followed_change_is_told_by_its_id_or_by_its_printed_name(word: str) -> None:
    knowledge = load_knowledge()
    noted = Noted(followed=word.format(says=knowledge.levers["cut-water"].says.rstrip(".").upper()))
    assert "cut-water" == with_known_names(noted, knowledge).followed


@pytest.fixture
def mended(tmp_path: Path, place: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A wet loaf that was kept with its gummy middle, and its file with change 1 of that answer written into it."""
    path = tmp_path / "wet.txt"
    path.write_text(load_knowledge().formulas["canteen-sandwich-loaf-excess-water"].read_text("utf-8"))
    assert run(capsys, "add", str(path), "--saw", "gummy_centre")[0] == 0
    assert main(["diagnose", str(path), "--saw", "gummy_centre", "--apply", "1", "--save"]) == 0
    capsys.readouterr()
    return path


def followed_in(capsys: pytest.CaptureFixture[str], number: int) -> tuple[str | None, object]:
    kept = json.loads(run(capsys, "show", str(number), "--json")[1])["bakes"][0]
    return kept["followed"], kept["follows"]


def test_a_followed_change_is_recognised_by_its_amounts(mended: Path, capsys) -> None:
    code, _, err = run(capsys, "add", str(mended), "--not", "gummy_centre")
    assert code == 0
    assert "Recognised by its amounts: change 1 of bake 1 was followed" in err
    followed, follows = followed_in(capsys, 2)
    assert followed is not None and follows is not None
    # The same once more is no change, and another amount is no change that was proposed.
    assert "Recognised" not in run(capsys, "add", str(mended))[2]
    text = mended.read_text()
    mended.write_text(text.replace(" g water", ".0 g water").replace("vinegar", "vinegar\n31 g sesame seeds"))
    assert run(capsys, "add", str(mended))[0] == 0
    assert [None, None] == [followed_in(capsys, number)[0] for number in (3, 4)]


def test_a_followed_change_is_told_by_its_printed_number(mended: Path, capsys) -> None:
    code, _, err = run(capsys, "add", str(mended), "--followed", "1")
    assert (0, True) == (code, "Change 1 of bake 1 was followed" in err)
    by_number = followed_in(capsys, 2)
    assert run(capsys, "add", str(mended), "--after", "1")[0] == 0
    assert by_number == followed_in(capsys, 3)
    code, _, err = run(capsys, "add", str(mended), "--followed", "99")
    assert (2, True) == (code, "no change '99'" in err)


def test_the_number_of_a_diagnosis_can_be_tried(capsys) -> None:
    wet, saw = "canteen-sandwich-loaf-excess-water", ("--saw", "gummy_centre", "dense_crumb")
    for number in ("1", "2"):
        assert main(["diagnose", wet, *saw, "--apply", number]) == 0
        printed = capsys.readouterr().out
        assert main(["try", wet, number, *saw, "--apply"]) == 0
        assert printed == capsys.readouterr().out
