"""From the options of a command to the advisor that answers and the limits that it keeps."""

from __future__ import annotations

import argparse
from importlib.util import find_spec

from advisor import default_advisor
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.remedy.avoided import avoided_in, ingredients_in
from advisor.remedy.constraints import LIMITS, Constraints


def constraints_from(options: argparse.Namespace, knowledge: Knowledge) -> Constraints:
    """Read the limits of a command line.

    Raises:
        InputFault: an ingredient or allergen that is not known.
    """
    numbers = {limit.name: getattr(options, limit.name, None) for limit in LIMITS}
    on_hand = None if options.on_hand is None else ingredients_in(options.on_hand, knowledge)
    return Constraints(**numbers, avoid=avoided_in(options.avoid, knowledge), on_hand=on_hand)


def advisor_for(engine: str) -> Advisor:
    """Compile the knowledge for an engine.

    Raises:
        InputFault: that engine does not run on this Python.
    """
    # An engine is imported where it first runs, which is too late to say it in a line.
    if engine != "auto" and find_spec(engine) is None:
        raise InputFault(f"advisor: the engine '{engine}' does not run on this Python; leave out --engine")
    return default_advisor(engine)
