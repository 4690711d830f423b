"""A change as a baker writes it: "water -30 g", "oven 165 C", "omit butter", "whole egg -> egg white"."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from advisor.formula.faults import FormulaFault, LineFault, shown
from advisor.formula.formula import Formula, Line
from advisor.formula.reading import reader_for
from advisor.formula.spelling import words_of
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest
from advisor.remedy.change import Change, Changed, add_grams, move_grams, scale_lines
from advisor.remedy.change_fault import ChangeFault
from advisor.remedy.printed_change import by_hand, changes_in, printed_amount
from advisor.remedy.spoken_change import Direction, direction_in, short_form, words_of_changes
from advisor.remedy.written_process import process_key, processed

_OMIT = re.compile(r"(?:omit|leave\s+out|without|no)\s+(?:the\s+)?(?P<name>.+)", re.IGNORECASE)
_ARROW = re.compile(r"(?P<old>.+?)\s*(?:->|=>|→)\s*(?P<new>.+)")
_INSTEAD = re.compile(r"(?P<new>.+?)\s+(?:instead\s+of|for|in\s+place\s+of)\s+(?P<old>.+)", re.IGNORECASE)
_RELATIVE = re.compile(r"(?P<name>[^\W\d].*?)\s*(?P<sign>[+\-−–])\s*(?P<amount>[0-9¼½¾⅓⅔].*)")
_SHARE = re.compile(r"(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*(?:%|per\s?cent)")
_SAME, _SAME_G = 0.02, 0.6
"""A printed weight is that of a line if it is off by less, as a share or in grams: it is rounded."""

SwapSolver = Callable[[Formula, str, Ingredient], Changed]
"""From a formula, the id of what goes and what comes, to the changed formula."""


def apply_changes(
    formula: Formula,
    texts: Sequence[str],
    knowledge: Knowledge,
    *,
    region: str = "us",
    swap: SwapSolver | None = None,
) -> Changed:
    """Apply written changes one after the other.

    `swap` solves the amounts of an "A instead of B"; without it the same weight is taken.

    Raises:
        ChangeFault: one of them cannot be read, or does not fit the formula as changed so far.
    """
    before, changes = formula, list[Change]()
    for written in (part for text in texts for part in changes_in(text, knowledge)):
        one = _one(formula, " ".join(written.split()), knowledge, region, swap)
        formula = one.formula
        changes += one.changes
    if not formula.lines:
        raise ChangeFault(texts[-1], "nothing is left of the formula", "leave an ingredient in")
    if formula == before and changes and all(change.after is None for change in changes):
        raise ChangeFault(
            texts[-1], "no line of the formula holds this: it is done by hand", "bake it so, and look"
        )
    return Changed(formula=formula, changes=tuple(changes))


def _one(formula: Formula, text: str, knowledge: Knowledge, region: str, swap: SwapSolver | None) -> Changed:
    """Apply one change in its short form; where it cannot be read, ask whether the nearest reading is meant."""
    if (done := by_hand(formula, text, knowledge)) is not None:
        return done
    if (printed := printed_amount(text)) is not None:
        named = _lines(formula, text, printed.name, knowledge)
        off = max(_SAME_G, _SAME * printed.before)
        # Of several lines of one thing the printed weight tells which is meant.
        if line := next((x for x in named if abs(x.grams - printed.before) <= off), None):
            return _scaled_to(formula, (line,), printed.after)
    if (asked := direction_in(text)) is not None:
        raise _how_much(text, asked)
    try:
        return _applied(formula, short_form(text), knowledge, region, swap)
    except ChangeFault as fault:
        near = _nearest_reading(formula, text, knowledge)
        if near == text:
            raise
        try:
            _applied(formula, short_form(near), knowledge, region, None)
        except ChangeFault:
            raise fault from None
        raise ChangeFault(text, "this cannot be read", f"did you mean '{near}'?") from None


def _how_much(text: str, asked: Direction) -> ChangeFault:
    sign = "+" if asked.way == "more" else "-"
    return ChangeFault(
        text, f"how much {asked.way}?", f"write it: '{asked.name} {sign}20 g' or '{asked.name} {sign}10 %'"
    )


def _nearest_reading(formula: Formula, text: str, knowledge: Knowledge) -> str:
    """Put misspelt words right by the words of changes and the names in the formula; the others stay."""
    names = {
        word
        for x in formula.lines
        for name in (x.ingredient.name, *x.ingredient.also)
        for word in words_of(name)
    }
    known = sorted(names | words_of_changes())
    return " ".join(
        word
        if len(word) < 4 or word.lower() in known
        else (nearest(word.lower(), known, 1, 75.0) or (word,))[0]
        for word in text.split()
    )


def _applied(
    formula: Formula, text: str, knowledge: Knowledge, region: str, swap: SwapSolver | None
) -> Changed:
    if not text:
        raise ChangeFault(text, "nothing is written")
    if found := _OMIT.fullmatch(text):
        return _omitted(formula, text, found["name"], knowledge)
    if found := _ARROW.fullmatch(text):
        return _replaced(formula, text, found["old"], found["new"], knowledge, region)
    if (key := process_key(text)) is not None:
        return processed(formula, text, *key)
    if (found := _INSTEAD.fullmatch(text)) and not any(c.isdigit() for c in text):
        return _swapped(formula, text, found["old"], found["new"], knowledge, swap)
    if found := _RELATIVE.fullmatch(text):
        return _moved(formula, text, found, knowledge, region)
    return _set(formula, text, knowledge, region)


def lines_named(formula: Formula, name: str, knowledge: Knowledge) -> tuple[Line, ...]:
    """Find the lines that a baker means: by full name or alias, else by words that stand in one name alone.

    Raises:
        LineFault: the words stand in the names of several ingredients of the formula.
    """
    wanted = words_of(name)
    match = reader_for(knowledge).names.match(name)
    if match is not None:
        exact = tuple(x for x in formula.lines if x.ingredient.id == match.ingredient.id)
        if exact:
            return exact
    near = {
        x.ingredient.id: x.ingredient.name
        for x in formula.lines
        if set(wanted) <= set(words_of(" ".join((x.ingredient.name, *x.ingredient.also))))
    }
    if len(near) > 1:
        plain = {i: n for i, n in near.items() if set(wanted) <= set(words_of(n))}
        near = plain if len(plain) == 1 else near
    if len(near) > 1:
        names = " or ".join(f"'{n}'" for n in sorted(near.values()))
        raise LineFault(name, f"'{shown(name)}' can be {names}", "write one of them")
    return tuple(x for x in formula.lines if x.ingredient.id in near)


def _lines(formula: Formula, text: str, name: str, knowledge: Knowledge) -> tuple[Line, ...]:
    try:
        found = lines_named(formula, name, knowledge)
    except LineFault as fault:
        raise ChangeFault(text, fault.what, fault.do) from None
    if not found:
        held = ", ".join(dict.fromkeys(x.ingredient.name for x in formula.lines))
        raise ChangeFault(text, f"there is no '{shown(name)}' in the formula", f"it holds {held}")
    return found


def _known(text: str, name: str, knowledge: Knowledge) -> Ingredient:
    names = reader_for(knowledge).names
    try:
        match = names.match(name)
    except LineFault as fault:
        raise ChangeFault(text, fault.what, fault.do) from None
    if match is None and (mended := names.match_mended(name)) is not None:
        match = mended[0]
    if match is None:
        near = ", ".join(f"'{n}'" for n, _ in names.nearest(name))
        do = f"near are {near}" if near else "add it to the ingredients"
        raise ChangeFault(text, f"no ingredient is called '{shown(name)}'", do)
    return match.ingredient


def _read_line(text: str, written: str, knowledge: Knowledge, region: str) -> Line:
    """Read one ingredient line by the rules of formulas, with its conversions."""
    try:
        found = reader_for(knowledge).read(written, name="change", region=region)
    except FormulaFault as fault:
        problem = fault.problems[0]
        raise ChangeFault(text, problem.what, problem.do) from None
    if len(found.lines) != 1:
        raise ChangeFault(text, "one ingredient with an amount was expected")
    return found.lines[0]


def _places(formula: Formula, lines: Sequence[Line]) -> frozenset[int]:
    return frozenset(n for n, x in enumerate(formula.lines) if any(x is y for y in lines))


def _scaled_to(formula: Formula, lines: Sequence[Line], grams: float) -> Changed:
    now = sum(x.grams for x in lines)
    places = _places(formula, lines)
    if now <= 0:
        raise ValueError("lines without weight cannot be scaled")
    uncounted = formula.with_lines(
        tuple(
            replace(x, counted=None) if n in places and not _whole_pieces(x, grams / now) else x
            for n, x in enumerate(formula.lines)
        )
    )
    return scale_lines(uncounted, places, grams / now, None)


def _whole_pieces(line: Line, factor: float) -> bool:
    """Whether eggs that are counted are still whole eggs after the change."""
    return line.counted is not None and abs(line.counted * factor - round(line.counted * factor)) < 0.02


def _omitted(formula: Formula, text: str, name: str, knowledge: Knowledge) -> Changed:
    lines = _lines(formula, text, name, knowledge)
    return scale_lines(formula, _places(formula, lines), 0.0, None)


def _set(formula: Formula, text: str, knowledge: Knowledge, region: str) -> Changed:
    """An amount that is to be there in the end, of what is in the formula or of something new."""
    name = re.sub(r"\s*[0-9¼½¾⅓⅔].*$", "", text).strip(" ,:=")
    inside: tuple[Line, ...] = ()
    if name:
        try:
            inside = lines_named(formula, name, knowledge)
        except LineFault as fault:
            raise ChangeFault(text, fault.what, fault.do) from None
    written = text.replace(name, inside[0].ingredient.name, 1) if inside else text
    line = _read_line(text, written, knowledge, region)
    here = tuple(x for x in formula.lines if x.ingredient.id == line.ingredient.id)
    if here:
        return _scaled_to(formula, here, line.grams)
    return add_grams(formula, line.ingredient, line.grams)


def _moved(formula: Formula, text: str, found: re.Match[str], knowledge: Knowledge, region: str) -> Changed:
    """So much more or less of what is there; more of something new adds it."""
    sign = 1.0 if found["sign"] == "+" else -1.0
    share = _SHARE.fullmatch(found["amount"])
    try:
        here = lines_named(formula, found["name"], knowledge)
    except LineFault as fault:
        raise ChangeFault(text, fault.what, fault.do) from None
    if share:
        here = here or _lines(formula, text, found["name"], knowledge)
        now = sum(x.grams for x in here)
        target = now * (1 + sign * float(share["number"].replace(",", ".")) / 100)
    else:
        name = here[0].ingredient.name if here else found["name"]
        line = _read_line(text, f"{found['amount']} {name}", knowledge, region)
        if not here and sign > 0:
            return add_grams(formula, line.ingredient, line.grams)
        here = here or _lines(formula, text, found["name"], knowledge)
        target = sum(x.grams for x in here) + sign * line.grams
    if target < -1e-9:
        raise ChangeFault(
            text,
            f"only {sum(x.grams for x in here):.4g} g are in the formula",
            "take away less, or write omit",
        )
    return _scaled_to(formula, here, max(target, 0.0))


def _replaced(formula: Formula, text: str, old: str, new: str, knowledge: Knowledge, region: str) -> Changed:
    """One thing for another: the same weight, or the weight that is written behind the new one."""
    lines = _lines(formula, text, old, knowledge)
    source = lines[0].ingredient
    if any(c.isdigit() for c in new):
        line = _read_line(text, new, knowledge, region)
        gone = scale_lines(formula, _places(formula, lines), 0.0, None)
        come = add_grams(gone.formula, line.ingredient, line.grams)
        return Changed(formula=come.formula, changes=(*gone.changes, *come.changes))
    to = _known(text, new, knowledge)
    if to.id == source.id:
        raise ChangeFault(text, "both are the same ingredient", "name another one")
    return move_grams(formula, source.id, to, sum(x.grams for x in lines))


def _swapped(
    formula: Formula, text: str, old: str, new: str, knowledge: Knowledge, swap: SwapSolver | None
) -> Changed:
    lines = _lines(formula, text, old, knowledge)
    source, to = lines[0].ingredient, _known(text, new, knowledge)
    if to.id == source.id:
        raise ChangeFault(text, "both are the same ingredient", "name another one")
    if swap is None:
        return move_grams(formula, source.id, to, sum(x.grams for x in lines))
    return swap(formula, source.id, to)
