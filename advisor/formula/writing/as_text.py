"""Writes a formula as text that reads back as the formula: amounts as a kitchen weighs them, or to the last digit."""

from __future__ import annotations

import unicodedata

from advisor.formula.formula import Formula, Line, Process, Unweighed
from advisor.formula.lines.ages import DAYS_A_MONTH
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.formula.text_lines import LONGEST_LINE, without_dash
from advisor.formula.writing.numerals import plain_number
from advisor.formula.writing.steps_as_text import written_ovens, written_rises, written_times
from advisor.formula.writing.weighed import as_read_off, as_weighed

_MARKS = frozenset("|;:#()[]")


def one_line(text: str) -> str:
    """Give a name as it can stand on one line of a formula: no control characters, no table's frame, not too long."""
    kept = "".join(" " if unicodedata.category(c)[0] in "CZ" else c for c in text)
    return " ".join(kept.split())[: LONGEST_LINE - 20].strip(" |")


def write_formula_text(formula: Formula, *, exact: bool = False) -> str:
    """Give the text of a formula, in grams, one line an ingredient, then the process.

    Amounts are written as a kitchen weighs them; `exact` gives every digit, for what is read again and not baked by.
    Counted pieces keep their number, with the weight in brackets. Headings are written where they can be: no
    line outside every section can follow one inside.

    Raises:
        ValueError: a process that no text can say, such as a tin with a length and no width.
    """
    formula = formula if exact else as_weighed(formula)
    out = []
    if title := without_dash(one_line(formula.name)):
        stood_alone = any(one_line(raw) == title for raw in formula.source_text.splitlines()[:3])
        out.append(title if stood_alone and not set(title) & _MARKS else f"title: {title}")
    out += (f"{entry}:" if isinstance(entry, str) else written_line(entry) for entry in in_sections(formula))
    out += (f"{key}: {value}" for key, value in process_values(formula.process, exact=exact).items())
    return "\n".join(out) + "\n"


def in_sections(formula: Formula) -> tuple[Line | Unweighed | str, ...]:
    """Give the ingredients in the order of the text, with a heading (a text) before each section.

    Without headings where a line outside every section follows one inside: that cannot be written.
    """
    entries: list[Line | Unweighed] = [*formula.lines, *formula.unweighed]
    if formula.unweighed and any(line.number for line in formula.lines):
        entries.sort(key=lambda entry: entry.number)
    sections = [entry.section for entry in entries]
    first = next((i for i, section in enumerate(sections) if section), len(sections))
    if "" in sections[first:]:
        return tuple(entries)
    out: list[Line | Unweighed | str] = []
    section = ""
    for entry in entries:
        if entry.section != section:
            section = entry.section
            out.append(section)
        out.append(entry)
    return tuple(out)


def pieces(count: int, noun: str) -> str:
    """A count with its noun: one egg white, five egg whites."""
    plural = noun if noun.endswith("s") else noun + "s"
    return f"{count} {noun if count == 1 else plural}"


def written_line(line: Line | Unweighed) -> str:
    """Give one ingredient as a line that reads back as the same; what has no weight stays so."""
    name = line.ingredient.name
    if isinstance(line, Unweighed):
        return f"{name}, to taste"
    states = [WORD_FOR_TRAIT[t] for t in line.traits if t in WORD_FOR_TRAIT]
    if line.age_months > 0:
        days = line.age_months * DAYS_A_MONTH
        states.append(
            f"opened {line.age_months:.0f} months ago" if days >= 61 else f"opened {days:.0f} days ago"
        )
    grams = plain_number(line.grams)
    if line.celsius is not None:
        states.append(f"at {plain_number(line.celsius)} C")
    if line.counted is not None:
        return ", ".join([f"{pieces(line.counted, name)} ({grams} g)", *states])
    return ", ".join([f"{grams} g {name}", *states])


