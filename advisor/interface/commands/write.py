"""`advisor write`: a formula out again in another form, or what it holds, scaled first."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable

from advisor import load_knowledge
from advisor.formula.formula import Formula
from advisor.formula.process.process_lines import read_process_value
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula.writing.as_yaml import write_formula_yaml
from advisor.formula.writing.percentage_table import percentage_table, write_percentage_table
from advisor.formula.writing.scaling import (
    BAKE_ALIKE,
    Pan,
    ScalingFault,
    scale_to_dough,
    scale_to_loaves,
    scale_to_pan,
    scale_to_slices,
)
from advisor.formula.writing.weighing_list import write_weighing_list
from advisor.interface.commands.scale_up import asks_for_a_day, run_scale_up
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_page
from advisor.knowledge_base.faults import InputFault

FORMS: dict[str, Callable[[Formula], str]] = {
    "text": write_formula_text,
    "yaml": write_formula_yaml,
    "percentages": lambda formula: write_percentage_table(percentage_table(formula)),
    "weighing-list": write_weighing_list,
}
WORKED_OUT = ("nutrition", "label")
"""Forms that the models work out; they are there as JSON too."""


def run_write(options: argparse.Namespace) -> int:
    """Read a formula, scale it where asked, and write it in the form asked for.

    Raises:
        InputFault: the formula does not say what it would be scaled from, or the pan cannot be read.
        FormulaFault: the text is no formula.
    """
    day = asks_for_a_day(options)
    if options.json and options.form not in WORKED_OUT and not day:
        raise InputFault(f"advisor: --json goes with --as {' or '.join(WORKED_OUT)}, or with --batches")
    if day and options.form != "text":
        raise InputFault("advisor: a day's bake has a page of its own: leave out --as")
    formula = choose_formula(options.formula, load_knowledge(), options.region)
    try:
        if day:
            # The loaves are baked in a day; everything else makes the loaf another.
            return run_scale_up(_timed(formula, _scaled(formula, options, loaves=False)), options)
        scaled = _timed(formula, _scaled(formula, options))
        if options.form in WORKED_OUT:
            return _worked_out(scaled, options)
        page = FORMS[options.form](scaled)
    except ScalingFault as fault:
        raise InputFault(f"advisor: {fault}") from None
    except ValueError as error:
        # A pan that no line of text can say; the formula stays as it was.
        raise InputFault(f"advisor: {error}") from None
    write_page(page if page.endswith("\n") else page + "\n")
    return 0


def _worked_out(formula: Formula, options: argparse.Namespace) -> int:
    """Write what the loaf holds, or a label, as a page or as JSON."""
    from advisor.explanation.label import label_answer, nutrition_answer
    from advisor.explanation.label_page import label_blocks, nutrition_blocks
    from advisor.interface.desk.output import write_document
    from advisor.interface.desk.showing import page_text
    from advisor.rendering.documents.label import LabelDocument, NutritionDocument

    knowledge = load_knowledge()
    if options.form == "nutrition":
        held = nutrition_answer(formula, knowledge)
        if options.json:
            write_document(NutritionDocument(nutrition=held))
        else:
            write_page(page_text(tuple(nutrition_blocks(held))))
        return 0
    label = label_answer(formula, knowledge)
    if options.json:
        write_document(LabelDocument(label=label))
    else:
        write_page(page_text(tuple(label_blocks(label))))
    return 0


def _timed(before: Formula, after: Formula) -> Formula:
    """Time the bake anew where a loaf has another size than before, and say so; an old time is never kept."""
    was = before.process.bake_min
    share = after.dough_g / (after.process.loaves or 1) / (before.dough_g / (before.process.loaves or 1))
    pieces = (before.process.slices, after.process.slices)
    if before.process.pan_kind in ("rolls", "flat") and pieces[0] and pieces[1]:
        share *= pieces[0] / pieces[1]
    same_pan = before.process.pan_volume_ml == after.process.pan_volume_ml
    if was is None or (same_pan and abs(share - 1) <= BAKE_ALIKE):
        return after
    from advisor.models.retiming import retimed

    found = retimed(before, after, load_knowledge())
    minutes = found.now_min if found else was * share ** (2 / 3)
    how = "by the heat model" if found else "by a rule of thumb, since no model follows this bake: probe it"
    if round(minutes) == round(was):
        return after
    sys.stderr.write(f"advisor: {minutes:.0f} min in the oven in place of {was:.0f}, {how}\n")
    return after.with_process(bake_min=float(round(minutes)))


def _scaled(formula: Formula, options: argparse.Namespace, *, loaves: bool = True) -> Formula:
    if options.pan is not None:
        formula = scale_to_pan(formula, _pan(options.pan))
    if loaves and options.loaves is not None:
        formula = scale_to_loaves(formula, options.loaves)
    if options.slices is not None:
        formula = scale_to_slices(formula, options.slices)
    if options.dough is not None:
        formula = scale_to_dough(formula, options.dough)
    return formula


def _pan(text: str) -> Pan:
    """Read a pan as it stands on a process line."""
    from advisor.formula.faults import LineFault

    try:
        fields, _ = read_process_value("pan", text)
    except LineFault as fault:
        raise InputFault(f"advisor: --pan: {fault.what}; {fault.do}") from None
    length, width, height = (fields.get(f"pan_{side}_cm") for side in ("length", "width", "height"))
    if not (
        isinstance(length, float | int) and isinstance(width, float | int) and isinstance(height, float | int)
    ):
        raise InputFault(
            "advisor: --pan: no size in it; write it such as '21 x 10 x 10 cm' or 'round 20 x 8 cm'"
        )
    return Pan(length_cm=length, width_cm=width, height_cm=height, is_round=fields.get("pan_kind") == "round")
