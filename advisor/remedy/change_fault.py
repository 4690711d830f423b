"""What is wrong with a written change."""

from __future__ import annotations

from advisor.formula.faults import shown

FORMS = (
    "'water -30 g', 'psyllium 12 g', 'salt +10 %', 'oven 165 C', 'omit butter', 'whole egg -> egg white', "
    "'egg white instead of whole egg'"
)


class ChangeFault(ValueError):
    """Raised when a written change cannot be read or does not fit the formula; the message is complete."""

    def __init__(self, text: str, what: str, do: str = f"write one of {FORMS}") -> None:
        super().__init__(f"change '{shown(text)}': {what}; {do}")