def _pan(process: Process) -> str | None:
    kind = process.pan_kind
    sizes = (process.pan_length_cm, process.pan_width_cm, process.pan_height_cm)
    given = [s for s in sizes if s is not None]
    if kind is None:
        if given:
            raise ValueError("a pan with a size and no kind cannot be written")
        return None
    word = {"tin": "", "free_standing": "free-standing"}.get(kind, kind)
    if not given and process.pan_cups is not None:
        return f"muffin tin {process.pan_cups}"
    if not given:
        return word or "tin"
    if process.pan_cups is not None:
        if kind != "round" or len(given) < 2 or given[0] != given[1]:
            raise ValueError("a muffin tin needs one width of its cups, as length and width of a round pan")
        return f"muffin tin {process.pan_cups} x {' x '.join(plain_number(s) for s in given[1:])} cm"
    if kind == "flat" and sizes[:2] == (None, None):
        return f"flat {plain_number(given[0])} cm"
    if kind == "round":
        if len(given) < 2 or sizes[0] != sizes[1] or sizes[0] is None:
            raise ValueError("a round pan needs one diameter (as length and width) and a height")
        given = given[1:]
    elif len(given) != 3 and not (len(given) == 2 and sizes[2] is None):
        raise ValueError(f"a pan ({kind}) with {len(given)} of its sizes cannot be written")
    return f"{word} {' x '.join(plain_number(s) for s in given)} cm".strip()


def _together(*pieces: tuple[str, float | None, str]) -> str:
    return " ".join(
        f"{before}{plain_number(value)}{after}" for before, value, after in pieces if value is not None
    )


def _runs(offset_c: float | None) -> str | None:
    if offset_c is None:
        return None
    return f"{plain_number(abs(offset_c))} C {'cool' if offset_c < 0 else 'hot'}" if offset_c else "true"


def process_values(p: Process, *, exact: bool = False) -> dict[str, str]:
    """Give the process as keys and values of process lines, in the order in which they are done, in round figures.

    Raises:
        ValueError: a process that no text can say.
    """
    p = p if exact else as_read_off(p)
    oven = written_ovens(p.bakes)
    if p.oven_fan is not None:
        oven = f"{oven}, {'fan' if p.oven_fan else 'no fan'}".lstrip(", ")
    if p.cold_start is not None:
        oven = f"{oven}, {'from cold' if p.cold_start else 'preheated'}".lstrip(", ")
    whites = None if p.whites_whipped is None else ("whipped" if p.whites_whipped else "not whipped")
    stored = _together(("", p.stored_min, " min"), ("at ", p.stored_c, " C"))
    said: dict[str, str | None] = {
        "kind": p.kind,
        "slices": _together(("", p.slices, "")),
        "loaves": _together(("", p.loaves, "")),
        "pan": _pan(p),
        "pan material": p.pan_material,
        "pieces": _together(("", p.pieces, "")),
        "piece weight": _together(("", p.piece_g, " g")),
        "thickness": _together(("", p.thickness_cm, " cm")),
        "baked on": p.baked_on,
        "room temp": _together(("", p.room_c, " C")),
        "mixer": p.mixer,
        "mix": written_times(p.mixes) or _together(("", p.mix_min, " min")),
        "water temp": _together(("", p.water_c, " C")),
        "target dough temp": _together(("", p.dough_wanted_c, " C")),
        "dough temp": _together(("", p.dough_measured_c, " C")),
        "starter": p.starter,
        "added last": p.added_last,
        "whites": whites,
        "rest": written_times(p.rests) or _together(("", p.rest_min, " min")),
        "proof": written_rises(p.rises),
        "boil": _together(("", p.boil_min, " min")),
        "steam": _together(("", p.steam_min, " min")),
        "griddle": _together(("", p.griddle_side_min, " min a side"), ("at ", p.griddle_c, " C")),
        "microwave": _together(("", p.microwave_min, " min")),
        "preheat": _together(("", p.preheat_c, " C")),
        "oven": oven,
        "oven runs": _runs(p.oven_offset_c),
        "opened at": None
        if p.opened_at_min is None
        else _together(("", p.opened_at_min, " min"), ("for ", p.opened_for_s, " s")),
        "tented at": _together(("", p.tented_at_min, " min")),
        "probed at": _together(("", p.probed_at_min, " min")),
        "target core": _together(("", p.target_core_c, " C")),
        "core measured": _together(("", p.core_measured_c, " C")),
        "cooled in": p.cooled_in,
        "cooled in pan": _together(("", p.cooled_in_pan_min, " min")),
        "sliced after": _together(("", p.sliced_after_min, " min")),
        "weight after": _together(("", p.weight_after_g, " g")),
        "height after": _together(("", p.height_after_cm, " cm")),
        "stored": f"{stored} {p.stored or ''}".strip(),
        "altitude": _together(("", p.altitude_m, " m")),
    }
    return {key: value for key, value in said.items() if value}
