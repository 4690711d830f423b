"""Reads what a line or a paragraph holds of several ingredients: a list behind "Mine:", dictated text, two columns."""

from __future__ import annotations

import re
from collections.abc import Callable

from advisor.formula.draft import Draft
from advisor.formula.faults import shown
from advisor.formula.lines.ingredient_reading import IngredientReader
from advisor.formula.lines.phrasing import MORE_ON_TOP
from advisor.formula.lines.running import amounts_at, around, is_loose, one_amount_of, tells_to_do, ways_apart
from advisor.formula.lines.sentences import goes_on
from advisor.formula.lines.units import UnitTable
from advisor.formula.text_lines import TextLine

_SENTENCE = re.compile(
    r"(?<=[^\W\d]{3}[.!?])\s+(?=[^\W\d_])|(?<=[0-9)][.!?])\s+(?=[A-Z])|(?<=\b[gl]\.)\s+(?=[A-Z])"
)
_HEAD = re.compile(
    r"(?P<head>[^\W\d][^:;,.()0-9]{0,40}?(?:,[^:;,.()0-9]{0,24}?(?=\s*:))?)\s*(?::|\s[-–—])\s+(?=\S)"
)
_AMOUNT = re.compile(r"[0-9][0-9.,/]*\s*(?:g|gr|gm|grams?|ml|kg|oz)\b\.?\s*(?:of\s+)?", re.IGNORECASE)
_MORE_OF_IT = re.compile(
    rf"(?P<amount>{_AMOUNT.pattern})(?:more\s+)?(?:on|for|in|into|to|over)\b", re.IGNORECASE
)
_DASH = re.compile(r"\s[-–—]\s")
_ABBREVIATED = re.compile(
    r"\b(?:approx|tbsp|tsp|med|pkg|min|conc|pwd|isol|tbs|pkt|grd|temp|abt)\.$", re.IGNORECASE
)
_ANOTHER_BAKE = re.compile(
    r"\b(?:day\s+one|last\s+(?:time|week|year|month)|used\s+to|i\s+(?:first\s+)?tried|first\s+(?:try|time|attempt)|attempt\s+[0-9]|"
    r"next\s+time|planned|binned|previous(?:ly)?|not\s+baked|before\s*,?\s+i|instead\s+of|the\s+old\s+(?:one|version)|"
    r"(?:boiling|cooking|water)\s+(?:pot|bath)|for\s+the\s+pot)\b",
    re.IGNORECASE,
)
_MORE_RUNS = re.compile(r"\b(?:run|trial|attempt|version)\s+[2-9]\b", re.IGNORECASE)
_LONGEST_LISTED = 1500
"""Letters up to which a paragraph is tried as a formula in sentences."""
_LEAST_LISTED = 3
"""Known ingredients with amounts from which a sentence is a list of them."""
_LEAST_KNOWN = 2
"""Known pieces from which one that is not known is named, since they show that the line is a list."""


class SeveralReader:
    """Reads lines that hold more than one ingredient, or one ingredient weighed twice."""

    def __init__(self, ingredients: IngredientReader, units: UnitTable) -> None:
        self._ingredients = ingredients
        self._units = units

    def begins(self, draft: Draft, text: str, is_method: Callable[[str], bool]) -> bool:
        """Tell whether a whole formula in one paragraph lists its ingredients before it says what to do."""
        if draft.title or draft.tried or len(text) > _LONGEST_LISTED:
            return False
        first = sentences_apart(text)[:2]
        return any(self._ingredients.known_in(s) >= _LEAST_LISTED and not is_method(s) for s in first)

    def read(self, draft: Draft, line: TextLine, text: str, keep: Callable[[str], None]) -> bool:
        """Add the ingredients of a line that holds several; what else it says goes to `keep`, sentence by sentence.

        Raises:
            LineFault: one piece of a list is nothing that is known.
        """
        if draft.method or not any(c.isdigit() for c in text) or " each" in text.lower():
            return False
        if _ANOTHER_BAKE.search(text) and len(text.split()) > 7:
            return False
        if len(amounts_at(text, self._units)) == 2 and MORE_ON_TOP.search(text):
            return False  # "25 g oil plus 30 g for the pan" is one ingredient
        if self._twice(draft, line, text):
            return True
        sentences = sentences_apart(text)
        lists = [self._list(draft, s) for s in sentences]
        if not any(lists):
            return False
        draft.tried += 1
        for sentence, pieces in zip(sentences, lists, strict=True):
            if pieces:
                for piece in pieces:
                    self._ingredients.add_piece(draft, line, piece)
            else:
                keep(sentence)
        return True

    def _twice(self, draft: Draft, line: TextLine, text: str) -> bool:
        best = one_amount_of(text, self._units) or _between_dashes(text)
        turned = () if best else around(text, self._units)
        if not (best or turned) or self._ingredients.reads(draft, text):
            return False
        ways = [best] if best else [(way, "") for way in turned]
        best = next((way for way in ways if self._ingredients.reads(draft, way[0])), None)
        if best is None:
            return False
        draft.tried += 1
        self._ingredients.add_piece(draft, line, best[0])
        if best[1]:
            draft.assume(line, f"'{shown(best[1])}' is not used beside the weight")
        return True

    def _list(self, draft: Draft, sentence: str) -> tuple[str, ...]:
        """Give the pieces of a sentence that lists ingredients; empty where it lists none."""
        if len(amounts_at(sentence, self._units)) < 2 or _MORE_RUNS.match(sentence):
            return ()
        if draft.lines and tells_to_do(sentence):
            return ()
        head = _HEAD.match(sentence)
        bodies = [sentence[head.end() :], sentence] if head else [sentence]
        nearly: tuple[str, ...] = ()
        for body in bodies:
            body = body.rstrip(" .!")
            for way in ways_apart(body, self._units):
                way = _of_the_same(way)
                known = [is_loose(piece) or self._ingredients.reads(draft, piece) for piece in way]
                if all(known):
                    return way
                if sum(known) >= max(_LEAST_KNOWN, 0.6 * len(way)) and not nearly:
                    nearly = way
        return nearly


def _of_the_same(way: tuple[str, ...]) -> tuple[str, ...]:
    """Give "15 g on the top" the name of the piece before it."""
    found: list[str] = []
    for piece in way:
        more = _MORE_OF_IT.match(piece)
        name = _AMOUNT.sub("", found[-1]).strip(" ,") if more and found else ""
        found.append(f"{more['amount']} {name}" if more and name else piece)
    return tuple(found)


def _between_dashes(text: str) -> tuple[str, str] | None:
    """Give "20 g psyllium, powdered" for "psyllium - 20 g - powdered"."""
    parts = [part.strip() for part in _DASH.split(text)]
    if len(parts) != 3 or not parts[1][:1].isdigit() or any(c.isdigit() for c in parts[0] + parts[2]):
        return None
    return f"{parts[1]} {parts[0]}, {parts[2]}", ""


def sentences_apart(text: str) -> tuple[str, ...]:
    """Part a paragraph behind its full stops; a decimal point, "tbsp." and a semicolon end nothing."""
    found: list[str] = []
    for piece in _SENTENCE.split(text):
        if found and goes_on(found[-1], piece, _ABBREVIATED):
            found[-1] = f"{found[-1]} {piece}"
        elif piece.strip():
            found.append(piece.strip())
    return tuple(found)
