"""Pictures: what they show, that they hold together as SVG and PNG, and that nothing rests on colour."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations

import pytest
from case_files import demo

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.graph_drawing import dot_text, mermaid_text
from advisor.explanation.lesson.teach_steps import ChainLink
from advisor.knowledge_base.faults import InputFault
from advisor.rendering import picture_file
from advisor.rendering.pictures.bars import _LOOKS, before_after_picture, composition_picture, water_picture
from advisor.rendering.pictures.graph import graph_picture, reduced, selection_of
from advisor.rendering.pictures.layers import lay_out
from advisor.rendering.pictures.plot import write_scene
from advisor.rendering.pictures.scene import (
    DARK,
    FAINT,
    INK,
    LIGHT,
    MIDDLE,
    PALE,
    PAPER,
    Box,
    Scene,
    Stroke,
    Words,
)
from advisor.rendering.pictures.svg import svg_text
from advisor.rendering.report import pictures_of

FORMULAS = (
    "canteen-sandwich-loaf",
    "psyllium-rolls-too-little-binder",
    "egg-white-loaf",
    "cheese-dough-rounds",
)
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=FORMULAS)
def pictures(request):
    advisor = default_advisor()
    return pictures_of(advisor.check(demo(request.param)), advisor.examiner)[0]


@pytest.fixture(scope="module")
def thin():
    advisor = default_advisor()
    return advisor.examiner.examine(demo("psyllium-rolls-too-little-binder"), after_bake=False)


def test_every_picture_is_well_formed_and_says_in_words_what_it_shows(pictures):
    for scene in pictures:
        root = ET.fromstring(svg_text(scene))
        assert "img" == root.get("role")
        labels = root.get("aria-labelledby").split()
        by_id = {e.get("id"): e for e in root.iter() if e.get("id")}
        assert all(by_id[label].text for label in labels)
        assert 40 < len(by_id[labels[1]].text)


def test_nothing_stands_outside_its_picture(pictures):
    for scene in pictures:
        for part in scene.parts:
            if isinstance(part, Box):
                assert -1 <= part.x and part.x + part.width <= scene.width + 1
                assert -1 <= part.y and part.y + part.height <= scene.height + 1
            elif isinstance(part, Stroke):
                assert all(-1 <= x <= scene.width + 1 and -1 <= y <= scene.height + 1 for x, y in part.points)
            else:
                assert 0 <= part.x <= scene.width and 0 <= part.y <= scene.height, (scene.id, part)


def test_ids_in_a_picture_begin_with_its_own(pictures):
    for scene in pictures:
        ids = [e.get("id") for e in ET.fromstring(svg_text(scene)).iter() if e.get("id")]
        assert all(i.startswith(f"{scene.id}-") for i in ids)
        assert len(ids) == len(set(ids))


def test_composition_adds_up_to_its_hundred_grams(thin):
    scene = composition_picture(thin)
    figures = [
        float(word)
        for word in scene.says.replace(" g", "").replace(",", "").rstrip(".").split()
        if word[0].isdigit()
    ]
    assert 100 == pytest.approx(sum(figures), abs=0.5)


def test_bars_of_water_are_as_long_as_their_grams(thin):
    scene = water_picture(thin, load_knowledge())
    wide = {}
    for part in scene.parts:
        if isinstance(part, Box) and 44 == part.height:
            wide[part.y] = wide.get(part.y, 0.0) + part.width
    there, taken, held = (wide[y] for y in sorted(wide))
    water = thin.workings.dough_state.water
    assert water.available / water.absorption == pytest.approx(there / taken, rel=0.03)
    assert water.available / water.holding == pytest.approx(there / held, rel=0.03)


def test_before_and_after_stand_where_their_risks_are():
    scene = before_after_picture({"flat_loaf": (0.8, 0.2)}, load_knowledge(), "x")
    hollow, filled = (p for p in scene.parts if isinstance(p, Box))
    assert (PAPER, INK) == (hollow.fill, filled.fill)
    assert filled.x < hollow.x
    assert any("80 % to 20 %" == p.text for p in scene.parts if isinstance(p, Words))


def test_the_graph_shows_what_matters_and_says_how_much_it_leaves_out(thin):
    examiner, knowledge = default_advisor().examiner, load_knowledge()
    chosen = selection_of(thin, examiner)
    nodes = {end for link in chosen.links for end in link.key}
    whole = len(knowledge.causes) + len(knowledge.mechanisms) + len(knowledge.symptoms)
    assert 40 < whole
    assert len(nodes) <= 24
    assert thin.diagnosis.causes[0].id in nodes
    scene = graph_picture(chosen, knowledge)
    shown = sum(isinstance(p, Words) and f"{chosen.left_out} more nodes" in p.text for p in scene.parts)
    assert 1 == shown


def test_lit_links_differ_from_others_by_dash_and_width(thin):
    chosen = selection_of(thin, default_advisor().examiner)
    assert {True, False} == {link.lit for link in chosen.links}
    arrows = [p for p in graph_picture(chosen, load_knowledge()).parts if isinstance(p, Stroke) and p.arrow]
    lit = [p for p in arrows if p.dash == "solid"]
    assert sum(link.lit for link in chosen.links) == len(lit)
    assert min(p.line for p in lit) > max(p.line for p in arrows if p.dash != "solid")


def test_dot_and_mermaid_hold_the_same_links_as_the_picture(thin):
    chosen = selection_of(thin, default_advisor().examiner)
    part = reduced(load_knowledge(), chosen)
    solid = len(chosen.links)
    assert solid == dot_text(part).count("penwidth=")
    assert solid == sum("-->" in line for line in mermaid_text(part).splitlines())


def link(start, to, row):
    return ChainLink(start=start, to=to, row=row, strength=0.5, grade="practice", carried=0.5, lit=True)


def test_a_link_that_passes_columns_by_has_a_lane_beside_the_boxes_there():
    links = [
        link("a", "m", "mixing"),
        link("m", "n", "early_oven"),
        link("a", "s", "cooling"),
        link("n", "s", "cooling"),
    ]
    laid = lay_out(links, {"a": 0.5}, {"s": 0.5}, dict.fromkeys("amns", 40.0), top=0, gap=10)
    assert ("cause", "mixing", "early_oven", "slice") == laid.columns
    assert 2 == len(laid.lanes["a", "s"])
    for lane, node in zip(laid.lanes["a", "s"], ("m", "n"), strict=True):
        assert not laid.top[node] <= lane <= laid.top[node] + laid.height[node]


def lightness(colour):
    """Relative luminance of sRGB (WCAG 2.2)."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a, b):
    high, low = sorted((lightness(a), lightness(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(
    ("ink", "ground"),
    [(INK, PAPER), (INK, LIGHT), (INK, MIDDLE), (INK, PALE), (PAPER, DARK), (FAINT, PAPER), (FAINT, PALE)],
)
def test_words_are_legible_on_their_ground(ink, ground):
    assert 4.5 <= contrast(ink, ground)


def test_parts_of_a_bar_differ_in_pattern_or_in_lightness():
    for (fill, pattern), (other, also) in combinations(_LOOKS[:6], 2):
        assert pattern != also or 1.25 <= contrast(fill, other)


@pytest.mark.parametrize("ending", [".svg", ".png"])
def test_files(tmp_path, thin, ending):
    path = tmp_path / f"p{ending}"
    write_scene(composition_picture(thin), path)
    assert path.read_bytes()[:4] in (b"<?xm", b"\x89PNG")
    assert 0o644 == path.stat().st_mode & 0o777


def test_another_ending_is_refused(tmp_path, thin):
    with pytest.raises(InputFault, match=r"\.svg or \.png"):
        write_scene(composition_picture(thin), tmp_path / "p.gif")


def test_a_png_without_its_library_says_what_to_install(tmp_path, thin, monkeypatch):
    monkeypatch.setattr(picture_file, "DRAWS_PNG", "a_library_that_is_not_there")
    with pytest.raises(InputFault, match=r"pip install 'dough-advisor\[png\]'"):
        write_scene(composition_picture(thin), tmp_path / "p.png")
    write_scene(composition_picture(thin), tmp_path / "p.svg")
    assert ["p.svg"] == [path.name for path in tmp_path.iterdir()]


def test_hostile_words_do_nothing(tmp_path):
    bad = "</text><script>x</script> \x1b[2J\u202e $\\frac{1}{0}$ " + "x" * 10_000
    scene = Scene(id="bad", title=bad, says=bad, width=100, height=100)
    scene.words(5, 50, bad)
    text = svg_text(scene, alone=True)
    assert "<script" not in text and "\x1b" not in text and "\u202e" not in text
    assert 8_000 > len(text)
    ET.fromstring(text.partition("\n")[2])
    write_scene(replace(scene), tmp_path / "bad.png")
