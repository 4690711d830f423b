"""`advisor ingredients`: what is known of ingredients, and the user's own: new, exported, imported."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from advisor import load_knowledge
from advisor.api.looking_up import found_by, ingredients_holding
from advisor.explanation.blocks import Block, Heading, Paragraph, Row
from advisor.explanation.quantities import runs_of
from advisor.formula.faults import FormulaFault
from advisor.formula.files import TABLES, rows_of_table
from advisor.formula.lines.matching import NameIndex
from advisor.formula.reading import read_formula_text
from advisor.interface.desk.ingredient_page import ingredient_page
from advisor.interface.desk.keeping import keep
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.prompting import can_ask
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_entry import OwnFile, OwnIngredient
from advisor.knowledge_base.own_file import (
    OwnFileFault,
    entry_yaml,
    own_yaml,
    parse_own_entry,
    parse_own_file,
    read_own_file,
    write_own_file,
)
from advisor.knowledge_base.own_ingredients import merged, names_of, shipped_only, sibling_of
from advisor.knowledge_base.own_making import Made, is_own
from advisor.knowledge_base.own_sheet import own_from_sheet
from advisor.knowledge_base.places import own_ingredients_path
from advisor.knowledge_base.strict_yaml import Document
from advisor.models.dough.panel_balance import panel_balance

MOST_BYTES = 2_000_000
MOST_PAGES = 6
"""Ingredients shown in full for one word; with more, they are listed."""


def run_ingredients(options: argparse.Namespace) -> int:
    """Show, add, export or import; exit 0 where something was found or kept, 1 where nothing is found.

    Raises:
        InputFault: what was given cannot be used; nothing was kept.
    """
    try:
        if options.new is not None:
            return _new(options.new, as_json=options.json, replace=options.replace)
        if options.import_file is not None:
            return _import(options.import_file, as_json=options.json, replace=options.replace)
        if options.export:
            return _export(as_json=options.json)
        return _show(" ".join(options.word) or None, as_json=options.json)
    except OwnFileFault as fault:
        raise InputFault(f"{fault}\nadvisor: own ingredients are at fault; nothing was changed") from None


def _here() -> tuple[Knowledge, OwnFile, Path]:
    """The shipped knowledge, what the user's file holds, and where it is."""
    path = own_ingredients_path()
    own, document = read_own_file(path)
    knowledge = shipped_only(load_knowledge())
    merged(knowledge, own, document, str(path))  # what is wrong with it is said with its own lines
    return knowledge, own, path


def _show(word: str | None, *, as_json: bool) -> int:
    path = own_ingredients_path()
    own, document = read_own_file(path)
    knowledge, _ = merged(load_knowledge(), own, document, str(path))
    found = found_by(word, knowledge)
    if as_json:
        _write_found(found, knowledge, ())
    elif word is None or len(found) > MOST_PAGES:
        write_page(_list_page(found, word))
    else:
        blocks = [block for entry in found for block in ingredient_page(entry, knowledge)]
        write_page(page_text((*blocks, *_others(word, found, knowledge))))
    return 0 if found else 1


def _others(word: str, found: Sequence[Ingredient], knowledge: Knowledge) -> Iterator[Block]:
    """Name what else holds the word, so that one exact name does not hide it; where none is found, what is near."""
    if not found:
        near = ", ".join(name for name, _ in NameIndex(knowledge.ingredients).nearest(word))
        how = f"Near: {near}." if near else "A word that names one looks it up: ingredients psyllium."
        yield Paragraph(runs=(f"No ingredient is called '{word}'. {how}",))
        return
    ids = {entry.id for entry in found}
    names = [entry.name for entry in ingredients_holding(word, knowledge) if entry.id not in ids]
    if names:
        more = f" and {len(names) - 20} more" if len(names) > 20 else ""
        yield Row(left=(f"'{word}' is also in: {', '.join(names[:20])}{more}.",), right=())


def _list_page(found: Sequence[Ingredient], word: str | None) -> str:
    said = f"{len(found)} ingredients" if word is None else f"{len(found)} ingredients hold '{word}'"
    families: dict[str, list[str]] = {}
    for entry in found:
        family = "your own" if is_own(entry) else entry.family.replace("_", " ")
        families.setdefault(family, []).append(entry.name)
    one = "'advisor ingredients WORD' shows one with all its figures and sources."
    blocks: list[Block] = [Paragraph(runs=(f"{said}. {one}",))]
    for family, names in families.items():
        blocks += (Heading(text=family), Paragraph(runs=(", ".join(names),)))
    return page_text(blocks)


def _export(*, as_json: bool) -> int:
    knowledge, own, path = _here()
    if not own.ingredients and not own.prices:
        sys.stderr.write(f"advisor: no ingredients of your own in {path}\n")
        return 1
    if as_json:
        full, made = merged(knowledge, own, Document({}), str(path))
        _write_found([m.ingredient for m in made.values()], full, ())
    else:
        sys.stdout.write(own_yaml(own))
    return 0


