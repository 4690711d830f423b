"""A bake kept in the record from the answer on it: one key, once."""

from __future__ import annotations

from advisor import default_advisor
from advisor.formula.formula import Formula
from advisor.interface.desk.bake_keeping import Noted, kept_bake
from advisor.interface.desk.bakers_answers import Told
from advisor.interface.desk.followed_change import with_followed
from advisor.interface.desk.own_places import record_path
from advisor.interface.desk.prompting import Left, Prompter
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.assessing import Advisor
from advisor.trial_record.faults import RecordFault
from advisor.trial_record.record import open_record


class KeptOnce:
    """Keeps a bake when it is called, and says so in a sentence; called again it says only that."""

    def __init__(self, formula: Formula, told: Told, advisor: Advisor, record: str | None) -> None:
        self._formula, self._told, self._advisor, self._record = formula, told, advisor, record
        self._kept = 0

    def __call__(self) -> str:
        """Keep it.

        Raises:
            InputFault: the record cannot be written.
        """
        if self._kept:
            return f"It is kept already, as bake {self._kept}."
        own = "; ".join(self._told.remarks)
        noted = Noted(
            saw=self._told.saw, not_seen=self._told.not_seen, notes=f"Said: {own}." if own else None
        )
        try:
            with open_record(record_path(self._record), to_write=True) as record:
                noted, said = with_followed(record, noted, self._formula, self._advisor)
                bake = kept_bake(record, noted, self._formula, default_advisor().examiner)
        except RecordFault as fault:
            raise InputFault(f"advisor: {fault}") from None
        self._kept = bake.number or 0
        found = f" {said[:1].upper()}{said[1:]}" if said else ""
        kept = f"Kept as bake {bake.number}: {shown(bake.formula, 60)}."
        return f"{kept}{found} 'advisor record show {bake.number}' shows it."


def offer_to_keep(keep: KeptOnce) -> None:
    """Ask at the terminal, after an answer, whether the bake is to be kept: one key, or Enter.

    Raises:
        InputFault: the record cannot be written.
    """
    prompter = Prompter()
    try:
        if prompter.line("k keeps this bake in your record; Enter leaves > ").lower() in ("k", "keep"):
            prompter.say(keep())
    except Left:
        return
