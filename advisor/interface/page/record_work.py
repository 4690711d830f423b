"""The view of the record: the bakes that are kept, two of them compared, a formula over time, notes, and the export."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor import load_knowledge
from advisor.api.records import learnt_in, said
from advisor.interface.desk.bake_blocks import bake_blocks, day, over_time, two_bakes
from advisor.interface.desk.bake_look_back import look_back
from advisor.interface.desk.bake_words import change_name, mark_text, symptom_name
from advisor.interface.desk.marks_picture import over_time_picture
from advisor.interface.desk.own_places import record_path
from advisor.interface.desk.record_learnt import why
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.bake_work import picture
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.html import Html, PageStyle, html_part, text
from advisor.trial_record.bake import LONGEST, Bake
from advisor.trial_record.record import TrialRecord, Wanted, open_record
from advisor.trial_record.written_out import to_csv, to_yaml

_LISTED, _OVER_TIME = 200, 40
_NONE = "No bakes are kept yet. After a bake, tick what it showed and keep it; then it can be compared with the next."
_STYLE = PageStyle(prefix="record-")


def bakes(asked: Asked) -> Json:
    """List the bakes that are kept, latest first: all, or those that hold some words; and what they have taught."""
    path, knowledge = record_path(), load_knowledge()
    if not path.exists():
        return {"list": "", "formulas": "", "learnt": "", "said": _NONE}
    words = tuple(asked.text("words", most=200).split())
    with open_record(path, to_write=False) as record:
        found = record.find(Wanted(words=words), _LISTED) if words else record.latest(_LISTED)
        count, formulas = record.count(), record.formulas()
        shifts, damage = learnt_in(record, knowledge), record.damage
    if not count and damage is None:
        return {"list": "", "formulas": "", "learnt": "", "said": _NONE}
    return {
        "list": _table(found, knowledge),
        "formulas": "".join(
            f"<option value='{text(n)}'>{text(shown(n, 60))} ({c})</option>" for n, c in formulas
        ),
        "learnt": "".join(f"<li>{text(_sentence(said(s, knowledge)))} {text(why(s))}</li>" for s in shifts),
        "said": f"{len(found)} of {count} bake{'s' if count != 1 else ''}."
        + (f" {_sentence(damage.what)}; {damage.do}." if damage else ""),
    }


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."


def _table(found: Sequence[Bake], knowledge: Knowledge) -> Html:
    head = "".join(
        f"<th scope='col'>{name}</th>"
        for name in ("compare", "bake", "baked on", "mark", "seen, and what was followed")
    )
    return (
        f"<table class='many'><caption>Bakes, latest first</caption><thead><tr>{head}</tr></thead><tbody>"
        f"{''.join(_rows(found, knowledge))}</tbody></table>"
    )


def _rows(found: Sequence[Bake], knowledge: Knowledge) -> Iterator[Html]:
    for bake in found:
        told = ", ".join(symptom_name(s, knowledge) for s in bake.seen) or "nothing noted"
        followed = f"; followed: {change_name(bake.followed, knowledge)}" if bake.followed else ""
        name = f"bake {bake.number}, {shown(bake.formula, 60)}"
        yield (
            f"<tr><td><input type='checkbox' name='bake' value='{bake.number}' aria-label='Compare {text(name)}'></td>"
            f"<th scope='row'><button type='button' data-bake='{bake.number}'>{text(name)}</button></th>"
            f"<td data-head='baked on'>{text(day(bake))}</td><td data-head='mark'>{text(mark_text(bake))}</td>"
            f"<td data-head='seen'>{text(told + followed)}</td></tr>"
        )


def one_bake(asked: Asked) -> Json:
    """Tell all of one bake, with its notes to be edited.

    Raises:
        InputFault: there is none of that number.
    """
    knowledge = load_knowledge()
    with open_record(record_path(), to_write=False) as record:
        bake = _bake(record, asked.whole("number", 1, 10**9))
        back = look_back(record, bake, knowledge)
    return {
        "bake": html_part(tuple(bake_blocks(bake, back, knowledge)), _STYLE),
        "notes": bake.notes or "",
        "formula": bake.formula_text,
        "number": bake.number,
    }


def _bake(record: TrialRecord, number: int | None) -> Bake:
    if record.damage is not None and number in {one.number for one in record.damaged}:
        raise record.damage
    if number is None or (bake := record.bake(number)) is None:
        raise InputFault("there is no such bake; the list shows those that there are")
    return bake


def noted(asked: Asked) -> Json:
    """Put other notes to a bake.

    Raises:
        InputFault: there is none of that number.
    """
    with open_record(record_path(), to_write=True) as record:
        bake = record.note(asked.whole("number", 1, 10**9) or 0, asked.text("notes", most=LONGEST))
    if bake is None:
        raise InputFault("there is no such bake; the list shows those that there are")
    return {"said": f"The notes of bake {bake.number} are kept."}


def taken_back(asked: Asked) -> Json:
    """Take a bake out of all that is shown and learnt, or put it in again; it stays in the file.

    Raises:
        InputFault: there is none of that number.
    """
    again = asked.yes("undo")
    with open_record(record_path(), to_write=True) as record:
        bake = record.take_back(asked.whole("number", 1, 10**9) or 0, back=not again)
    if bake is None:
        raise InputFault("there is no such bake; the list shows those that there are")
    return {
        "said": f"Bake {bake.number} is {'in the record again' if again else 'taken back'}.",
        "number": bake.number,
    }


def two_compared(asked: Asked) -> Json:
    """Lay two bakes beside each other, the earlier one first.

    Raises:
        InputFault: not two, or one that is not there.
    """
    numbers = sorted(set(asked.words("bakes", 10)))
    if len(numbers) != 2 or not all(number.isdecimal() and len(number) < 10 for number in numbers):
        raise InputFault("tick two bakes to compare")
    with open_record(record_path(), to_write=False) as record:
        some = sorted((_bake(record, int(n)) for n in numbers), key=lambda b: (b.baked_on, b.number))
    return {"comparison": html_part(tuple(two_bakes(some[0], some[1], load_knowledge())), _STYLE)}


def through_time(asked: Asked) -> Json:
    """Tell how the bakes of one formula went, with a picture of their marks.

    Raises:
        InputFault: there is no bake of it.
    """
    name, knowledge = asked.text("name", most=LONGEST), load_knowledge()
    with open_record(record_path(), to_write=False) as record:
        found = tuple(reversed(record.latest(_OVER_TIME, formula=name)))
        best, count = record.best(name), record.count(name)
    if not found:
        raise InputFault("there is no bake of that formula")
    blocks = tuple(over_time(found, best, count, knowledge))
    return {"time": html_part(blocks, _STYLE) + picture(over_time_picture(found, knowledge))}


def exported(asked: Asked) -> Json:
    """Give all bakes as a file.

    Raises:
        InputFault: none is kept.
    """
    form = asked.choice("form", ("yaml", "csv"))
    if not record_path().exists():
        raise InputFault(_NONE)
    with open_record(record_path(), to_write=False) as record:
        every = record.everything()
    return {"file": to_csv(every) if form == "csv" else to_yaml(every), "name": f"bakes.{form}"}
