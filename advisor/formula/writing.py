"""Writes a formula as text that reads back as the same formula: same grams, same process."""

from __future__ import annotations

import unicodedata
from decimal import Decimal

from advisor.formula.formula import Formula, Line, Process
from advisor.formula.states import WORD_FOR_TRAIT
from advisor.formula.text_lines import LONGEST_LINE


def _plain(value: float) -> str:
    """Give a number with every digit that it needs down to 1e-40, and no exponent."""
    whole, _, rest = format(Decimal(repr(float(value))), "f").partition(".")
    rest = rest[:40].rstrip("0")
    return f"{whole}.{rest}" if rest else whole


def _one_line(text: str) -> str:
    kept = "".join(" " if unicodedata.category(c)[0] in "CZ" else c for c in text)
    return " ".join(kept.split())[: LONGEST_LINE - 20].strip()


def write_formula_text(formula: Formula) -> str:
    """Give the text of a formula, in grams, one line an ingredient, then the process.

    Counted pieces keep their number, with the weight in brackets. Headings are written where they can be: no
    line outside every section can follow one inside.

    Raises:
        ValueError: a process that no text can say, such as a tin with a length and no width.
    """
    out = []
    if title := _one_line(formula.name):
        stood_alone = any(_one_line(raw) == title for raw in formula.source_text.splitlines()[:3])
        out.append(title if stood_alone else f"title: {title}")
    sections = [line.section for line in formula.lines]
    with_headings = "" not in sections[next((i for i, s in enumerate(sections) if s), len(sections)) :]
    section = ""
    for line in formula.lines:
        if with_headings and line.section != section:
            section = line.section
            out.append(f"{section}:")
        out.append(_line(line))
    out += _process(formula.process)
    return "\n".join(out) + "\n"


def _line(line: Line) -> str:
    name = line.ingredient.name
    states = [WORD_FOR_TRAIT[t] for t in line.traits if t in WORD_FOR_TRAIT]
    grams = _plain(line.grams)
    if line.counted is not None:
        return ", ".join([f"{line.counted} {name} ({grams} g)", *states])
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
    if not given:
        return word or "tin"
    if kind == "round":
        if len(given) != 3 or given[0] != given[1]:
            raise ValueError("a round pan needs one diameter (as length and width) and a height")
        given = given[1:]
    elif len(given) != 3 and not (len(given) == 2 and sizes[2] is None and kind != "tin"):
        raise ValueError(f"a pan ({kind}) with {len(given)} of its sizes cannot be written")
    return f"{word} {' x '.join(_plain(s) for s in given)} cm".strip()


def _together(*pieces: tuple[str, float | None, str]) -> str:
    return " ".join(f"{before}{_plain(value)}{after}" for before, value, after in pieces if value is not None)


def _process(p: Process) -> list[str]:
    oven = _together(("", p.oven_c, " C"), ("for ", p.bake_min, " min"))
    if p.oven_fan is not None:
        oven = f"{oven}, {'fan' if p.oven_fan else 'no fan'}".lstrip(", ")
    whites = None if p.whites_whipped is None else ("whipped" if p.whites_whipped else "not whipped")
    said: dict[str, str | None] = {
        "slices": _together(("", p.slices, "")),
        "loaves": _together(("", p.loaves, "")),
        "pan": _pan(p),
        "pan material": p.pan_material,
        "mix": _together(("", p.mix_min, " min")),
        "water temp": _together(("", p.water_c, " C")),
        "added last": p.added_last,
        "whites": whites,
        "rest": _together(("", p.rest_min, " min")),
        "proof": _together(("", p.proof_min, " min"), ("at ", p.proof_c, " C")),
        "oven": oven,
        "opened at": _together(("", p.opened_at_min, " min")),
        "probed at": _together(("", p.probed_at_min, " min")),
        "target core": _together(("", p.target_core_c, " C")),
        "core measured": _together(("", p.core_measured_c, " C")),
        "cooled in pan": _together(("", p.cooled_in_pan_min, " min")),
        "sliced after": _together(("", p.sliced_after_min, " min")),
        "altitude": _together(("", p.altitude_m, " m")),
    }
    return [f"{key}: {value}" for key, value in said.items() if value]
