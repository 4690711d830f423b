"""What is noted of a bake: the same from the command line, from a YAML file, and from answers at the terminal."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from advisor.interface.desk.bake_keeping import Noted
from advisor.interface.desk.choosing import write_notes
from advisor.interface.desk.output import check_names
from advisor.interface.desk.symptom_words import Chooser, read_said
from advisor.knowledge_base.faults import InputFault, KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.strict_yaml import Plain, read_yaml
from advisor.trial_record.bake import MEASURED, SCORES, CameOut, Scores

_KEYS = (
    "formula", "saw", "not", "nothing_else", *SCORES, *MEASURED, "photo", "lots", "followed", "after", "date", "notes",
)  # fmt: skip


def noted_on(options: argparse.Namespace) -> Noted:
    """Read the options of `record add`.

    Raises:
        InputFault: a lot without its ingredient.
    """
    lots = {}
    for pair in options.lot:
        name, equals, lot = pair.partition("=")
        if not (name and equals and lot):
            raise InputFault(
                f"advisor: --lot {pair[:60]}: write it as ingredient=lot, such as whole_egg=L2231"
            )
        lots[name] = lot
    return Noted(
        formula=options.formula,
        saw=tuple(options.saw),
        not_seen=tuple(options.not_seen),
        nothing_else=options.nothing_else,
        scores=Scores(**{name: getattr(options, f"{name}_mark") for name in SCORES}),
        came_out=CameOut(
            height_cm=options.height, weight_g=options.weight, volume_ml=options.volume, core_c=options.core
        ),
        photo=options.photo,
        lots=lots,
        followed=options.followed,
        after=options.after,
        date=options.date,
        notes=options.notes,
    )


def noted_in(path: Path) -> Noted:
    """Read a YAML file with the same.

    Raises:
        InputFault: it cannot be read, or holds something else, with its line.
    """
    try:
        document = read_yaml(path, str(path))
    except KnowledgeFault as fault:
        raise InputFault(str(fault)) from None
    data = document.data
    if not isinstance(data, dict):
        raise InputFault(f"{path}:1: expected keys and values; known are {', '.join(_KEYS)}")

    def wrong(key: str, what: str) -> InputFault:
        return InputFault(f"{path}:{document.line_of((key,))}: '{key}' {what}")

    for key in data:
        if key not in _KEYS:
            raise wrong(key, f"is no key of a bake; known are {', '.join(_KEYS)}")

    def text(key: str) -> str | None:
        value = data.get(key)
        if value is not None and not isinstance(value, str):
            raise wrong(key, "must be a text; put quotes around it")
        return value

    def number(key: str) -> float | None:
        value = data.get(key)
        if value is not None and (isinstance(value, bool) or not isinstance(value, int | float)):
            raise wrong(key, "must be a number")
        return value

    def whole(key: str) -> int | None:
        value = number(key)
        if value is not None and value != int(value):
            raise wrong(key, "must be a whole number")
        return None if value is None else int(value)

    def names(key: str) -> tuple[str, ...]:
        value: Plain = data.get(key, [])
        if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
            raise wrong(key, "must be a list of names")
        return tuple(str(v) for v in value)

    lots = data.get("lots", {})
    if not isinstance(lots, dict) or not all(isinstance(v, str) for v in lots.values()):
        raise wrong("lots", "must be ingredient: lot, a line each, lots in quotes")
    return Noted(
        formula=text("formula"),
        saw=names("saw"),
        not_seen=names("not"),
        nothing_else=data.get("nothing_else") is True,
        scores=Scores(**{name: whole(name) for name in SCORES}),
        came_out=CameOut(**{name: number(name) for name in MEASURED}),
        photo=text("photo"),
        lots={name: str(lot) for name, lot in lots.items()},
        followed=text("followed"),
        after=whole("after"),
        date=text("date"),
        notes=text("notes"),
    )


def with_known_names(noted: Noted, knowledge: Knowledge, choose: Chooser | None = None) -> Noted:
    """Put every name into the form in which the knowledge has it; a baker's own words are kept in the notes.

    Raises:
        InputFault: a symptom, lever or ingredient that is not known, or a symptom given both ways.
    """
    said, denied = read_said(noted.saw, knowledge, choose), read_said(noted.not_seen, knowledge, choose)
    saw, absent = said.saw, tuple(dict.fromkeys((*denied.saw, *said.not_seen)))
    write_notes((*said.notes, *denied.notes))
    own = "; ".join(dict.fromkeys((*said.in_own_words, *denied.in_own_words)))
    notes = " ".join(part for part in (noted.notes, f"Said: {own}." if own else None) if part) or None
    if both := sorted(set(saw) & set(absent)):
        raise InputFault(f"advisor: '{both[0]}' is given as seen and as not seen; keep one")
    if noted.nothing_else:
        absent = tuple(name for name in knowledge.symptoms if name not in saw)
    lots = {name.lower().replace(" ", "_").replace("-", "_"): lot for name, lot in noted.lots.items()}
    check_names(lots, knowledge.ingredients, "ingredient")
    followed = None if noted.followed is None else change_named(noted.followed, knowledge)
    return replace(noted, saw=saw, not_seen=absent, lots=lots, notes=notes, followed=followed)


def change_named(word: str, knowledge: Knowledge) -> str:
    """Give the id of a change that was told by its id or by the name that the pages print; a number stays one.

    Raises:
        InputFault: there is no such change.
    """
    if word.isdecimal() and word.isascii() and len(word) < 3:
        return word
    plain = " ".join(word.replace("-", " ").lower().split()).rstrip(".")
    for name, lever in knowledge.levers.items():
        if plain in (
            name.replace("-", " "),
            " ".join(lever.says.replace("-", " ").lower().split()).rstrip("."),
        ):
            return name
    check_names([word], knowledge.levers, "change")
    return word
