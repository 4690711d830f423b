"""`advisor record add`: from what was noted to a bake that is kept, with what had been foreseen of it."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import default_advisor, load_knowledge
from advisor.interface.desk.bake_keeping import as_kept, kept_bake
from advisor.interface.desk.choosing import symptom_chooser, write_notes
from advisor.interface.desk.followed_change import with_followed
from advisor.interface.desk.formula_choice import NO_FORMULA, choose_formula
from advisor.interface.desk.own_places import record_path
from advisor.interface.desk.prompting import can_ask
from advisor.interface.desk.record_learnt import in_this_kitchen
from advisor.interface.record.record_noted import noted_in, noted_on, with_known_names
from advisor.knowledge_base.faults import InputFault
from advisor.trial_record.bake import Bake
from advisor.trial_record.faults import BakeFault
from advisor.trial_record.record import open_record


def add_bake(options: argparse.Namespace) -> Bake:
    """Keep one bake and give it as it is kept.

    Raises:
        InputFault: what was noted cannot be used.
        FormulaFault: the formula cannot be read.
        RecordFault: the record cannot be written.
    """
    knowledge = load_knowledge()
    noted = noted_in(Path(options.from_file)) if options.from_file else noted_on(options)
    if noted.formula is None:
        if not can_ask():
            raise InputFault(NO_FORMULA)
        from advisor.interface.record.record_asking import ask_for_bake

        noted = ask_for_bake(noted, knowledge, options.region)
    noted = with_known_names(noted, knowledge, symptom_chooser(knowledge))
    formula = choose_formula(noted.formula or "", knowledge, options.region)
    try:
        as_kept(noted, formula)  # so that no record is made for what cannot be kept
    except BakeFault as fault:
        raise InputFault(f"advisor: {fault}") from None
    kitchen = argparse.Namespace(record=options.record, no_learning=False)
    # A record that cannot be written says so once, before anything is learnt of it.
    with open_record(record_path(options.record), to_write=True) as record:
        # Numbers are those that an answer here prints, with what this kitchen has taught.
        advisor = in_this_kitchen(default_advisor(), kitchen)
        noted, said = with_followed(record, noted, formula, advisor)
        write_notes([f"{said[:1].upper()}{said[1:]}"] if said else [])
        return kept_bake(record, noted, formula, default_advisor().examiner)
