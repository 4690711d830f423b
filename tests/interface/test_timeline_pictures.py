"""The timeline as rows of text and as a picture."""

from __future__ import annotations

import subprocess
import sys
import xml.etree.ElementTree as ET

import pytest
from case_files import demo

from advisor import default_advisor
from advisor.interface.commands.command_line import main
from advisor.models.loaf.timeline import timeline
from advisor.rendering.timeline_text import timeline_key, timeline_lines


@pytest.fixture(scope="module")
def line(request):
    from advisor import load_knowledge

    work = default_advisor().examiner.examine(demo("canteen-sandwich-loaf"), after_bake=False).workings
    return timeline(work, load_knowledge())


@pytest.mark.parametrize("width", [40, 60, 80])
def test_rows_fit_and_stand_under_each_other(line, width):
    rows = timeline_lines(line, width)
    assert all(len(row) <= width for row in rows)
    stage, gas, share = (row[9:] for row in rows[1:4])
    assert len(stage) == len(gas) == len(share)
    assert set(gas) | set(share) <= set("0123456789#")
    assert gas[-1] == share[-1] == "#"


def test_tenths_never_fall(line):
    for row in timeline_lines(line, 80)[2:4]:
        tenths = [10 if c == "#" else int(c) for c in row[9:]]
        assert tenths == sorted(tenths)


def test_the_set_begins_only_in_the_oven(line):
    rows = timeline_lines(line, 80)
    first_set = next(n for n, c in enumerate(rows[3][9:]) if c != "0")
    assert "o" == rows[1][9:][first_set]


def test_the_key_names_every_letter(line):
    key, rows = timeline_key(line), timeline_lines(line, 80)
    for letter in set(rows[1][9:]) | (set(rows[4][9:]) - {" "} if len(rows) > 4 else set()):
        assert f"{letter} " in key


def test_a_night_in_the_cold_keeps_its_place(knowledge):
    """A proof of twelve hours must not press the bake into three columns."""
    formula = demo("ordinary-wheat-tin-loaf").with_process(proof_min=720.0, proof_c=5.0)
    work = default_advisor().examiner.examine(formula, after_bake=False).workings
    line = timeline(work, knowledge)
    assert timeline_lines(line, 80)[1].count("o") >= 40
    assert "scale of its own" in timeline_key(line)


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_check_draws_the_timeline(kind, tmp_path, capsys):
    path = tmp_path / f"loaf.{kind}"
    assert 0 == main(["check", "canteen-sandwich-loaf", "--plot", str(path)])
    data = path.read_bytes()
    if kind == "png":
        assert data.startswith(b"\x89PNG")
    else:
        words = {e.text for e in ET.fromstring(data).iter() if e.text and e.text.strip()}
        assert {"oven", "proof"} <= words
        assert any("core set" in w for w in words)
    assert [path.name] == [p.name for p in tmp_path.iterdir()], "nothing half-written is left"
    assert "Nothing looks wrong" in capsys.readouterr().out


def test_the_same_formula_gives_the_same_picture(tmp_path, capsys):
    for name in ("a.svg", "b.svg"):
        main(["check", "almond-egg-loaf", "--plot", str(tmp_path / name)])
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["check", "almond-egg-loaf", "--plot", "loaf.gif"], "ends in .svg or .png"),
        (["check", "almond-egg-loaf", "rice-reference-loaf", "--plot", "x.svg"], "draws one formula"),
        (["check", "almond-egg-loaf", "--plot", "/no/such/folder/x.svg"], "cannot be written"),
    ],
)
def test_a_picture_that_cannot_be_is_one_line(arguments, said, capsys):
    assert 2 == main(arguments)
    err = capsys.readouterr().err
    assert said in err
    assert 1 == err.count("\n")


def test_no_drawing_library_is_loaded_for_a_plain_check():
    code = (
        "import sys; from advisor.interface.commands.command_line import main; main(['check', 'almond-egg-loaf']); "
        "sys.exit(any(m.startswith('matplotlib') for m in sys.modules))"
    )
    assert 0 == subprocess.run([sys.executable, "-c", code], capture_output=True, check=False).returncode
