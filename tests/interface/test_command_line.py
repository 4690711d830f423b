"""The command `advisor` as a whole: exit codes, what goes where, and faults said in one clear line."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import jsonschema
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from laws import examples

from advisor import load_knowledge
from advisor.interface.commands.command_line import main
from advisor.rendering.documents.schemas import schema_of

TOP = Path(__file__).parents[2]
DEMOS = list(load_knowledge().formulas)
SOUND, FAULTY = "canteen-sandwich-loaf", "canteen-sandwich-loaf-excess-water"
ASKED = (
    FAULTY, "almond-crackers", "butter-brioche-too-much-sugar", "cheese-dough-rounds", "psyllium-rolls-excess-gum",
    "rice-reference-loaf-excess-water", "ordinary-wheat-tin-loaf-overproofed", "egg-white-loaf-overbaked",
)  # fmt: skip
"""Demo formulas of every structure and kind, right and wrong ones."""
ENGINES = ["durable", "clips"] if sys.version_info < (3, 13) else ["clips"]


@dataclass(frozen=True)
class Ran:
    """What one run gave."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> dict[str, object]:
        found = json.loads(self.out)
        assert isinstance(found, dict)
        return found


def run(*arguments: str, given: bytes = b"") -> Ran:
    """Run the command in this process with standard input that is no terminal."""
    out, err, stdin = io.StringIO(), io.StringIO(), sys.stdin
    sys.stdin = io.TextIOWrapper(io.BytesIO(given), "utf-8")
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            try:
                code = main(arguments)
            except SystemExit as leaving:
                code = leaving.code if isinstance(leaving.code, int) else 0
    finally:
        sys.stdin = stdin
    return Ran(code, out.getvalue(), err.getvalue())


def refused(*arguments: str, given: bytes = b"", lines: int = 1) -> str:
    """Run what must be refused: exit 2, so many lines on standard error, nothing on standard output."""
    ran = run(*arguments, given=given)
    assert (2, "") == (ran.code, ran.out), ran.err
    assert lines == len(ran.err.splitlines()), ran.err
    assert "fault in the program" not in ran.err
    assert "Traceback" not in ran.err
    return ran.err


Schemas = dict[str, jsonschema.Draft202012Validator]


@pytest.fixture(scope="module")
def schemas() -> Schemas:
    found = {kind: run("--schema", kind).document for kind in ("check", "diagnosis")}
    for schema in found.values():
        jsonschema.Draft202012Validator.check_schema(schema)
    return {kind: jsonschema.Draft202012Validator(schema) for kind, schema in found.items()}


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("check", SOUND), 0),
        (("check", FAULTY), 1),
        (("check", FAULTY, "--risk", "1"), 1),  # a number far out is no all-clear at any limit
        (("check", SOUND, "--risk", "1"), 0),
        (("check", SOUND, "--risk", "0"), 1),
        (("check", SOUND, "--net-carb-max", "0.1"), 1),
        (("check", SOUND, FAULTY), 1),
        (("check", SOUND, "no-such-file.txt"), 2),
        (("diagnose", SOUND, "--saw", "gummy_centre"), 0),
        (("diagnose", SOUND, "--not", "gummy-centre"), 0),
        (("sources", "handbook-of-no-such-thing"), 1),
        (("sources", "usda"), 0),
        (("--schema", "check"), 0),
        (("--version",), 0),
        (("--help",), 0),
        ((), 0),
    ],
)
def test_exit_codes(arguments: tuple[str, ...], code: int) -> None:
    ran = run(*arguments)
    assert code == ran.code, ran.err
    assert ran.out


# Each takes a second and more, most of it for loaves made otherwise than written; the demo formulas that are left to
# the slow tests differ from one of these in amounts alone.
@pytest.mark.parametrize(
    "name", [n if n in ASKED else pytest.param(n, marks=pytest.mark.slow) for n in DEMOS]
)
def test_json_of_a_demo_formula_follows_its_schema(name: str, schemas: Schemas) -> None:
    check = run("check", name, "--json")
    assert check.code in (0, 1)
    document = check.document
    schemas["check"].validate(document)
    assert document["next_question"] is None
    diagnosis = run("diagnose", name, "--saw", "gummy_centre", "dense_crumb", "--not", "overflow", "--json")
    assert 0 == diagnosis.code
    schemas["diagnosis"].validate(diagnosis.document)


