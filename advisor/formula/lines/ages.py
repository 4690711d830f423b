"""How old a thing is, in months: "two years", "8 weeks"."""

from __future__ import annotations

from advisor.formula.lines.amounts import number_at

DAYS_A_MONTH = 30.4
_MONTHS = {
    **dict.fromkeys(("year", "yr", "winter", "summer"), 12.0),
    **dict.fromkeys(("month", "mo"), 1.0),
    "week": 7 / DAYS_A_MONTH,
    "day": 1 / DAYS_A_MONTH,
}


def months_of(many: str, unit: str) -> float:
    """Months that a number and its unit come to; a word that is no number ("a", "the") counts as one."""
    number = number_at(f"{many} ")
    return (number.value if number is not None else 1.0) * _MONTHS[unit.lower()]
