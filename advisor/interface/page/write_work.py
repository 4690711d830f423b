"""The view in which a formula is written: each line as understood, what is asked back, and the fields beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from advisor import load_knowledge
from advisor.explanation.blocks import Quantity
from advisor.formula.faults import FormulaFault, LineFault, Problem
from advisor.formula.formula import Formula, Missing
from advisor.formula.process.process_lines import PROCESS_KEYS, read_process_value
from advisor.formula.reading import read_formula_text
from advisor.formula.reports import ReadLine, ReadReport
from advisor.formula.writing.as_text import process_values, write_formula_text
from advisor.formula.writing.edited_text import with_process_line, with_words
from advisor.formula.writing.numerals import kitchen_grams
from advisor.interface.page.amount_fields import amount_fields
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.asked_formula import NAME, REGIONS, report_asked
from advisor.knowledge_base.faults import InputFault
from advisor.rendering.baker_units import units_in_use
from advisor.rendering.html import Html, text
from advisor.rendering.quantities import quantity_text

_ABOUT_A_LINE = re.compile(r"line (?P<number>\d+): (?P<said>.+)", re.DOTALL)
_HEAT = re.compile(r"(?<![\w.])(?P<c>[0-9]+(?:\.[0-9]+)?) C\b")
_OFTEN = ("slices", "pan", "mix", "rest", "proof", "oven", "target core", "cooled in pan", "sliced after")
"""Process keys that have a field even where the formula does not say them."""
_HINTS = {
    "slices": "16", "pan": "23 x 10 x 10 cm", "mix": "6 min", "rest": "15 min", "proof": "60 min at 28 C",
    "oven": "175 C for 60 min", "target core": "94 C", "cooled in pan": "10 min", "sliced after": "2 h",
}  # fmt: skip
"""How a value is written; no value is taken from here."""
_TAKEN = {
    "title": "the name of the formula", "heading": "a heading", "comment": "kept, not counted", "process": "process",
    "unweighed": "no weight, so counted as nothing",
}  # fmt: skip


def demo(asked: Asked) -> Json:
    """Give the text of a demo formula by its name.

    Raises:
        InputFault: there is none of that name.
    """
    path = load_knowledge().formulas.get(asked.text("name", most=100))
    if path is None:
        raise InputFault("there is no demo formula of that name")
    # The lines after a # are for whoever keeps the demo formulas.
    lines = [line for line in path.read_text("utf-8").splitlines() if not line.startswith("#")]
    return {"text": "\n".join(lines).strip() + "\n"}


def understood(asked: Asked) -> Json:
    """Tell of every line what it was taken for, and give the fields for amounts and process."""
    if not asked.text("text").strip():
        return {"ok": False, "units": units_in_use(), "lines": "", "said": "Nothing is written yet."}
    try:
        report = report_asked(asked)
    except FormulaFault as fault:
        problems = "".join(f"<li class='problem'>{_problem(p)}</li>" for p in fault.problems)
        return {
            "ok": False,
            "units": units_in_use(),
            "lines": f"<ul>{problems}</ul>",
            "said": _count(len(fault.problems)),
        }
    formula = report.formula
    wrong = len(report.problems)
    return {
        "ok": formula is not None,
        "units": units_in_use(),
        "name": formula.name if formula else "",
        "lines": f"<ol>{''.join(_lines(report))}</ol>",
        "missing": "".join(_missing(formula.asked)) if formula else "",
        "process": "".join(_process_fields(formula)) if formula else "",
        "amounts": amount_fields(formula) if formula else "",
        "said": _count(wrong) if wrong else f"All read: {len(formula.lines) if formula else 0} ingredients.",
    }


def _count(wrong: int) -> str:
    return f"{wrong} line{'s' if wrong > 1 else ''} cannot be read yet."


def _lines(report: ReadReport) -> Iterator[Html]:
    formula = report.formula
    problems: dict[int, list[Problem]] = {}
    for problem in report.problems:
        problems.setdefault(problem.line, []).append(problem)
    notes = _notes(formula)
    for line in report.lines:
        said = "".join(f"<p>{_problem(p)}</p>" for p in problems.get(line.number, ()))
        # What a sentence of the method was taken for stands in its notes.
        if not said and not (line.kind == "comment" and line.number in notes):
            said = f"<p>{_taken(line, formula)}</p>"
        said += "".join(f"<p class='note'>{text(note)}</p>" for note in notes.get(line.number, ()))
        yield f"<li class='{line.kind}' value='{line.number}'><q>{text(line.text, 300)}</q>{said}</li>"
    if rest := notes.get(0):
        yield "".join(f"<li class='note'><p class='note'>{text(note)}</p></li>" for note in rest)


def _taken(line: ReadLine, formula: Formula | None) -> Html:
    if line.kind != "ingredient":
        return text(_TAKEN.get(line.kind, line.kind))
    found = [x for x in (formula.lines if formula else ()) if x.number == line.number]
    if not found:
        return "read"
    return ", ".join(
        f"<strong>{text(x.ingredient.name)}</strong> {text(kitchen_grams(x.grams))}\u00a0g"
        + (
            f" <span class='note'>({text(x.conversion.partition(' [')[0], 200)})</span>"
            if x.conversion
            else ""
        )
        for x in found
    )


def _notes(formula: Formula | None) -> Mapping[int, Sequence[str]]:
    """What was assumed or is doubtful, by the line that it is about; 0 for what is about the whole text."""
    out: dict[int, list[str]] = {}
    for said in (*formula.assumed, *formula.warnings) if formula else ():
        found = _ABOUT_A_LINE.fullmatch(said)
        number, words = (int(found["number"]), found["said"]) if found else (0, said)
        out.setdefault(number, []).append(words)
    return out


def _problem(problem: Problem) -> Html:
    """What is wrong, and what may be meant as choices to tap."""
    taps = "".join(
        f"<button type='button' data-choose='{problem.line}' data-from='{text(problem.fragment, 300)}' "
        f"data-to='{text(offer)}'>{text(offer)}</button>"
        for offer in problem.offers
    )
    choices = f"<span class='choices' role='group' aria-label='What is meant'>{taps}</span>" if taps else ""
    # The text of a fault names what was typed; a page escapes it as everything else.
    return f"<strong class='risk'>{text(problem.what)}</strong>: {text(problem.do)} {choices}"


def _missing(asked: Sequence[Missing]) -> Iterator[Html]:
    for one in asked:
        key = one.write.partition(":")[0]
        tap = (
            f" <button type='button' data-field='{text(key)}'>Fill in: {text(key)}</button>"
            if key in PROCESS_KEYS
            else ""
        )
        what = one.what[:1].upper() + one.what[1:]
        yield f"<li><strong>{text(what)}</strong> is not said. {text(one.why)}{tap}</li>"


def _process_fields(formula: Formula) -> Iterator[Html]:
    try:
        values = process_values(formula.process)
    except ValueError:
        return
    for key in dict.fromkeys((*_OFTEN, *values)):
        ident = f"process-{key.replace(' ', '-')}"
        value, hint = (text(_in_degrees_used(one.get(key, "")), 300) for one in (values, _HINTS))
        yield (
            f"<p><label for='{ident}'>{text(key[:1].upper() + key[1:])}</label><input id='{ident}' type='text' "
            f"data-key='{text(key)}' value='{value}' placeholder='{hint}' "
            "autocomplete='off' maxlength='200'></p>"
        )


def _in_degrees_used(value: str) -> str:
    """A value of the process with its heats as this baker writes them; both scales are read."""
    return _HEAT.sub(
        lambda heat: quantity_text(Quantity(value=float(heat["c"]), unit="C"), units_in_use()), value
    )


def with_line(asked: Asked) -> Json:
    """Give the text with one line of the process written otherwise.

    Raises:
        InputFault: no such key, or a value that it does not take.
    """
    key = asked.choice("key", PROCESS_KEYS)
    value, written = asked.text("value", most=200), asked.text("text")
    region = asked.choice("region", REGIONS)
    changed = with_process_line(written, key, value)
    try:
        if not value.strip():
            return {"text": changed}
        fields, _ = read_process_value(key, value)
    except LineFault as fault:
        raise InputFault(f"{key}: {fault.what}; {fault.do}") from None
    try:
        read_formula_text(changed, load_knowledge(), name=NAME, region=region)
    except FormulaFault:
        # A sentence of the method may say otherwise: then the whole is written out with what the field says.
        try:
            whole = read_formula_text(written, load_knowledge(), name=NAME, region=region)
            return {"text": write_formula_text(whole.with_process(**fields))}
        except (FormulaFault, ValueError):
            return {"text": changed}  # other lines are not clear yet; they say so themselves
    return {"text": changed}


def chosen(asked: Asked) -> Json:
    """Give the text with one of the words that were offered for a part of a line."""
    number = asked.whole("line", 1, 10_000) or 1
    return {
        "text": with_words(
            asked.text("text"), number, asked.text("from", most=400), asked.text("to", most=200)
        )
    }
