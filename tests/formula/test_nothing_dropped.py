"""Every line that is not empty is read as something or reported, whatever the text; nothing crashes or hangs."""

from __future__ import annotations

import re
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor.formula.faults import FormulaFault
from advisor.formula.reading import read_formula_text, report_on_text
from advisor.knowledge_base.knowledge import Knowledge

_FOLDER = Path(__file__).parents[1] / "cases" / "formulas"
_TEXTS = [p.read_bytes().decode("utf-8") for p in sorted(_FOLDER.glob("*.txt"))]
_LINES = sorted({line for text in _TEXTS for line in re.split(r"\r\n|\r|\n", text)})
_SNIPPETS = (
    "1/2", "½", "1,000", "1.5", "0", "-", "–", "(", ")", ",", ";", "|", "\t", ":", "#", "**", "//", "x", "+", "or",
    "and", "to taste", "for dusting", "plus extra", "about", "°C", "F", "g", "cup", "heaping", "dozen", "%", "\ufeff",
    "\u200b", "\x1b", "\u202e", "makes 2 loaves", "Method", "Dry:", "name: x", "lines:", "each", "\r", "\n", "\n\n",
)  # fmt: skip


@st.composite
def _mutated(draw: st.DrawFn) -> str:
    """A corpus text with letters cut, doubled and put in, lines swapped, or lines of other texts put in."""
    text = draw(st.sampled_from(_TEXTS))
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(text)))
        match draw(st.integers(0, 4)):
            case 0:
                text = text[:at] + text[at + draw(st.integers(1, 12)) :]
            case 1:
                text = text[:at] + draw(st.sampled_from(_SNIPPETS)) + text[at:]
            case 2:
                text = text[:at] + draw(st.text(max_size=4)) + text[at:]
            case 3:
                text = text[:at] + text[max(at - 20, 0) : at] + text[at:]
            case _:
                lines = text.split("\n")
                lines.insert(draw(st.integers(0, len(lines))), draw(st.sampled_from(_LINES)))
                text = "\n".join(lines)
    return text


def _filled(text: str) -> list[int]:
    invisible = dict.fromkeys(map(ord, "\ufeff\u200b\u200c\u200d\u2060\u00ad\u200e\u200f\ufe0e\ufe0f"))
    raws = re.split(r"\r\n|\r|\n|\u2028|\u2029", text)
    return [n for n, raw in enumerate(raws, 1) if raw.translate(invisible).strip()]


def _check(text: str, knowledge: Knowledge) -> None:
    try:
        report = report_on_text(text, knowledge)
    except FormulaFault as fault:  # refused whole: it says so in at least one problem
        assert fault.problems
        return
    assert _filled(text) == [line.number for line in report.lines]
    at_fault = {problem.line for problem in report.problems}
    read = [line for line in report.lines if line.kind != "problem"]
    assert len(read) + len(at_fault & set(_filled(text))) == len(_filled(text))
    assert (report.formula is None) == bool(report.problems)
    if report.formula is not None:
        held = {line.number for line in report.formula.lines} | {e.number for e in report.formula.unweighed}
        assert held == set(report.numbers("ingredient")) | set(report.numbers("unweighed"))
        assert all(0 < line.grams <= 50_000 for line in report.formula.lines)


@examples(120)
@given(_mutated())
def test_mutated_texts_lose_no_line(knowledge: Knowledge, text: str) -> None:
    _check(text, knowledge)


@examples(50)
@given(st.lists(st.sampled_from(_LINES), min_size=1, max_size=25).map("\n".join))
def test_lines_of_many_texts_together_lose_no_line(knowledge: Knowledge, text: str) -> None:
    _check(text, knowledge)


@examples(50)
@given(st.lists(st.sampled_from(_SNIPPETS) | st.text(max_size=5), max_size=30).map(" ".join))
def test_any_text_loses_no_line(knowledge: Knowledge, text: str) -> None:
    _check(text, knowledge)


def test_report_tells_what_each_line_was_taken_for(knowledge: Knowledge) -> None:
    text = "Loaf\n# remark\nDry:\n100 g gluten\nsalt to taste\nslices: 8\n\n100 g nosuch"
    report = report_on_text(text, knowledge)
    kinds = [(line.number, line.kind) for line in report.lines]
    assert [
        (1, "title"), (2, "comment"), (3, "heading"), (4, "ingredient"), (5, "unweighed"), (6, "process"),
        (8, "problem"),
    ] == kinds  # fmt: skip
    assert report.formula is None


def test_ten_thousand_lines_are_refused_in_one_line(knowledge: Knowledge) -> None:
    for line in ("100 g water", "# remark", "- {ingredient: water, grams: 1}", "x" * 90, "\u200b."):
        try:
            read_formula_text(f"{line}\n" * 10_000, knowledge)
        except FormulaFault as fault:
            assert 1 == len(fault.problems)
        else:
            raise AssertionError(line)
