"""Where the formula of a failed loaf comes from: pasted, a file, a demo, a bake of the record, or nowhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.formula_prompt import ask_for_formula
from advisor.interface.desk.keeping import keep
from advisor.interface.desk.own_places import record_path
from advisor.interface.interview.interview_draft import Draft
from advisor.interface.interview.interview_talk import Talk
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.trial_record.bake import Bake

NONE = "none"
_NO_FORMULA = frozenset(
    {"none", "no", "i don't have it", "i dont have it", "don't have it", "dont have it", "without"}
)
_BAKES_OFFERED = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What the baker chose: a word for a formula, `NONE`, or a draft to go on with."""

    word: str
    draft: Draft | None = None


def latest_bakes(place: str | None = None) -> tuple[Bake, ...]:
    """Give the latest bakes of the trial record; none where there is no record, or it cannot be read."""
    path = record_path(place)
    if not path.exists():
        return ()
    from advisor.trial_record.faults import RecordFault
    from advisor.trial_record.record import open_record

    try:
        with open_record(path, to_write=False) as record:
            return record.latest(_BAKES_OFFERED)
    except RecordFault:
        return ()


def ask_for_loaf(talk: Talk, drafts: Sequence[Draft], bakes: Sequence[Bake]) -> Chosen:
    """Ask which loaf it is about, with what was left unfinished and what was baked last on offer.

    Raises:
        InputFault: the baker left without giving one.
    """
    which = [
        "Which formula? Type the name of a file, or of a demo formula (the Tab key lists them).",
        "Or paste or type it, one ingredient a line, and end it with an empty line.",
    ]
    for number, draft in enumerate(drafts, 1):
        word = "resume" if number == 1 else f"resume {number}"
        which.append(f"{word}: go on with {_about(draft, talk.knowledge)} of {shown(draft.began, 20)}.")
    if drafts:
        which.append("forget: throw away what is unfinished.")
    for number, bake in enumerate(bakes, 1):
        which.append(f"bake {number}: {shown(bake.formula, 40)}, baked {shown(bake.baked_on, 16)}.")
    which.append("none: I don't have it (then it goes by the loaf alone). Ctrl-C leaves.")
    left = list(drafts)

    def instead(word: str) -> str | None:
        return _meant(word, talk, left, bakes)

    word = ask_for_formula(
        talk.measures.region,
        prompter=talk.prompter,
        which=which,
        instead=instead,
        ends=_ends,
        begun=talk.begun,
    )
    if word.startswith("resume "):
        draft = left[int(word.split()[1]) - 1]
        return Chosen(word=draft.word or NONE, draft=draft)
    return Chosen(word=word)


def _ends(line: str) -> bool:
    """A line of several words that is whole though it names no file."""
    words = line.lower().split()
    plain = " ".join(words).rstrip(".")
    return (
        plain in _NO_FORMULA or words[:1] == ["units"] or (len(words) == 2 and words[0] in ("bake", "resume"))
    )


def _meant(word: str, talk: Talk, drafts: list[Draft], bakes: Sequence[Bake]) -> str | None:
    """Understand what is no formula and no name of one.

    Raises:
        InputFault: said, and asked again.
    """
    plain = " ".join(word.lower().split()).rstrip(".")
    first, _, rest = plain.partition(" ")
    if plain in _NO_FORMULA:
        return NONE
    if first == "units" and "\n" not in word:
        talk.change_measures(rest) if rest else talk.show_measures()
        raise InputFault("Now the formula:")
    if plain == "forget" and drafts:
        for draft in drafts:
            draft.remove()
        drafts.clear()
        raise InputFault("Forgotten. Now the formula:")
    if first == "resume" and drafts:
        return f"resume {_place(rest or '1', len(drafts))}"
    if first == "bake" and "\n" not in word and rest.isdecimal():
        if not bakes:
            raise InputFault("There is no bake in a trial record here.")
        bake = bakes[_place(rest, len(bakes)) - 1]
        return str(keep(bake.formula_text.rstrip() + "\n", name="formula", suffix=".txt"))
    return None


def _place(word: str, last: int) -> int:
    number = int(word) if word.isdecimal() and word.isascii() and len(word) < 4 else 0
    if not 1 <= number <= last:
        raise InputFault(f"There is no number {word[:10]}: they go from 1 to {last}.")
    return number


def _about(draft: Draft, knowledge: Knowledge) -> str:
    """Name an unfinished interview in a few words."""
    if draft.kind is not None:
        name = knowledge.structures[draft.kind.carried_by].name
    else:
        lines = [line for line in draft.formula_text.splitlines() if line.strip() and line[:1] != "#"]
        name = shown(lines[0] if lines else draft.word, 40)
    ticks, answers = len(draft.heard.ticked), len(draft.heard.given)
    return f"{name} ({ticks} ticked, {answers} answered)"


def formula_of(draft: Draft, knowledge: Knowledge) -> Formula:
    """Read the formula that a draft keeps, which may have changed on the disk since.

    Raises:
        FormulaFault: it cannot be read.
    """
    if draft.formula_text:
        name = shown(draft.word, 60)
        return read_formula_text(draft.formula_text, knowledge, name=name, region=draft.region)
    return choose_formula(draft.word, knowledge, draft.region)
