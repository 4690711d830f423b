"""Every formula of the corpus gives exactly the ingredients and grams that its sibling file says, line by line.

The grams are worked out by hand from the household weights (a cup of 236.588 mL, a stick of 113 g), not taken
from the reader. All texts are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text, report_on_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula.writing.as_yaml import write_formula_yaml
from advisor.formula.writing.weighed import as_weighed
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.strict_yaml import read_yaml

_FOLDER = Path(__file__).parents[1] / "cases" / "formulas"
_TEXTS = sorted(_FOLDER.glob("*.txt"))
_LEAST = 120


def _expected(path: Path) -> dict[str, object]:
    data = read_yaml(path.with_suffix(".yaml"), path.name).data
    assert isinstance(data, dict)
    return dict(data)


def _read(path: Path, knowledge: Knowledge) -> Formula:
    text = path.read_bytes().decode("utf-8")
    return read_formula_text(text, knowledge, name=path.stem, region=str(_expected(path).get("region", "us")))


def test_corpus_is_large_and_each_text_has_its_figures() -> None:
    assert len(_TEXTS) >= _LEAST
    assert {p.stem for p in _TEXTS} == {p.stem for p in _FOLDER.glob("*.yaml")}


@pytest.mark.parametrize("path", _TEXTS, ids=lambda p: p.stem)
def test_each_line_gives_its_grams(knowledge: Knowledge, path: Path) -> None:
    expected, formula = _expected(path), _read(path, knowledge)
    wanted = [(e["line"], e["ingredient"]) for e in expected["lines"]]
    assert wanted == [(line.number, line.ingredient.id) for line in formula.lines]
    grams = [e["grams"] for e in expected["lines"]]
    assert grams == pytest.approx([line.grams for line in formula.lines], rel=2e-4)
    assert sorted(expected.get("unweighed", [])) == sorted(e.ingredient.id for e in formula.unweighed)


_STEPS = ("oven_steps", "proofs", "mixes", "rests")


@pytest.mark.parametrize("path", _TEXTS, ids=lambda p: p.stem)
def test_process_is_what_the_text_says_and_nothing_else(knowledge: Knowledge, path: Path) -> None:
    process = _read(path, knowledge).process
    said = {k: v for k in process.__slots__ if (v := getattr(process, k)) is not None and k not in _STEPS}
    expected = dict(_expected(path).get("process", {}))
    assert set(expected) == set(said)
    for field, value in expected.items():
        number = isinstance(value, int | float) and not isinstance(value, bool)
        assert (pytest.approx(value, rel=1e-5) if number else value) == said[field]


@pytest.mark.parametrize("path", _TEXTS, ids=lambda p: p.stem)
def test_every_line_is_accounted_for(knowledge: Knowledge, path: Path) -> None:
    text = path.read_bytes().decode("utf-8")
    region = str(_expected(path).get("region", "us"))
    report = report_on_text(text, knowledge, name=path.stem, region=region)
    filled = [n for n, raw in enumerate(text.splitlines(), 1) if raw.strip("\ufeff \t")]
    assert filled == [line.number for line in report.lines]
    assert () == report.problems


@pytest.mark.parametrize("path", _TEXTS, ids=lambda p: p.stem)
@pytest.mark.parametrize("write", [write_formula_text, write_formula_yaml])
def test_what_is_written_reads_back_the_same(knowledge: Knowledge, path: Path, write: object) -> None:
    first = _read(path, knowledge)
    again = read_formula_text(write(first), knowledge)  # type: ignore[operator]

    def kept(formula: Formula) -> tuple[object, ...]:
        lines = [(x.ingredient.id, x.grams, x.counted, set(x.all_traits)) for x in formula.lines]
        return lines, formula.process, [e.ingredient.id for e in formula.unweighed]

    assert kept(as_weighed(first)) == kept(again)
    assert kept(first) == kept(read_formula_text(write_formula_text(first, exact=True), knowledge))
