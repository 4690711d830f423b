"""All that a page can ask for, by its name: what works it out, and in which lane."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping

from advisor.formula.faults import FormulaFault
from advisor.interface.page.asked import Asked, Json, Lane
from advisor.interface.page.asked_formula import take_units, warmed
from advisor.interface.page.bake_work import applied_change, looked_at, planned
from advisor.interface.page.beside_work import compared, two_loaves
from advisor.interface.page.class_work import causes_of, changed, course, sheet
from advisor.interface.page.design_work import bakes_that_teach, bettered, may_vary, started, stopped
from advisor.interface.page.loaf_work import diagnosed, heard, kept, next_asked
from advisor.interface.page.record_work import (
    bakes,
    exported,
    noted,
    one_bake,
    taken_back,
    through_time,
    two_compared,
)
from advisor.interface.page.report_work import essentials, whole_report
from advisor.interface.page.write_work import chosen, demo, understood, with_line
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault, KnowledgeFault
from advisor.trial_record.faults import BakeFault, RecordFault

WORK: Mapping[str, tuple[Lane, Callable[[Asked], Json]]] = {
    "warm": ("short", warmed),
    "demo": ("short", demo),
    "read": ("short", understood),
    "line": ("short", with_line),
    "choose": ("short", chosen),
    "look": ("short", looked_at),
    "plan": ("long", planned),
    "apply": ("long", applied_change),
    "compare": ("long", compared),
    "hear": ("short", heard),
    "question": ("short", next_asked),
    "diagnose": ("long", diagnosed),
    "keep": ("long", kept),
    "bakes": ("short", bakes),
    "bake": ("long", one_bake),
    "note": ("short", noted),
    "take-back": ("short", taken_back),
    "two-bakes": ("short", two_compared),
    "over-time": ("short", through_time),
    "export": ("short", exported),
    "course": ("long", course),
    "change-course": ("long", changed),
    "causes": ("short", causes_of),
    "two-loaves": ("long", two_loaves),
    "sheet": ("long", sheet),
    "start": ("slow", started),
    "better": ("slow", bettered),
    "tolerance": ("slow", may_vary),
    "plan-bakes": ("slow", bakes_that_teach),
    "stop": ("short", stopped),
    "essentials": ("long", essentials),
    "report": ("slow", whole_report),
}
"""Name to lane and function; a lane is chosen by how long the work takes."""


_PROBLEMS_TOLD = 3
_OPTION = re.compile(r"--[a-z][a-z-]+")
_FIELDS = {
    "--from": "what is at hand",
    "--keep": "what stays",
    "--swap": "what may take the place of something",
}
"""What an option of a command is on the page, where its own name does not say it."""


def _field_of(option: re.Match[str]) -> str:
    return _FIELDS.get(option.group(), option.group().strip("-").replace("-", " "))


def work_out(name: str, asked: Mapping[str, Json]) -> tuple[str, Json]:
    """Work one thing out; give `done` with the answer, `input` or `fault` with a line that says what is wrong."""
    try:
        given = Asked(asked)
        take_units(given)
        return "done", WORK[name][1](given)
    except InputFault as fault:
        return "input", _OPTION.sub(_field_of, str(fault).removeprefix("advisor: "))
    except FormulaFault as fault:
        told = [f"line {p.line}: {p.what}; {p.do}" for p in fault.problems[:_PROBLEMS_TOLD]]
        return "input", shown(". ".join(told), 600)
    except RecordFault as fault:
        return "input", f"the record: {fault.what}; {fault.do}"  # where it is on this machine is not told
    except BakeFault as fault:
        return "input", shown(str(fault), 300)
    except KnowledgeFault as fault:
        return "input", shown(str(fault), 600)
    except Exception as error:  # a fault of ours must not end the process that others wait for
        if os.environ.get("ADVISOR_TRACEBACK"):
            raise
        return "fault", shown(f"{type(error).__name__}: {error}", 200)
