"""The player: forward, back, votes, changes and jumps; screens that fit; keys that do what they say."""

from __future__ import annotations

from itertools import pairwise

import pytest
from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from advisor import default_advisor, load_knowledge
from advisor.explanation.lesson.teach_course import course_of
from advisor.interface.desk.teach_topic import topic_of
from advisor.interface.teach.teach_lecture import Lecture
from advisor.interface.teach.teach_screen import player


@pytest.fixture(scope="module")
def course():
    examiner = default_advisor().examiner
    return course_of(topic_of("gums-too-little", load_knowledge(), examiner), examiner)


def lecture(course, **more):
    return Lecture(course, default_advisor().examiner, **more)


def text(played, width=80, height=24):
    return "\n".join(line for _, line in played.screen(width, height))


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 40), (40, 16)])
def test_every_screen_fits(course, width, height):
    for hide in (False, True):
        played = lecture(course, hide_answers=hide)
        for _ in range(2 * len(course.steps)):
            for large in (False, True):
                played.large = large
                lines = played.screen(width, height)
                assert height == len(lines)
                assert max(len(line) for _, line in lines) <= width
            played.forward()
        assert len(course.steps) == played.at + 1


def test_links_come_one_by_one(course):
    played = lecture(course)
    seen = []
    for _ in course.steps:
        seen.append(len(played.told_links()))
        played.forward()
    assert 0 == seen[0]
    assert len(course.chain) == seen[-1]
    assert {0, 1} >= {b - a for a, b in pairwise(seen)}


def test_forward_and_back(course):
    played = lecture(course)
    played.back()
    assert 0 == played.at
    played.forward()
    played.forward()
    played.back()
    assert 1 == played.at


def test_a_class_votes_before_the_engine_speaks(course):
    played = lecture(course, hide_answers=True)
    played.forward()
    assert played.waits
    assert "The assistant" not in text(played)
    assert played.vote("a") and played.vote("c") and played.vote("c")
    assert not played.vote("d")
    assert "It runs: above 2  [2]" in text(played)
    assert "first let the class vote" in (played.why() or played.said)
    played.forward()
    assert 1 == played.at
    assert "=> c)" in text(played) and "The assistant" in text(played)
    assert not played.vote("a")


def test_a_change_puts_links_out_and_undo_lights_them(course):
    played = lecture(course)
    assert all(link.lit for link in played.chain)
    played.change("psyllium husk powder 40 g")
    assert not any(link.lit for link in played.chain)
    assert "goes out: Too little binder -x-> crumb without tie" in text(played, 100, 40)
    played.forward()
    assert not any(link.lit for link in played.chain)
    played.undo()
    assert all(link.lit for link in played.chain)


def test_changes_add_up(course):
    played = lecture(course)
    played.change("water -50 g")
    played.change("water -50 g")
    assert 165 == pytest.approx(played.course.topic.formula.grams_of("water"))


@pytest.mark.parametrize(
    "wrong", ["saffron -3 g", "water", "", "water -9000 g", "\x1b[2J", "omit " + "x" * 500]
)
def test_a_change_that_cannot_be_read_is_said_and_changes_nothing(course, wrong):
    played = lecture(course)
    played.change(wrong)
    assert played.said
    assert "\x1b" not in text(played)
    assert course is played.course


def test_jumps(course):
    played = lecture(course)
    played.go_to("12")
    assert 11 == played.at
    played.go_to("99")
    assert 11 == played.at
    assert f"steps 1 to {len(course.steps)}" in text(played)
    played.why()
    assert "rule" == played.step.kind
    played.return_()
    assert 11 == played.at


class Screen(DummyOutput):
    def get_size(self):
        return Size(rows=24, columns=80)


def test_keys(course):
    played = lecture(course)
    with create_pipe_input() as keys:
        keys.send_text(" \x1b[C\x1b[D" + "g7\r" + "cwater -50 g\r" + "l" + "q")
        player(played, keys, Screen()).run()
    assert (6, True) == (played.at, played.large)
    assert 215 == pytest.approx(played.course.topic.formula.grams_of("water"))


def test_keys_of_a_vote(course):
    played = lecture(course, hide_answers=True)
    with create_pipe_input() as keys:
        keys.send_text(" ccb" + "q")
        player(played, keys, Screen()).run()
    assert "[1]" in text(played) and "[2]" in text(played)


def test_an_escape_leaves_the_line_and_not_the_player(course):
    played = lecture(course)
    with create_pipe_input() as keys:
        keys.send_text("cwater")
        keys.send_text("\x1b")
        keys.send_text("\x03")
        player(played, keys, Screen()).run()
    assert course is played.course
