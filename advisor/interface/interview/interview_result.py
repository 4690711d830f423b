"""What an interview comes to: the page of the answer, which names the words of the talk where a command has options."""

from __future__ import annotations

from advisor.explanation.answer import Answer
from advisor.explanation.page import page_of
from advisor.interface.desk.showing import plain_lines


def result_lines(answer: Answer) -> list[str]:
    """The usual page, as wide as the terminal."""
    return plain_lines(page_of(answer, more="'more' has all numbers and the time axis.", ask="with 'more'"))