def test_diagnosis_names_the_question_to_ask_next() -> None:
    question = run("diagnose", SOUND, "--saw", "collapse_in_oven", "--json").document["next_question"]
    assert isinstance(question, dict)
    assert {"id", "question", "because", "answers"} == set(question)
    assert question["id"] in ("door_opened", "moved_in_oven", "weighed_again")
    assert list(load_knowledge().questions[question["id"]].answers) == list(question["answers"])


def test_standard_input_is_a_formula(tmp_path: Path) -> None:
    text = load_knowledge().formulas[SOUND].read_bytes()
    named = run("check", SOUND, "--json").document
    for arguments in (("check", "-", "--json"), ("check", "--json")):
        assert named == run(*arguments, given=text).document
    told = run("diagnose", "-", "--saw", "gummy_centre", "--json", given=text)
    assert run("diagnose", SOUND, "--saw", "gummy_centre", "--json").document == told.document
    path = tmp_path / "loaf.txt"
    path.write_bytes(b"\xef\xbb\xbf" + text.replace(b"\n", b"\r\n"))
    assert named["measures"] == run("check", str(path), "--json").document["measures"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("diagnose",), "name a formula"),
        (("diagnose", SOUND), "say what the loaf showed with --saw"),
        (("diagnose", "-"), "say what the loaf showed"),
        (("check",), "the text is empty"),
    ],
)
def test_without_a_terminal_it_says_what_to_use_instead(arguments: tuple[str, ...], said: str) -> None:
    assert said in refused(*arguments)


def test_a_misspelt_ingredient_names_the_nearest_three(tmp_path: Path) -> None:
    path = tmp_path / "loaf.txt"
    path.write_text("100 g vital wheat gluten\n40 g psilum hask\n90 g water\n")
    said = refused("check", str(path))
    assert f"{path}:2:6: " in said or "…:2:6: " in said
    offered = re.search(r"; write (.+?), (.+?) or (.+?), or add it", said)
    assert offered is not None, said
    assert {"whole psyllium husk", "psyllium husk powder"} < set(offered.groups())


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"100 g vital wheat gluten\n-50 g water\n", ":2:1: "),
        (b"", "the text is empty"),
        (b"\x00\x01\x02", "not text"),
        (b"100 g water\xff\xfe", "UTF-8"),
        (b"x" * 5_000_000, "larger than 1 MB"),
        (b"Loaf \x1b[2J\n100 g water\n", "U+001B"),
        (b"just a title\n", "no line holds an ingredient"),
    ],
)
def test_a_file_that_is_no_formula_is_refused_in_one_line(content: bytes, said: str, tmp_path: Path) -> None:
    path = tmp_path / "loaf.txt"
    path.write_bytes(content)
    assert said in refused("check", str(path))
    assert said in refused("diagnose", str(path), "--saw", "gummy_centre")
    assert said.replace("larger", "more") in refused("check", "-", given=content)


def test_every_problem_of_a_formula_has_its_line(tmp_path: Path) -> None:
    path = tmp_path / "loaf.txt"
    path.write_text("100 g gluten\n-50 g water\n20 g zorbel\noven: hot\n")
    said = refused("check", str(path), lines=3)
    assert ["2", "3", "4"] == [
        line.split(".txt:")[-1].split("…:")[-1].split(":")[0] for line in said.splitlines()
    ]


