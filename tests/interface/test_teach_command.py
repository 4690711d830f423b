"""`advisor teach`: topics, steps as text, Markdown, handout, key and JSON."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import jsonschema
import pytest

from advisor import default_advisor, load_knowledge
from advisor.explanation.lesson.teach_course import course_of
from advisor.interface.commands.command_line import main
from advisor.interface.desk import formula_choice
from advisor.interface.desk.teach_topic import demo_faults, topic_of
from advisor.interface.teach.teach_text import step_lines
from advisor.rendering.documents.schemas import schema_of
from advisor.rendering.markdown import md

HOSTILE = "<script>alert(1)</script> \x1b[2J\u202e # | `x` [a](b) " + "x" * 10_000


def taught(word):
    examiner = default_advisor().examiner
    return course_of(topic_of(word, load_knowledge(), examiner), examiner)


def said(capsys, *words):
    code = main(["teach", *words])
    return code, capsys.readouterr()


def test_without_a_topic_it_lists_what_can_be_taught(capsys):
    code, out = said(capsys)
    assert 0 == code
    for lesson in load_knowledge().lessons:
        assert f"{lesson}:" in out.out
    assert "canteen-sandwich-loaf-excess-water" in out.out


def test_an_unknown_topic_names_what_is_near(capsys):
    code, out = said(capsys, "gummy_center")
    assert 2 == code
    assert "near: gummy_centre" in out.err


@pytest.mark.parametrize(
    "word", ["gummy_centre", "excess_water", "soft_walls", "gums-too-much", "almond-egg-loaf"]
)
def test_every_kind_of_topic_has_a_chain_from_cause_to_symptom(word):
    course = taught(word)
    assert course.topic.cause in {link.start for link in course.chain}
    assert course.topic.symptom in {link.to for link in course.chain}


@pytest.mark.parametrize("name", sorted(load_knowledge().causes))
def test_every_cause_can_be_taught(name):
    assert [step for step in taught(name).steps if step.kind == "link"]


@pytest.mark.parametrize("name", sorted(load_knowledge().mechanisms))
def test_the_chain_of_a_mechanism_passes_it_where_a_cause_leads_straight_through(name):
    knowledge = load_knowledge()
    if not any(x.start == name and x.to in knowledge.symptoms for x in knowledge.links):
        return
    course = taught(name)
    assert name in {end for link in course.chain for end in link.key}


def test_a_formula_with_a_fault_is_taught_by_that_fault():
    for name, cause in list(demo_faults(load_knowledge()).items())[:4]:
        assert cause == taught(name).topic.cause


def test_each_rule_and_each_link_is_a_step_of_its_own():
    course = taught("gums-too-little")
    rules = [s.rule for s in course.steps if s.rule]
    links = [s.link for s in course.steps if s.link]
    assert len(set(rules)) == len(rules) >= 3
    assert [link.key for link in course.chain] == links
    assert all(step.facts for step in course.steps if step.kind == "rule")


def test_what_arrives_over_a_link_is_the_chance_times_the_strengths():
    course = taught("gums-too-little")
    by_key = {link.key: link for link in course.chain}
    chance = course.found.diagnosis.cause("too_little_binder").probability
    first = by_key["too_little_binder", "brittle_crumb"]
    second = by_key["brittle_crumb", "crumbly_slice"]
    assert chance * first.strength == pytest.approx(first.carried)
    assert first.carried * second.strength == pytest.approx(second.carried)


def test_two_causes_that_compete_stand_side_by_side():
    (step,) = (step for step in taught("gums-too-little").steps if step.sides)
    lines = "\n".join(step_lines(step, 77))
    assert re.search(r"TOO LITTLE BINDER: \d+ % +\| [A-Z ]+: \d+ %", lines)


def test_a_sound_formula_says_that_its_links_are_out(capsys):
    code, out = said(capsys, "almond-egg-loaf")
    assert 0 == code
    links = out.out.partition("THE CHAIN")[2].split("\n  ")[2:]
    assert links
    assert all(link.partition("\n")[0].endswith("%, out") or "%" not in link for link in links)


def test_hidden_answers_tell_nothing(capsys):
    _, out = said(capsys, "gums-too-little", "--hide-answers")
    assert "The assistant" not in out.out
    assert "[x]" not in out.out
    assert "Rule " not in out.out


def test_the_handout_holds_no_answer_and_the_key_all(tmp_path, capsys):
    out, key = tmp_path / "handout.md", tmp_path / "key.md"
    code, _ = said(capsys, "yeast-without-sugar", "--hide-answers", "--out", str(out), "--key", str(key))
    assert 0 == code
    handout = out.read_text("utf-8")
    assert 4 == handout.count("## Question")
    assert (
        "[x]" not in handout and "The assistant" not in handout and "starve" not in handout.partition("##")[2]
    )
    lesson = load_knowledge().lessons["yeast-without-sugar"]
    for number, question in enumerate(lesson.questions, 1):
        assert f"{number}. **{question.right}**" in key.read_text("utf-8")


def test_the_steps_as_markdown(tmp_path, capsys):
    out = tmp_path / "lesson.md"
    assert 0 == said(capsys, "the-door", "--out", str(out))[0]
    text = out.read_text("utf-8")
    assert text.startswith("# The door\n")
    assert len(taught("the-door").steps) == text.count("\n## ") - 1


@pytest.mark.parametrize("hide", [[], ["--hide-answers"]])
def test_json_holds_to_its_schema(capsys, hide):
    _, out = said(capsys, "reading-a-slice", "--json", *hide)
    document = json.loads(out.out)
    jsonschema.validate(document, schema_of("lesson"))
    assert bool(hide) == (document["cause"] is None)


def test_the_list_as_json_holds_to_its_schema(capsys):
    _, out = said(capsys, "--json")
    jsonschema.validate(json.loads(out.out), schema_of("lessons"))


@pytest.fixture
def hostile(monkeypatch):
    """A demo formula whose name is meant to do harm; a reader of texts would have refused part of it."""
    real = formula_choice.formula_from_file

    def read(*args, **more):
        return replace(real(*args, **more), name=HOSTILE)

    monkeypatch.setattr(formula_choice, "formula_from_file", read)
    return "gluten-fibre-tin-loaf-starved-yeast"


def test_a_hostile_name_does_nothing_on_a_page(hostile, capsys):
    _, page = said(capsys, hostile)
    assert "script" in page.out.casefold()
    assert "\x1b" not in page.out and "\u202e" not in page.out
    assert all(len(line) <= 80 for line in page.out.splitlines())


def test_a_hostile_name_does_nothing_in_markdown(hostile, tmp_path, capsys):
    out, key = tmp_path / "o.md", tmp_path / "k.md"
    assert 0 == said(capsys, hostile, "--out", str(out), "--key", str(key))[0]
    for path in (out, key):
        text = path.read_text("utf-8")
        assert "script" in text
        assert not [
            bad
            for bad in ("<script", "\x1b", "](b)", "\u202e", " `x`", " | `")
            if bad in text.replace("\\]", "")
        ]
        assert all(len(line) < 2500 for line in text.splitlines())


@pytest.mark.parametrize(
    ("plain", "escaped"),
    [
        ("2.9 g of water", "2.9 g of water"),
        ("1. first", "1\\. first"),
        ("- dash", "\\- dash"),
        ("a - b", "a - b"),
        ("# a | b * c_d", "\\# a \\| b \\* c\\_d"),
        ("<b> & c", "&lt;b&gt; &amp; c"),
        ("two\nlines", "two<0a>lines".replace("<", "&lt;").replace(">", "&gt;")),
    ],
)
def test_markdown_shows_a_text_as_it_is(plain, escaped):
    assert escaped == md(plain)


def test_a_topic_is_needed_to_write_a_file(tmp_path, capsys):
    code, out = said(capsys, "--out", str(tmp_path / "x.md"))
    assert 2 == code
    assert "name a topic" in out.err


@pytest.mark.parametrize("hide", [(), ("--hide-answers",)])
def test_a_lesson_can_be_a_page_for_a_browser(tmp_path, capsys, hide):
    out = tmp_path / "lesson.html"
    assert 0 == said(capsys, "yeast-without-sugar", "--out", str(out), *hide)[0]
    page = out.read_text("utf-8")
    assert page.startswith("<!DOCTYPE html>") and "default-src 'none'" in page
    assert ("The assistant:" in page) is not bool(hide)


@pytest.mark.parametrize("words", [("--out", "x.txt"), ("--key", "x.html")])
def test_a_file_of_another_kind_is_refused(tmp_path, monkeypatch, capsys, words):
    monkeypatch.chdir(tmp_path)
    assert 2 == main(["teach", "the-door", *words])
    assert "name the file so" in capsys.readouterr().err
    assert [] == list(tmp_path.iterdir())
