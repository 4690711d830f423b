"""Applies the edits that case files write down, and says how sure a count is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from advisor import load_knowledge
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text


def apply_edits(text: str, edits: Iterable[Mapping[str, str]]) -> str:
    """Apply replace/with, remove (a whole line) and add (a line at the end), in their order.

    Raises:
        ValueError: an edit that does not fit the text, so that no case passes on the unchanged formula.
    """
    for edit in edits:
        if "replace" in edit:
            if text.count(edit["replace"]) != 1:
                raise ValueError(
                    f"'{edit['replace']}' stands {text.count(edit['replace'])} times in the text"
                )
            text = text.replace(edit["replace"], edit["with"])
        elif "remove" in edit:
            lines = text.splitlines()
            kept = [line for line in lines if line.strip() != edit["remove"].strip()]
            if len(kept) != len(lines) - 1:
                raise ValueError(f"no single line '{edit['remove']}' to remove")
            text = "\n".join(kept) + "\n"
        else:
            text = text.rstrip() + "\n" + edit["add"] + "\n"
    return text


def ground_text(entry: Mapping[str, str]) -> str:
    """Give the text that a case starts from: its own, or that of the demo formula it names."""
    if "text" in entry:
        return entry["text"]
    return load_knowledge().formulas[entry["formula"]].read_text("utf-8")


def edited(entry: Mapping[str, str], edits: Iterable[Mapping[str, str]], name: str) -> Formula:
    """Read the formula of a case with some edits applied."""
    return read_formula_text(apply_edits(ground_text(entry), edits), load_knowledge(), name=name)


def wilson(hits: int, trials: int, z: float = 1.96) -> tuple[float, float]:
    """Wilson's 95 % score interval of a proportion. Wilson 1927, J. Am. Stat. Assoc. 22, 209."""
    p, n = hits / trials, trials
    middle = (p + z * z / (2 * n)) / (1 + z * z / n)
    half = z / (1 + z * z / n) * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n))
    return middle - half, middle + half


def counted(hits: int, trials: int) -> str:
    """Write a count with its interval."""
    low, high = wilson(hits, trials)
    return f"{hits} of {trials} ({100 * low:.0f} to {100 * high:.0f} %)"
