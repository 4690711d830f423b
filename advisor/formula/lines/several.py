"""Reads what a line or a paragraph holds of several ingredients: a list behind "Mine:", dictated text, two columns."""

from __future__ import annotations

import re
from collections.abc import Callable

from advisor.formula.draft import Draft
from advisor.formula.faults import UnknownName, shown
from advisor.formula.left_out import note_unknown
from advisor.formula.lines.beside_dough import head_beside_the_dough
from advisor.formula.lines.ingredient_reading import IngredientReader
from advisor.formula.lines.listed_rows import brackets_as_amounts, rows_of, shares_of
from advisor.formula.lines.phrasing import MORE_ON_TOP
from advisor.formula.lines.remarks import is_unknown_ingredient
from advisor.formula.lines.running import amounts_at, around, is_loose, one_amount_of, tells_to_do, ways_apart
from advisor.formula.lines.sentences import ends_nothing
from advisor.formula.lines.units import UnitTable
from advisor.formula.text_lines import TextLine

_SENTENCE = re.compile(
    r"(?<=[^\W\d]{3}[.!?])\s+(?=[^\W\d_])|(?<=[0-9)][.!?])\s+(?=[A-Z])|(?<=[0-9\s][gl]\.)\s+(?=[^\W_])"
)
_HEAD = re.compile(
    r"(?P<head>[^\W\d][^:;,.()0-9]{0,40}?(?:,[^:;,.()0-9]{0,24}?(?=\s*:))?"
    r"(?:\s*,?\s*(?:\((?:[0-9]{1,2}[^():]{0,12}|[^():0-9]{2,30})\)|(?:x\s*)?[0-9]{1,2}\s*[x×]\s*[0-9]{1,2}|(?:x\s*)?[0-9]{1,2}|[0-9]\s?lb\s+tin)(?=\s*(?::|\s[-–—])))?)"
    r"\s*(?::|\s[-–—])\s+(?=\S)",
    re.IGNORECASE,
)
_AMOUNT = re.compile(r"[0-9][0-9.,/]*\s*(?:g|gr|gm|grams?|ml|kg|oz)\b\.?\s*(?:of\s+)?", re.IGNORECASE)
_MORE_OF_IT = re.compile(
    rf"(?P<amount>{_AMOUNT.pattern})(?:more\s+)?(?:on|for|in|into|to|over)\b", re.IGNORECASE
)
_DASH = re.compile(r"\s[-–—]\s")
_ABBREVIATED = re.compile(
    r"\b(?:approx|tbsp|tsp|med|pkg|min|conc|pwdr?|powd?|isol|tbs|pkt|grd|grnd|temp|abt|inst|unsw|unsalt|choc|veg|evap|"
    r"cond|org|bak|whl|extr|psyll|xanth|act|prot|glut|alm|coc|frsh|lrg|opt|def|blanch|desicc|unflav|gran|dec|fl|liq)\.$"
    r"|(?:^|[,;:]\s*)[0-9][0-9.,/ ]*\s*(?:g|l|c|t|oz|lbs?)\.$",
    re.IGNORECASE,
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
        if "%" in text and any(map(shares_of, sentences_apart(text)[:2])):
            return True
        first = sentences_apart(text)[:2]
        return any(
            (self._ingredients.known_in(s) >= _LEAST_LISTED or len(self._list(draft, s)) >= _LEAST_LISTED)
            and not is_method(s)
            for s in first
        )

    def read(self, draft: Draft, line: TextLine, text: str, keep: Callable[[str], None]) -> bool:
        """Add the ingredients of a line that holds several; what else it says goes to `keep`, sentence by sentence.

        Raises:
            LineFault: one piece of a list cannot be read in one way.
        """
        if draft.method or not any(c.isdigit() for c in text) or " each" in text.lower():
            return False
        if _ANOTHER_BAKE.search(text) and len(text.split()) > 7:
            return False
        if len(amounts_at(text, self._units)) == 2 and MORE_ON_TOP.search(text):
            return False  # "25 g oil plus 30 g for the pan" is one ingredient
        if self._twice(draft, line, text):
            return True
        sentences = self._sentences(draft, text)
        heads = [head_beside_the_dough(s) for s in sentences]
        lists = [self._list(draft, s[len(head) :]) for s, head in zip(sentences, heads, strict=True)]
        if not any(lists):
            return False
        draft.tried += 1
        for sentence, beside, pieces in zip(sentences, heads, lists, strict=True):
            if pieces and beside:
                with draft.under(beside.strip(" :–—-")):
                    for piece in pieces:
                        self._add(draft, line, piece)
            elif pieces:
                head = _HEAD.match(sentence)
                if (
                    head
                    and pieces[0] not in sentence[: head.end()]
                    and any(c.isdigit() for c in head["head"])
                ):
                    keep(head["head"])
                for piece in pieces:
                    self._add(draft, line, piece)
            elif single := self._single(draft, sentence):
                self._ingredients.add_piece(draft, line, single)
            else:
                keep(sentence)
        return True

    def _add(self, draft: Draft, line: TextLine, piece: str) -> None:
        """Add one piece of a list; one that is not known is asked back, or left out where it is small."""
        try:
            self._ingredients.add_piece(draft, line, piece)
        except UnknownName as fault:
            if not is_unknown_ingredient(piece, self._units):
                draft.warn(line, f"'{shown(piece)}' is counted as nothing")
                return
            near = " or ".join(fault.offers)
            note_unknown(draft, line.number, piece, near, self._units)
            draft.note_fault(line, fault)

    def _weighed_once(self, piece: str) -> str:
        """Give "sugar 3 % 15 g" its weight alone."""
        once = "%" in piece and len(amounts_at(piece, self._units)) == 1
        best = one_amount_of(piece, self._units) if once else None
        return best[0] if best else piece

    def _single(self, draft: Draft, sentence: str) -> str:
        """Give the one ingredient that a sentence beside a list weighs, with or without its share; else nothing."""
        head = _HEAD.match(sentence)
        body = (sentence[head.end() :] if head else sentence).rstrip(" .!")
        best = one_amount_of(body, self._units)
        ways = [best[0]] if best else [body]
        return next((way for way in ways if self._ingredients.reads(draft, way)), "")

    @staticmethod
    def _sentences(draft: Draft, text: str) -> tuple[str, ...]:
        """Part a paragraph; a list of shares with its base gives the base and one share a row."""
        found: list[str] = []
        for sentence in sentences_apart(brackets_as_amounts(text)):
            shares = shares_of(sentence) if "%" in sentence else None
            if shares is not None:
                draft.base_g, front, listed = shares
                found += [part for part in (front, listed) if part]
            else:
                found.append(sentence)
        return tuple(found)

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
        amounts = len(amounts_at(sentence, self._units)) + _shares_in(sentence, draft.base_g)
        if amounts < 2 or _MORE_RUNS.match(sentence):
            return ()
        if draft.lines and tells_to_do(sentence):
            return ()
        head = _HEAD.match(sentence)
        bodies = [sentence[head.end() :], sentence] if head else [sentence]
        nearly: tuple[str, ...] = ()
        for body in bodies:
            body = body.rstrip(" .!")
            rows = rows_of(body, lambda row: self._ingredients.reads(draft, row))
            ways = ways_apart(body, self._units)
            for way in (rows, *ways) if len(rows) > 1 else ways:
                way = tuple(self._weighed_once(piece) for piece in _of_the_same(way))
                known = [is_loose(piece) or self._ingredients.reads(draft, piece) for piece in way]
                if all(known):
                    return way
                if sum(known) >= max(_LEAST_KNOWN, 0.6 * len(way)) and not nearly:
                    nearly = way
        return nearly


def _shares_in(sentence: str, base_g: float | None) -> int:
    """Count the shares of a sentence, which weigh something where their base is known."""
    return sentence.count("%") if base_g is not None else 0


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
        if found and ends_nothing(found[-1], piece, _ABBREVIATED):
            found[-1] = f"{found[-1]} {piece}"
        elif piece.strip():
            found.append(piece.strip())
    return tuple(found)
