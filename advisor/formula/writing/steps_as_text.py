"""Writes the steps of a process, each behind "then", so that they read back as the same steps."""

from __future__ import annotations

from advisor.formula.process.step_lines import PLACES
from advisor.formula.process.steps import OvenStep, Rise
from advisor.formula.writing.numerals import plain_number


def written_ovens(steps: tuple[OvenStep, ...]) -> str:
    """Write steps so that `read_ovens` gives them again."""
    said = []
    for step in steps:
        words = []
        if step.celsius is not None:
            words.append(f"{plain_number(step.celsius)} C")
        if step.minutes is not None:
            words.append(f"for {plain_number(step.minutes)} min")
        if step.lid is not None:
            words.append("with lid" if step.lid else "without lid")
        if step.steam is not None:
            words.append("with steam" if step.steam else "without steam")
        said.append(" ".join(words))
    return ", then ".join(said)


def written_rises(rises: tuple[Rise, ...]) -> str:
    """Write rises so that `read_rises` gives them again."""
    said = []
    for rise in rises:
        words = []
        if rise.minutes is not None:
            words.append(f"{plain_number(rise.minutes)} min")
        if rise.celsius is not None:
            words.append(f"at {plain_number(rise.celsius)} C")
        if rise.place:
            words.append(next(spelt[0] for name, spelt in PLACES if name == rise.place))
        if rise.until:
            words.append(rise.until if rise.until == "overnight" else f"until {rise.until}")
        said.append(" ".join(words))
    return ", then ".join(said)


def written_times(times: tuple[float, ...]) -> str:
    """Write times of one kind of work, one after the other."""
    return ", then ".join(f"{plain_number(t)} min" for t in times)
