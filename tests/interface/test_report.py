"""The report: one page that holds everything, asks for nothing, and can be read without a mouse or eyes."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from advisor import load_knowledge
from advisor.interface.commands.command_line import main
from advisor.interface.desk import formula_choice

FORMULA = "psyllium-rolls-too-little-binder"
HOSTILE = (
    "\"><script>alert(1)</script><img src=x onerror=alert(1)> ' & \x1b[2J\u202e\u2066 </title></style>"
    + "x" * 10_000
)
VOID = {"meta", "link", "br", "img", "input", "hr"}


class Outline(HTMLParser):
    """Tags in order, with what is open around each; refuses ends that do not match."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.open, self.tags, self.ids, self.said = [], [], [], []

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        self.tags.append((tag, given, tuple(self.open)))
        if "id" in given:
            self.ids.append(given["id"])
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        assert tag == self.open.pop(), f"</{tag}> closes what is not open"

    def handle_data(self, data):
        if data.strip() and "style" not in self.open:
            self.said.append(" ".join(data.split()))


def outline(page):
    found = Outline()
    found.feed(page)
    found.close()
    assert [] == found.open
    return found


def written(tmp_path, *words):
    out = tmp_path / "page.html"
    assert 0 == main(["report", *words, "--out", str(out)])
    return out.read_text("utf-8")


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    return written(tmp_path_factory.mktemp("report"), FORMULA)


def test_it_holds_every_part(page):
    said = " ".join(outline(page).said)
    for heading in (
        "Why",
        "Change first",
        "Other causes",
        "Other changes, one at a time",
        "If this dough is mixed already",
        "Cautions",
        "The dough and its numbers",
        "Pictures",
        "The formula",
        "Sources",
    ):
        assert heading in said
    assert "8 g psyllium husk powder" in said
    assert "Too little binder (very likely" in said


def test_it_reaches_nothing_outside_itself(page):
    for tag, given, _ in outline(page).tags:
        assert tag not in ("script", "iframe", "object", "embed", "base", "form", "img", "audio", "video")
        assert not [name for name in given if name.startswith("on")]
        for name in ("href", "src", "action", "xlink:href"):
            assert given.get(name, "#").startswith(("#", "data:,")), (tag, given)
    assert not re.search(r"url\((?!#)", page) and "@import" not in page
    assert "default-src 'none'" in page


def test_it_is_small(page):
    assert 1_000_000 > len(page.encode())


def test_landmarks_and_headings_stand_in_order(page):
    tags = [tag for tag, _, _ in outline(page).tags]
    assert [1] * 4 == [tags.count(one) for one in ("header", "nav", "main", "footer")]
    levels = [int(tag[1]) for tag in tags if re.fullmatch("h[1-6]", tag)]
    assert 1 == levels[0] == levels.count(1)
    assert all(b <= a + 1 for a, b in pairwise(levels))


def test_every_label_and_link_finds_what_it_names(page):
    found = outline(page)
    assert len(found.ids) == len(set(found.ids))
    for _, given, _ in found.tags:
        for label in given.get("aria-labelledby", "").split():
            assert label in found.ids
        if given.get("href", "").startswith("#"):
            assert given["href"][1:] in found.ids
    for place in re.findall(r"url\(#([^)]+)\)", page):
        assert place in found.ids


def test_pictures_are_named_and_can_be_reached_by_key(page):
    found = outline(page)
    svgs = [given for tag, given, _ in found.tags if tag == "svg"]
    assert 6 == len(svgs)
    assert all(given["role"] == "img" and given["aria-labelledby"] for given in svgs)
    wide = [given for _, given, _ in found.tags if given.get("class") == "wide"]
    assert all(given["tabindex"] == "0" and given["aria-label"] for given in wide)


def test_tables_have_captions_and_headed_rows_and_columns(page):
    tags = outline(page).tags
    tables = sum(tag == "table" for tag, _, _ in tags)
    assert tables == sum(tag == "caption" for tag, _, _ in tags) >= 2
    assert {"row", "col"} == {given["scope"] for tag, given, _ in tags if tag == "th"}


def test_every_named_cause_has_a_proof_to_open(page):
    tags = [tag for tag, _, _ in outline(page).tags]
    proofs = page.count("<summary>The proof for ")
    assert 2 <= proofs == tags.count("details") - page.count("<summary>What the numbers mean")
    assert "speaks for it strongly. Rule gum-short, grade" in page