def test_a_folder_a_missing_file_and_a_name_that_is_near(tmp_path: Path) -> None:
    assert "this is a folder" in refused("check", str(tmp_path))
    assert "there is no such file" in refused("check", str(tmp_path / "none.txt"))
    assert f"near: {SOUND}" in refused("check", "canteen-sandwich-lof")
    assert "no demo formula 'zzz'" in refused("check", "zzz")
    assert "\x1b" not in refused("check", "a\x1b[2J")
    refused("check", "x" * 5000)
    refused("check", "a\x00b")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("diagnose", SOUND, "--saw", "dry_crumb", "--not", "dry_crumb"), "keep one"),
        (("check", SOUND, "--avoid", "sawdust"), "no allergen or ingredient 'sawdust'"),
        (("check", SOUND, "--on-hand", "watr"), "did you mean water"),
        (("check", SOUND, "--risk", "2"), "no share between 0 and 1"),
        (("check", SOUND, "--risk", "nan"), "no number"),
        (("check", SOUND, "--jobs", "0"), "no count"),
        (("check", SOUND, "--engine", "steam"), "invalid choice"),
        (("chek", SOUND), "did you mean check"),
        (("--schema", "chek"), "there are: check, diagnosis"),
    ],
)
def test_a_wrong_word_is_refused_and_the_right_ones_are_named(arguments: tuple[str, ...], said: str) -> None:
    assert said in refused(*arguments)


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (("--saw", "gumy_centre"), "read as 'Gummy middle'."),
        (("--saw", "wet"), "'wet' may mean '"),
        (("--saw", "sank", "on", "the", "rack,", "not", "burnt"), "no 'Crust too dark'"),
        (("--not", "qqqq"), "no symptom fits, kept as a remark"),
    ],
)
def test_words_for_what_was_seen_are_never_refused(told: tuple[str, ...], said: str) -> None:
    ran = run("diagnose", SOUND, *told)
    assert (0, True) == (ran.code, said in ran.err)


def test_symptoms_are_listed_with_how_to_tell_them() -> None:
    every = run("symptoms", "--json").document
    jsonschema.validate(every, schema_of("symptoms"))
    assert len(load_knowledge().symptoms) == len(every["symptoms"])
    one = run("symptoms", "sank", "as", "it", "cooled")
    assert one.out.startswith("Sank while cooling (collapse_on_cooling)")
    assert 1 == run("symptoms", "xyzzy").code


def test_several_formulas_come_in_order_and_a_bad_one_stops_none(tmp_path: Path) -> None:
    bad = tmp_path / "bad.txt"
    bad.write_text("nothing here\n")
    ran = run("check", SOUND, str(bad), FAULTY, "--jsonl")
    names = [json.loads(line)["formula"]["name"] for line in ran.out.splitlines()]
    assert 2 == ran.code
    assert 2 == len(names)
    assert 1 == len(ran.err.splitlines())
    pages = run("check", SOUND, FAULTY).out
    assert run("check", SOUND).out + "\n" + run("check", FAULTY).out == pages


def test_json_of_several_formulas_is_one_list() -> None:
    one_by_one = [run("check", name, "--json").document for name in (SOUND, FAULTY)]
    assert one_by_one == json.loads(run("check", SOUND, FAULTY, "--json").out)
    assert one_by_one == [
        json.loads(line) for line in run("check", SOUND, FAULTY, "--jsonl").out.splitlines()
    ]


@pytest.mark.skipif(len(ENGINES) < 2, reason="only one engine runs on this Python")
@pytest.mark.parametrize(
    "name",
    [
        FAULTY,
        *(pytest.param(n, marks=pytest.mark.slow) for n in (SOUND, "cheese-dough-rounds-coated-cheese")),
    ],
)
def test_both_engines_give_the_same_json(name: str) -> None:
    for rest in (("check", name), ("diagnose", name, "--saw", "dense_crumb", "--not", "dry_crumb")):
        one, other = (run(*rest, "--json", "--engine", engine) for engine in ENGINES)
        assert one.document == other.document


@pytest.mark.skipif(len(ENGINES) > 1, reason="both engines run on this Python")
def test_an_engine_that_does_not_run_here_is_refused_in_one_line() -> None:
    assert "does not run on this Python" in refused("check", SOUND, "--engine", "durable")


