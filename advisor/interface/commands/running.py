"""What each command does once its arguments are read."""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from importlib import import_module

from advisor import default_advisor, load_knowledge
from advisor.formula.faults import FormulaFault
from advisor.interface.desk.output import write_json
from advisor.interface.desk.project_limits import take_project_limits
from advisor.knowledge_base.faults import InputFault, KnowledgeFault
from advisor.knowledge_base.own_folder import OwnFolderFault
from advisor.knowledge_base.places import OVER

MOST_FINDINGS = 20
_HERE = "advisor.interface.commands"
_RUN: Mapping[str, str] = {
    "check": "check.run_check",
    "diagnose": "diagnose.run_diagnose",
    "why": "why.run_why",
    "try": "try_changes.run_try",
    "differ": "try_changes.run_differ",
    "start": "design.run_design_start",
    "improve": "design.run_improve",
    "tolerance": "design.run_tolerance",
    "ingredients": "ingredients.run_ingredients",
    "plan-bakes": "plan_bakes.run_plan_bakes",
    "write": "write.run_write",
    "record": "record.run_record",
    "lint": "lint.run_lint",
    "glossary": "glossary.run_glossary",
    "symptoms": "symptoms.run_symptoms",
    "teach": "teach.run_teach",
    "open": "open_page.run_open",
    "report": "report.run_report",
    "sources": "sources.run_sources",
}
"""Command to its module here and the function in it, imported when it runs: a module brings all that it needs."""
__all__ = ["InputFault", "run", "run_schema"]


def run_schema(kind: str) -> int:
    """Print the JSON Schema of a kind.

    Raises:
        InputFault: no such kind.
    """
    from advisor.rendering.documents.kinds import KINDS
    from advisor.rendering.documents.schemas import schema_of

    if kind not in KINDS:
        raise InputFault(f"advisor: no kind '{kind}'; there are: {', '.join(KINDS)}")
    write_json(schema_of(kind))
    return 0


def run(options: argparse.Namespace) -> int:
    """Run the command that was asked for; give its exit code.

    Raises:
        InputFault: what was given cannot be used.
    """
    with _own_knowledge(getattr(options, "knowledge", None)):
        return _run(options)


@contextmanager
def _own_knowledge(folder: str | None) -> Iterator[None]:
    """Lay a folder over the knowledge for as long as a command runs.

    It is named in the environment, so that processes which this one starts know of it too.
    """
    if not folder:
        yield
        return
    before = os.environ.get(OVER)
    os.environ[OVER] = folder
    _forget()
    try:
        yield
    finally:
        if before is None:
            del os.environ[OVER]
        else:
            os.environ[OVER] = before
        _forget()


def _forget() -> None:
    load_knowledge.cache_clear()
    default_advisor.cache_clear()


def _run(options: argparse.Namespace) -> int:
    _take_measures(options)
    try:
        if hasattr(options, "limits"):
            take_project_limits(options)
        module, _, name = _RUN[options.command].partition(".")
        run_it: Callable[[argparse.Namespace], int] = getattr(import_module(f"{_HERE}.{module}"), name)
        return run_it(options)
    except FormulaFault as fault:
        raise InputFault(str(fault)) from None
    except OwnFolderFault as fault:
        raise InputFault(_some_of(fault)) from None
    except KnowledgeFault as fault:
        if type(fault) is not KnowledgeFault:
            raise InputFault(
                f"{fault}\nadvisor: your own ingredients are at fault: mend that file, or move it away"
            ) from None
        raise InputFault(
            f"{fault}\nadvisor: rules/ or knowledge/ is at fault; 'advisor lint' lists everything"
        ) from None


def _some_of(fault: KnowledgeFault) -> str:
    """The first findings, a line each, and how many more there are."""
    more = len(fault.findings) - MOST_FINDINGS
    lines = [str(finding) for finding in fault.findings[:MOST_FINDINGS]]
    if more > 0:
        lines.append(f"advisor: and {more} more in your own knowledge; nothing of it was used")
    return "\n".join(lines)


def _take_measures(options: argparse.Namespace) -> None:
    """Write in the units asked for, else in those kept, else in the formula's; its cups are those of --region,
    of --units, or kept.

    `named_region` is what the command line says of it: an interview asks for the rest.
    """
    from advisor.interface.desk.baker_measures import BakersMeasures, kept_measures, region_of
    from advisor.interface.desk.own_places import measures_path
    from advisor.rendering.baker_units import use_units

    if not hasattr(options, "units"):
        return
    own = kept_measures(measures_path())
    kept = own or BakersMeasures()
    use_units(options.units or kept.units, chosen=bool(options.units or own))
    if hasattr(options, "region") and options.region is None:
        options.named_region = region_of(options.units) if options.units else None
        options.region = options.named_region or kept.region
    elif hasattr(options, "region"):
        options.named_region = options.region