def _new(word: str, *, as_json: bool, replace: bool) -> int:
    if word == "-" and can_ask():
        knowledge, own, _ = _here()
        text, shown = _asked(knowledge, own, replace=replace), "your answers"
    else:
        text, shown = _text(word)
    try:
        told = OwnFile(ingredients=(parse_own_entry(text, shown),))
        return _keep(told, shown, as_json=as_json, replace=replace)
    except (InputFault, OwnFileFault) as fault:
        if shown != "your answers":
            raise
        kept = keep(text, name="ingredient", suffix=".yaml")
        raise InputFault(
            f"{fault}\nadvisor: your answers are kept in {kept}; mend them there and give --new {kept}"
        ) from None


def _asked(knowledge: Knowledge, own: OwnFile, *, replace: bool) -> str:
    from advisor.interface.desk.panel_questions import ask_for_ingredient

    known = names_of(knowledge.ingredients.values())
    if not replace:
        known |= names_of(
            e for e in merged(knowledge, own, Document({}), "")[0].ingredients.values() if is_own(e)
        )
    return entry_yaml(ask_for_ingredient(known))


def _import(word: str, *, as_json: bool, replace: bool) -> int:
    told, shown = _told(word)
    if not told.ingredients and not told.prices:
        raise InputFault(f"{shown}: holds neither ingredients nor prices")
    return _keep(told, shown, as_json=as_json, replace=replace)


def _told(word: str) -> tuple[OwnFile, str]:
    """Read what --export wrote, or a sheet of prices and panels."""
    if Path(word).suffix.lower() in TABLES:
        return own_from_sheet(rows_of_table(Path(word)), word), word
    text, shown = _text(word)
    return parse_own_file(text, shown), shown


def _text(word: str) -> tuple[str, str]:
    shown = "standard input" if word == "-" else word
    try:
        if word == "-":
            raw = sys.stdin.buffer.read(MOST_BYTES + 1)
        else:
            with Path(word).open("rb") as file:
                raw = file.read(MOST_BYTES + 1)
        if len(raw) > MOST_BYTES:
            raise InputFault(f"{shown}: more than {MOST_BYTES // 1_000_000} MB")
        return raw.decode("utf-8-sig"), shown
    except (OSError, UnicodeDecodeError, ValueError) as error:
        raise InputFault(f"{shown}: cannot be read: {error}") from None


def _keep(told: OwnFile, shown: str, *, as_json: bool, replace: bool) -> int:
    """Check what was told, put it into the user's file, and say what came of it."""
    knowledge, own, path = _here()
    entries, old = told.ingredients, own.ingredients
    if replace:
        going = {entry.key for entry in entries}
        old = tuple(entry for entry in old if entry.key not in going)
    both = OwnFile(ingredients=(*old, *entries), prices={**own.prices, **told.prices})
    full, made = merged(knowledge, both, Document({}), shown)
    said: list[str] = []
    wrong: list[str] = []
    siblings = names_of(knowledge.ingredients.values())
    for entry in entries:
        _readable(entry, full)
        new = made[entry.key]
        lines = panel_balance(
            entry.figures,
            new.ingredient.per_100g,
            sibling_of(entry, siblings),
            knowledge,
            water_told=entry.water is not None,
        )
        for line in lines:
            # Some foods are labelled by factors of their own: who says so in the note is believed.
            known = line.about == "energy" and "energy" in (entry.note or "").casefold()
            (said if line.holds or known else wrong).append(f"{entry.name}: {line.says}")
        said += [f"{entry.name}: {sentence}." for sentence in new.said]
    if wrong:
        how = "advisor: nothing was kept; where the packet's energy is so, say why in a note with the word energy"
        raise InputFault(
            "\n".join([*wrong, how if any(": Energy" in w for w in wrong) else how.split(";")[0]])
        )
    write_own_file(path, both)
    said.append(f"Kept in {path}")
    _say_kept([made[entry.key] for entry in entries], full, said, as_json=as_json)
    return 0


def _readable(entry: OwnIngredient, full: Knowledge) -> None:
    """Refuse a name by which a formula would not find the ingredient (a plural of another, a comma, "or").

    Raises:
        InputFault: naming it, and what a formula reads instead.
    """
    for name in (entry.name, *entry.also):
        try:
            read = read_formula_text(f"100 g {name}", full).lines[0].ingredient
        except FormulaFault as fault:
            raise InputFault(f"advisor: a formula cannot say '100 g {name}': {fault}") from None
        if read.id != entry.key:
            raise InputFault(f"advisor: a formula would read '{name}' as {read.name}: take another name")


def _say_kept(made: Sequence[Made], full: Knowledge, said: Sequence[str], *, as_json: bool) -> None:
    if as_json:
        _write_found([m.ingredient for m in made], full, said)
        return
    blocks: list[Block] = [Paragraph(runs=runs_of(line)) for line in said]
    for one in made if len(made) <= MOST_PAGES else ():
        blocks += ingredient_page(one.ingredient, full)
    write_page(page_text(blocks))


def _write_found(found: Sequence[Ingredient], knowledge: Knowledge, said: Sequence[str]) -> None:
    from advisor.rendering.documents.known import ingredients_document

    write_document(ingredients_document(found, said, knowledge))
