"""`advisor write` with batches, loads, a mixer or heats: the plan of a day's bake."""

from __future__ import annotations

import argparse

from advisor import load_knowledge
from advisor.explanation.scale_up import Bakery, scale_up
from advisor.explanation.scale_up_page import scale_up_blocks
from advisor.formula.formula import Formula
from advisor.interface.desk.advisor_choice import advisor_for
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.faults import InputFault
from advisor.models.dough.dough_temperature import named_mixer

HOTTEST_DOUGH_C = 60.0
_ASKS = ("batches", "oven_loads", "mixer", "room", "flour_temp", "tap_water", "dough_temp")


def asks_for_a_day(options: argparse.Namespace) -> bool:
    """Whether an option asks for the plan of a day."""
    return any(getattr(options, name) is not None for name in _ASKS)


def run_scale_up(formula: Formula, options: argparse.Namespace) -> int:
    """Plan the day and write it.

    Raises:
        InputFault: a mixer that is not known.
        ScalingFault: more batches than loaves.
    """
    knowledge = load_knowledge()
    if options.mixer is not None and named_mixer(options.mixer, knowledge) is None:
        names = ", ".join(mixer.name for mixer in knowledge.mixers.values())
        raise InputFault(f"advisor: --mixer: no mixer '{options.mixer[:40]}'; there are: {names}")
    if options.dough_temp is not None and options.dough_temp > HOTTEST_DOUGH_C:
        raise InputFault(f"advisor: --dough-temp: no dough is mixed above {HOTTEST_DOUGH_C:.0f} C")
    bakery = Bakery(
        loaves=options.loaves or formula.process.loaves or 1,
        batches=options.batches or 1,
        oven_loads=options.oven_loads,
        mixer=options.mixer,
        room_c=options.room,
        flour_c=options.flour_temp,
        tap_c=options.tap_water,
        dough_c=options.dough_temp,
    )
    answer = scale_up(formula, bakery, advisor_for("auto").examiner)
    if options.json:
        from advisor.rendering.documents.scale_up import ScaleUpDocument

        write_document(ScaleUpDocument(plan=answer))
    else:
        write_page(page_text(tuple(scale_up_blocks(answer))))
    return 0