def test_paper_leaves_out_what_is_for_the_screen(page):
    paper = page[page.index("@media print") : page.index("</style>")]
    assert "nav, .skip, .slide, details { display: none; }" in paper
    assert "@page { margin" in page and "size:" not in page[page.index("@page") : page.index("@media")]


def test_a_diagnosis_weighs_what_was_seen(tmp_path):
    told = tmp_path / "told.yaml"
    told.write_text("saw: [gummy_centre, collapse_on_cooling]\n")
    page = written(tmp_path, "canteen-sandwich-loaf-underbaked", "--answers", str(told))
    said = " ".join(outline(page).said)
    assert "after the bake" in said
    assert "The loaf showed: gummy middle, sank while cooling." in said
    assert "Most likely: not baked through (very likely" in said
    assert "This loaf" in said


def test_a_sound_formula_has_a_page_too(tmp_path):
    assert "Nothing looks wrong" in written(tmp_path, "almond-egg-loaf")


@pytest.mark.parametrize("name", sorted(load_knowledge().formulas)[::6])
def test_pages_of_all_kinds_of_loaf_are_sound(tmp_path, name):
    outline(written(tmp_path, name))


def test_a_hostile_name_does_nothing(tmp_path, monkeypatch):
    real = formula_choice.formula_from_file

    def read(*args, **more):
        formula = real(*args, **more)
        lines = tuple(replace(line, text=HOSTILE, conversion=HOSTILE) for line in formula.lines)
        return replace(formula, name=HOSTILE, lines=lines, assumed=(HOSTILE,), warnings=(HOSTILE,))

    monkeypatch.setattr(formula_choice, "formula_from_file", read)
    page = written(tmp_path, FORMULA)
    tags = {tag for tag, _, _ in outline(page).tags}
    assert not tags & {"script", "img"}
    assert not {"\x1b", "\u202e", "\u2066"} & set(page)
    assert 1_000_000 > len(page)


def test_pictures_go_into_a_folder(tmp_path):
    written(tmp_path, FORMULA, "--pictures", str(tmp_path / "pictures"))
    names = {path.name for path in (tmp_path / "pictures").iterdir()}
    assert {
        "causes.svg",
        "causes.png",
        "causes.dot",
        "causes.mmd",
        "timeline.png",
        "before-after.svg",
    } <= names


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((FORMULA, "--out", "page.txt"), "ends in .html"),
        ((FORMULA, "--out", "/nowhere/page.html"), "cannot be written"),
        (("no-such-loaf", "--out", "page.html"), "no demo formula"),
        ((FORMULA, "--out", "page.html", "--answers", "/nowhere.yaml"), "/nowhere.yaml"),
        ((FORMULA, "--out", "page.html", "--with", "moon"), "tolerance, improve, plan"),
    ],
)
def test_what_cannot_be_used_is_said(tmp_path, monkeypatch, capsys, words, said):
    monkeypatch.chdir(tmp_path)
    assert 2 == main(["report", *words])
    assert said in capsys.readouterr().err
    assert [] == list(tmp_path.iterdir())


@pytest.fixture(scope="module")
def page_with_parts(tmp_path_factory):
    return written(tmp_path_factory.mktemp("parts"), FORMULA, "--with", "plan,tolerance", "improve")


def test_parts_that_take_seconds_stand_where_they_are_asked_for(page, page_with_parts):
    parts = (
        "How far each line may go",
        "The errors that matter most",
        "What could be better",
        "Bakes to make",
    )
    plain, asked = (" ".join(outline(one).said) for one in (page, page_with_parts))
    for part in parts:
        assert part not in plain
        assert part in asked
    assert page.count("<svg") + 1 == page_with_parts.count("<svg")
    assert "Softer: firmness" in asked
    assert " --" not in asked


def test_a_page_with_parts_is_sound(page_with_parts):
    test_landmarks_and_headings_stand_in_order(page_with_parts)
    test_every_label_and_link_finds_what_it_names(page_with_parts)
    test_tables_have_captions_and_headed_rows_and_columns(page_with_parts)
    test_it_reaches_nothing_outside_itself(page_with_parts)


def test_a_page_needs_no_plotting_library(tmp_path):
    code = (
        "import sys\nfrom advisor.interface.commands.command_line import main\n"
        f"main(['report', '{FORMULA}', '--out', r'{tmp_path / 'p.html'}'])\n"
        "print('matplotlib' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "False" == done.stdout.strip()
