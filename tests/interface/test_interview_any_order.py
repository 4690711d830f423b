"""The interview in any order: whatever is typed at its prompts, it knows what was told, and says what follows."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Collection, Sequence
from pathlib import Path

import pytest
from hypothesis import Phase
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from laws import examples
from typed_interviews import (
    CTRL_C,
    KIND_TYPED,
    KNOWLEDGE,
    NONE,
    SKIPPED,
    SYMPTOMS,
    Known,
    TypedInterview,
    as_asked,
    diagnosed,
    held_in,
    known_of,
    next_asked,
)

from advisor.explanation.proofs import why_blocks
from advisor.interface.desk.bakers_answers import told_by
from advisor.interface.desk.showing import plain_lines
from advisor.interface.interview.interview_draft import drafts_in

PLACE = st.integers(0, 9)
TICKS = st.sets(
    # Few, so that what is ticked and what is asked often meet.
    st.sampled_from(["gummy_centre", "collapse_in_oven", "dense_crumb", "pale_crust"]),
    max_size=3,
)
WORD = st.sampled_from([NONE, NONE, "rice-reference-loaf"])


def standing(*places: str) -> Callable[[Callable[..., None]], Callable[..., None]]:
    return precondition(lambda self: self.at in places)


class InAnyOrder(RuleBasedStateMachine):
    """A baker who types whatever the interview offers; what should be known is changed first, then typed."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.drafts = Path(self.folder.name) / "drafts"
        self.patch = held_in(Path(self.folder.name), lambda: self.interview)
        self.kept: dict[Path, Known] = {}
        """What each draft should hold, that of the interview under way among them."""
        self.at = "out"
        """Where the interview stands: out, formula, ticks, question, change or result."""

    def teardown(self) -> None:
        while self.at != "out":
            self.type(CTRL_C)
        self.patch.undo()
        self.folder.cleanup()

    @property
    def known(self) -> Known:
        return self.kept[self.path]

    @known.setter
    def known(self, known: Known) -> None:
        self.kept[self.path] = known

    def open(self, as_list: bool, formula: str | None = None) -> None:
        self.interview = TypedInterview(as_list)
        self.at, self.had_result, self.ended = "formula", False, False
        self.interview.begin(formula)
        self.look()

    def type(self, *lines: str | None) -> None:
        for line in lines:
            self.interview.type(line)
            self.look()

    def look(self) -> None:
        self.at = self.interview.place() or self.at
        self.screen = self.interview.screen

    def goes_on(self) -> None:
        """What follows is the question that tells most now, or the result; nothing is asked twice."""
        due = None if self.had_result else next_asked(self.known)
        if due is None:
            self.gives_the_result(ended=self.ended or not self.had_result)
            return
        assert "question" == self.at
        assert f" {len(self.known.given) + 1}. {as_asked(due).question} " in f" {self.screen}"
        assert due not in {*self.known.ticked, *dict(self.known.given)}
        self.asked = due

    def gives_the_result(self, *, ended: bool) -> None:
        """The result is that of the same answers without any interview, here and from the file that is offered."""
        self.had_result, self.ended = True, ended
        assert "result" == self.at
        assert "\n" + diagnosed(self.known)[1] in self.interview.shown
        again = re.search(r"--answers (\S+)", self.screen)
        assert again
        assert told_by([], [], again[1], KNOWLEDGE) == self.known.told

    def is_over(self) -> None:
        """An interview that came to its end leaves no draft."""
        assert 0 == self.interview.stopped_at
        if self.ended:
            del self.kept[self.path]

    @invariant()
    def drafts_hold_what_was_told(self) -> None:
        assert self.kept == {draft.path: known_of(draft) for draft in drafts_in(self.drafts, KNOWLEDGE)}

    @initialize(word=WORD, as_list=st.booleans(), ticks=TICKS)
    def begin(self, word: str, as_list: bool, ticks: Collection[str]) -> None:
        self.open(as_list)
        self.type(word, *(KIND_TYPED if word == NONE else ()))
        self.begins(word, ticks)

    def begins(self, word: str, ticks: Collection[str]) -> None:
        (self.path,) = set(self.drafts.iterdir()) - set(self.kept)
        self.known = Known(word)
        assert "ticks" == self.at
        self.ticks(ticks, told=False)

    def ticks(self, ticks: Collection[str], *, told: bool) -> None:
        if ticks:
            self.tick_and_untick(ticks, told)
            self.be_done_with_ticking("done")

    @precondition(lambda self: self.at == "out" and len(self.kept) < 4)
    @rule(word=WORD, as_list=st.booleans(), ticks=TICKS)
    def begin_anew(self, word: str, as_list: bool, ticks: Collection[str]) -> None:
        if word == NONE:
            self.begin(word, as_list, ticks)
            return
        self.open(as_list, word)
        if any(known.word == word for known in self.kept.values()):
            self.type("n")
        self.begins(word, ticks)

    @precondition(lambda self: self.at == "out" and self.kept)
    @rule(place=PLACE, as_list=st.booleans(), named=st.booleans())
    def go_on_with_a_draft(self, place: int, as_list: bool, named: bool) -> None:
        paths = [draft.path for draft in drafts_in(self.drafts, KNOWLEDGE) if draft.path]
        place %= len(paths)
        self.path = paths[place]
        if named and (word := self.known.word) != NONE:
            self.path = next(path for path in paths if self.kept[path].word == word)
            self.open(as_list, word)
            self.type("")
        else:
            self.open(as_list)
            self.type(f"resume {place + 1}")
        if self.known.ticked:
            self.goes_on()
        else:
            assert "ticks" == self.at

    @precondition(lambda self: self.at == "out" and self.kept)
    @rule()
    def forget_all_drafts(self) -> None:
        self.open(as_list=True)
        self.kept.clear()
        self.type("forget", CTRL_C)
        assert "stopped without a formula" in str(self.interview.stopped_at)

    @standing("ticks")
    @rule(ticks=TICKS.filter(bool), told=st.booleans())
    def tick_and_untick(self, ticks: Collection[str], told: bool) -> None:
        """Tick and untick these, and what was a question already where it is `told`."""
        before = self.known.ticked
        ticks = sorted({*ticks, *(name for name, _ in self.known.given if told and name in SYMPTOMS)})
        self.known = self.known.ticking(ticks)
        if self.interview.as_list:
            for name in ticks:
                self.type("home", *["down"] * SYMPTOMS.index(name), "tick")
        else:
            self.type(" ".join(f"{'-' if s in before else ''}{SYMPTOMS.index(s) + 1}" for s in ticks))
        assert "ticks" == self.at

    @standing("ticks")
    @rule(typed=st.sampled_from(["d", "done", ""]))
    def be_done_with_ticking(self, typed: str) -> None:
        self.type("done" if self.interview.as_list else typed)
        # Enter alone may only turn a page.
        if self.at != "ticks" or (typed and self.known.ticked):
            self.goes_on()

    @precondition(lambda self: self.at == "ticks" and not self.interview.as_list)
    @rule(typed=st.sampled_from(["explain 3", "xyzzy", "999", "b"]))
    def say_what_is_no_tick(self, typed: str) -> None:
        self.type(typed)
        assert "ticks" == self.at

    @standing("question")
    @rule(moves=st.lists(PLACE | st.sampled_from(["?", "skip", "back"]), min_size=1, max_size=10))
    def answer(self, moves: Sequence[int | str]) -> None:
        """Answer one question after the other, put some aside, and go back."""
        for move in moves:
            if self.at != "question":
                return
            if move != "back":
                self.says(self.asked, move)
                continue
            first = not self.known.given
            self.known = self.known.without_the_last()
            self.type("back")
            if first:
                assert "This is the first question" in self.screen
            else:
                self.goes_on()

    def says(self, name: str, move: int | str) -> None:
        answers = list(as_asked(name).answers)
        if isinstance(move, int):
            self.known = self.known.answering(name, answers[move % len(answers)])
            self.type(str(move % len(answers) + 1))
        else:
            self.known = self.known.answering(name, SKIPPED if move == "skip" else None)
            self.type(move)
        self.goes_on()

    @standing("question", "result")
    @rule(place=PLACE, ticks=TICKS, told=st.booleans())
    def tell_otherwise(self, place: int, ticks: Collection[str], told: bool) -> None:
        was, number = self.at, place % (len(self.known.given) + 2)
        self.type(f"redo {number}")
        if number == 0:
            assert "ticks" == self.at
            self.ticks(ticks, told=told)
        elif number > len(self.known.given):
            assert was == self.at
            assert "There is no such number" in self.screen
        else:
            self.changed = self.known.given[number - 1][0]
            assert "change" == self.at
            assert f"{number}. {as_asked(self.changed).question} " in self.screen

    @standing("change")
    @rule(move=PLACE | st.sampled_from(["?", "keep"]))
    def answer_otherwise(self, move: int | str) -> None:
        if move != "keep":
            self.says(self.changed, move)
        else:
            self.type("keep")
            self.goes_on()

    @standing("question", "result")
    @rule(typed=st.sampled_from(["why", "answers", "help", "explain", "units", "why not", "99", "more"]))
    def ask_beside_it(self, typed: str) -> None:
        was, found = self.at, diagnosed(self.known)[0]
        self.type(typed)
        assert was == self.at
        if typed == "why":
            why = plain_lines(why_blocks(found, KNOWLEDGE, found.diagnosis.causes[0].id))
            assert "\n".join(["", *why]) in self.interview.shown
        for number, (name, _) in enumerate(self.known.given if typed == "answers" else (), 1):
            assert f"{number}. {as_asked(name).question} " in self.screen

    @standing("ticks", "question", "change", "result")
    @rule(how=st.sampled_from(["enough", "quit", CTRL_C]))
    def leave(self, how: str | None) -> None:
        """Whoever has no result yet gets one, but where there is nothing to go by, or after `quit`."""
        was = self.at
        if was == "change" or (was == "ticks" and (self.interview.as_list or how == "enough")):
            how = CTRL_C
        self.type(how)
        if self.had_result:
            self.is_over()
        elif how == "quit":
            assert 0 == self.interview.stopped_at
        elif self.known.ticked:
            self.gives_the_result(ended=how == "enough")
        else:
            assert "nothing was ticked" in str(self.interview.stopped_at)


@pytest.mark.hypothesis
def test_whatever_is_typed_in_whatever_order() -> None:
    run_state_machine_as_test(
        InAnyOrder,
        # Looking for fewer steps would take minutes.
        settings=examples(6, stateful_step_count=30, phases=[Phase.explicit, Phase.generate]),
    )


def test_quitting_the_ticks_after_a_result_leaves_as_quitting_the_result_does() -> None:
    state = InAnyOrder()
    try:
        state.begin(word=NONE, as_list=False, ticks={"dense_crumb"})
        if state.at == "question":
            state.leave("enough")
        state.tell_otherwise(place=0, ticks=(), told=False)
        state.leave("quit")
        state.drafts_hold_what_was_told()
    finally:
        state.teardown()
