"""A whole text: precedence of lines, title, headings, every problem in one error, texts that are refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.formula.faults import FormulaFault
from advisor.formula.files import formula_from_file
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text, reader_for
from advisor.knowledge_base.knowledge import Knowledge

Read = Callable[..., Formula]

_WHOLE = """\ufeff# demo: invented\r
Brindlemoor loaf\r
Dry:\r
- 150 g vital wheat gluten\r
* 2 tsp baking powder\r
\r
Wet:\r
6 large eggs\r
oven: 175 C for 70 min\r
"""


def test_title_headings_comments_and_process(read: Read) -> None:
    formula = read(_WHOLE)
    assert "Brindlemoor loaf" == formula.name
    assert [("Dry", 4), ("Dry", 5), ("Wet", 8)] == [(line.section, line.number) for line in formula.lines]
    assert 175 == formula.process.oven_c
    assert _WHOLE == formula.source_text
    assert 459.2 == pytest.approx(formula.dough_g)


def test_name_stands_in_for_a_title(read: Read) -> None:
    assert "trial" == read("100 g water", name="trial").name


def test_title_with_a_number_is_a_title_and_said_so(read: Read) -> None:
    formula = read("Canteen loaf 2\n100 g water")
    assert "Canteen loaf 2" == formula.name
    assert any("taken as the title" in said for said in formula.assumed)


def test_title_that_names_an_ingredient_is_doubted(read: Read) -> None:
    assert any("taken as the title" in said for said in read("Butter\n100 g water").warnings)


def test_all_problems_come_in_one_error(read: Read) -> None:
    with pytest.raises(FormulaFault) as caught:
        read("Loaf\n100 g watrrr\nwhat is this\nsalt\nslices: x\n1,500 kg water", name="trial")
    assert [2, 5, 6] == [p.line for p in caught.value.problems]
    lines = str(caught.value).splitlines()
    assert 3 == len(lines)
    assert lines[0].startswith("trial:2:7: no ingredient is called 'watrrr'; write water")


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "empty"),
        (" \n\t\n", "empty"),
        ("# only a remark", "no line holds an ingredient"),
        ("Just a title", "no line holds an ingredient"),
        ("slices: 16", "no line holds an ingredient"),
        ("100 g water\n" * 201, "201 lines"),
        ("100 g water" + " " * 1_000_000, "longer than 1,000,000"),
        ("100 g " + "water" * 100, "characters, more than 300"),
        ("100 g wa\x00ter", "NUL"),
        ("100 g \x1b[31mwater", "U+001B"),
        ("100 g \u202ewater", "U+202E"),
        ("100 g \ud800water", "U+D800"),
    ],
)
def test_text_is_refused_with_one_clear_line(read: Read, text: str, what: str) -> None:
    with pytest.raises(FormulaFault) as caught:
        read(text)
    assert 1 == len(caught.value.problems)
    assert what in caught.value.problems[0].what
    assert str(caught.value).isprintable()


def test_reader_is_built_once_for_a_knowledge(kitchen: Knowledge) -> None:
    assert reader_for(kitchen) is reader_for(kitchen)


_PIECES = st.one_of(
    st.sampled_from(
        [
            "1/2",
            "½",
            "1",
            "0",
            "-5",
            "200",
            "g",
            "kg",
            "oz",
            "cup",
            "tbsp",
            "%",
            "x",
            "+",
            "-",
            ",",
            "(",
            ")",
            ":",
        ]
    ),
    st.sampled_from(
        ["#", "to", "water", "eggs", "large", "salt", "oven:", "pan:", "175", "C", "for", "min", "\n"]
    ),
    st.sampled_from(
        ["proof:", "base:", "slices:", "fan", "cm", "and", "a", "half", "pinch", "of", "title:", "\n"]
    ),
    st.text(max_size=6),
)


@given(st.lists(_PIECES, max_size=30).map(" ".join) | st.text(max_size=200))
def test_text_in_no_crash_out(kitchen: Knowledge, text: str) -> None:
    try:
        formula = read_formula_text(text, kitchen)
    except FormulaFault as fault:
        assert fault.problems
        assert all(p.line >= 1 and p.column >= 1 and p.what and p.do for p in fault.problems)
        assert len(fault.problems) == len(str(fault).splitlines())
    else:
        assert formula.lines
        assert all(0 < line.grams <= 50_000 for line in formula.lines)


def test_file_without_title_takes_its_stem(kitchen: Knowledge, tmp_path: Path) -> None:
    path = tmp_path / "monday-loaf.txt"
    path.write_bytes(b"\xef\xbb\xbf100 g water\r\n")
    assert "monday loaf" == formula_from_file(path, kitchen).name


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"\x89PNG\x00\x00", "not text"),
        (b"100 g water\ncr\xe8me 5 g", "not UTF-8"),
        (b"x" * 1_000_001, "larger than 1 MB"),
    ],
)
def test_unreadable_file_is_refused(kitchen: Knowledge, tmp_path: Path, data: bytes, what: str) -> None:
    path = tmp_path / "trial.txt"
    path.write_bytes(data)
    with pytest.raises(FormulaFault, match=what) as caught:
        formula_from_file(path, kitchen)
    assert 1 == len(str(caught.value).splitlines())


def test_missing_file_and_folder_are_refused(kitchen: Knowledge, tmp_path: Path) -> None:
    with pytest.raises(FormulaFault, match="no such file"):
        formula_from_file(tmp_path / "none.txt", kitchen)
    with pytest.raises(FormulaFault, match="folder"):
        formula_from_file(tmp_path, kitchen)