def test_a_file_of_answers_is_what_the_options_say(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text('saw: [gummy_centre]\nnot: [dry_crumb]\nanswers:\n  door_opened: "no"\n')
    by_file = run("diagnose", SOUND, "--answers", str(path), "--json")
    assert 0 == by_file.code
    path.write_text('answers:\n  door_opened: "no"\n')
    mixed = ("--saw", "gummy-centre", "--not", "dry_crumb", "--answers", str(path))
    assert by_file.document == run("diagnose", SOUND, *mixed, "--json").document
    without = run("diagnose", SOUND, "--saw", "gummy_centre", "--not", "dry_crumb", "--json").document
    assert without["causes"] != by_file.document["causes"]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("saw: gummy_centre\n", "saw: must be a list"),
        ("seen: [gummy_centre]\n", "the key 'seen' is not known; known keys: saw, not, answers"),
        ("answers: {door_opend: shut}\n", "did you mean door_opened"),
        ("answers: {door_opened: maybe}\n", "no answer to 'door_opened' 'maybe'"),
        ("answers: {door_opened: no}\n", "put quotes around 'no'"),
        ("answers: [door_opened]\n", "answers: must be key: value"),
        ("saw: [a\n", ":"),
        ("- saw\n", "must be one entry: key and value"),
    ],
)
def test_a_bad_file_of_answers_is_refused(content: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(content)
    assert said in refused("diagnose", SOUND, "--answers", str(path))


def test_a_missing_file_of_answers_is_refused(tmp_path: Path) -> None:
    refused("diagnose", SOUND, "--answers", str(tmp_path / "none.yaml"))
    refused("diagnose", SOUND, "--answers", str(tmp_path))


@pytest.mark.parametrize(
    "environment",
    [
        {"LC_ALL": "C"},
        {"PYTHONIOENCODING": "ascii"},
        pytest.param({"LANG": "C", "LC_ALL": ""}, marks=pytest.mark.slow),
    ],
)
def test_where_letters_are_few_pages_are_ascii_and_json_loses_nothing(
    environment: dict[str, str], tmp_path: Path
) -> None:
    path = tmp_path / "loaf.txt"
    path.write_text("Früh… stück\n100 g vital wheat gluten\n90 g water\n", "utf-8")

    def outside(*arguments: str) -> bytes:
        command = [sys.executable, "-m", "advisor", "check", str(path), *arguments]
        surroundings = {**os.environ, "PYTHONPATH": str(TOP), **environment}
        return subprocess.run(
            command, capture_output=True, check=False, env=surroundings, stdin=subprocess.DEVNULL
        ).stdout

    assert outside().decode("ascii").startswith("Fruh... stuck")
    if "LC_ALL" in environment:
        assert "Früh… stück" == json.loads(outside("--json").decode("ascii"))["formula"]["name"]


@pytest.mark.parametrize("columns", ["40", "80"])
def test_no_line_of_a_page_is_wider_than_the_terminal(columns: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    for arguments in (
        ("check", FAULTY, "--all"),
        ("diagnose", FAULTY, "--saw", "gummy_centre"),
        ("sources",),
    ):
        assert max(map(len, run(*arguments).out.splitlines())) <= int(columns)


BITS = [
    "100 g ",
    "vital wheat gluten",
    "\n",
    "½ cup",
    "water",
    "oven: ",
    "175 C",
    "% ",
    ":",
    "(",
    "-",
    "1e9",
    "٣",
]
WRITTEN = st.lists(st.sampled_from(BITS), max_size=12).map("".join).map(str.encode)


@examples(30)
@given(
    content=st.binary(max_size=200)
    | WRITTEN
    | st.text(max_size=80).map(lambda t: t.encode("utf-8", "replace"))
)
@example(content=b"pan: 21 x 10 x 10 cm")
@example(content=b"100 g water\noven: 175 C for 70 min")
def test_no_bytes_crash_it(content: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "loaf.txt"
        path.write_bytes(content)
        for arguments, given_in in ((("check", str(path)), b""), (("check", "-", "--json"), content)):
            ran = run(*arguments, given=given_in)
            assert ran.code in (0, 1, 2)
            assert "fault in the program" not in ran.err, ran.err
            assert (ran.code == 2) == (not ran.out)
            assert bool(ran.err) == (ran.code == 2)


@pytest.mark.parametrize(
    "words", [("check", FAULTY), ("diagnose", FAULTY, "--saw", "gummy_centre"), ("check", SOUND, "--brief")]
)
def test_a_page_can_be_markdown(words: tuple[str, ...]) -> None:
    found = run(*words, "--format", "markdown")
    assert (found.out.startswith("# ") and "\n## " in found.out) or "--brief" in words
    assert "--brief" in words or "- **Contains" in found.out
    assert run(*words).code == found.code
