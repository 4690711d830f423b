"""After the result: asking why, seeing more, a change in full, telling an answer otherwise, saving the transcript."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from advisor.diagnosis.pipeline import Examination
from advisor.interface.desk.prompting import Left
from advisor.interface.interview.interview_commands import AFTER_THE_RESULT, Command, command_in
from advisor.interface.interview.interview_talk import Talk
from advisor.interface.interview.interview_ticks import Quit
from advisor.interface.interview.question_round import QuestionRound
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.whole_file import write_whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What there is to ask about: the examination, the whole page, a change by its number, and keeping the bake.

    The last two raise InputFault.
    """

    found: Examination
    more: Callable[[], list[str]]
    change: Callable[[str], list[str]]
    keep: Callable[[], str]


def talk_it_over(talk: Talk, questions: QuestionRound, shown: Shown) -> bool:
    """Answer until the baker leaves; `True` where an answer was told otherwise, so that the result is another.

    Raises:
        Quit: never here; leaving is `False`.
    """
    talk.prompter.say()
    talk.say("k keeps this bake in your record. why, why not CAUSE, more, change 2, quit; help: all.")
    while True:
        try:
            typed = talk.prompter.line("result> ")
        except Left:
            return False
        if not typed:
            talk.say("quit leaves; help says what else there is.")
            continue
        command = command_in(typed)
        if command is None:
            talk.say(
                "Not understood. There are: k, why, why not CAUSE, more, change 2, answers, explain WORD, quit; help."
            )
        elif command.word in ("quit", "enough"):
            return False
        elif command.word == "redo" and command.about:
            try:
                if questions.change(command.about):
                    return True
            except (Left, Quit):
                return False
        else:
            _answer(talk, questions, shown, command)


def _answer(talk: Talk, questions: QuestionRound, shown: Shown, command: Command) -> None:
    try:
        match command.word:
            case "more":
                talk.lines(shown.more())
            case "change":
                talk.lines(shown.change(command.about or "1"))
            case "keep":
                talk.say(shown.keep())
            case "save":
                talk.say(save_transcript(talk, command.about))
            case "why" | "why_not" | "answers" | "units":
                questions.aside(command, shown.found)
            case "explain" if command.about:
                questions.aside(command, shown.found)
            case "explain":
                talk.say("Which word? For example: explain proof.")
            case _:
                talk.table(AFTER_THE_RESULT)
    except InputFault as fault:
        talk.say(str(fault).removeprefix("advisor: "))


def save_transcript(talk: Talk, name: str) -> str:
    """Write all that was said and typed; give a sentence.

    Raises:
        InputFault: there is no name, a file of that name, or nothing can be written there.
    """
    name = name.removeprefix("transcript ").strip().strip("'\"")
    if not name:
        raise InputFault("advisor: to which file? For example: save transcript loaf.txt")
    path = Path(name).expanduser()
    try:
        there = path.exists()
    except (OSError, ValueError):
        raise InputFault("advisor: that is no name of a file") from None
    if there:
        raise InputFault(f"advisor: {name} is there already; give another name")
    write_transcript(talk, path)
    return f"Saved in {path}."


def write_transcript(talk: Talk, path: Path) -> None:
    """Write all that was said and typed so far.

    Raises:
        InputFault: nothing can be written there.
    """
    text = "\n".join(talk.prompter.noted) + "\n"
    write_whole(path, text.encode("utf-8", "replace").decode("utf-8"))
