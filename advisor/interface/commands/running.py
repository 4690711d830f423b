"""What each command does once its arguments are read."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator
from contextlib import contextmanager

from advisor import default_advisor, load_knowledge
from advisor.formula.faults import FormulaFault
from advisor.interface.desk.output import write_json
from advisor.interface.desk.project_limits import take_project_limits
from advisor.knowledge_base.faults import InputFault, KnowledgeFault
from advisor.knowledge_base.own_folder import OwnFolderFault
from advisor.knowledge_base.places import OVER

MOST_FINDINGS = 20
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
        if options.command == "check":
            from advisor.interface.commands.check import run_check

            return run_check(options)
        if options.command == "diagnose":
            from advisor.interface.commands.diagnose import run_diagnose

            return run_diagnose(options)
        if options.command == "why":
            from advisor.interface.commands.why import run_why

            return run_why(options)
        if options.command == "try":
            from advisor.interface.commands.try_changes import run_try

            return run_try(options)
        if options.command == "differ":
            from advisor.interface.commands.try_changes import run_differ

            return run_differ(options)
        if options.command == "start":
            from advisor.interface.commands.design import run_design_start

            return run_design_start(options)
        if options.command == "improve":
            from advisor.interface.commands.design import run_improve

            return run_improve(options)
        if options.command == "tolerance":
            from advisor.interface.commands.design import run_tolerance

            return run_tolerance(options)
        if options.command == "ingredients":
            from advisor.interface.commands.ingredients import run_ingredients

            return run_ingredients(options)
        if options.command == "plan-bakes":
            from advisor.interface.commands.plan_bakes import run_plan_bakes

            return run_plan_bakes(options)
        if options.command == "write":
            from advisor.interface.commands.write import run_write

            return run_write(options)
        if options.command == "record":
            from advisor.interface.commands.record import run_record

            return run_record(options)
        if options.command == "lint":
            from advisor.interface.commands.lint import run_lint

            return run_lint(options.json, options.graph, sweeps=options.sweeps)
        if options.command == "glossary":
            from advisor.interface.commands.glossary import run_glossary

            return run_glossary(options.word, options.json)
        if options.command == "symptoms":
            from advisor.interface.commands.symptoms import run_symptoms

            return run_symptoms(options)
        if options.command == "teach":
            from advisor.interface.commands.teach import run_teach

            return run_teach(options)
        if options.command == "open":
            from advisor.interface.commands.open_page import run_open

            return run_open(options)
        if options.command == "report":
            from advisor.interface.commands.report import run_report

            return run_report(options)
        from advisor.interface.commands.sources import run_sources

        return run_sources(options.word, options.json)
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
