"""Which lines are free sentences, as in the method of a card, and which could be an ingredient or a process line."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.formula.faults import LineFault
from advisor.formula.lines.amounts import number_at
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.quantities import amount_at
from advisor.formula.lines.units import UnitTable
from advisor.formula.spelling import word_set

_VERBS = word_set(
    """add allow bake beat blend boil bring brush check chill combine cook cool cover cream cut decorate dimple
    dissolve divide drain drizzle drop dust fill flatten fold form freeze garnish grease heat keep knead knock
    leave let lift line lower make melt microwave mix open pat place poke pop pour prepare preheat press
    process proof prove pulse punch put refrigerate remove repeat rest return rise roll rotate rub scald score
    scoop scrape season serve set shape sieve sift simmer sit slash slice smooth soak split spoon spread
    sprinkle squeeze stand stir store stretch take tap tent test tip toast top toss transfer tuck turn use
    wait warm wash weigh wet whip whisk whizz work wrap oven tear invert store"""
)
"""What cards tell their reader to do; "oven" opens a sentence in the same way."""
_FOODS_DONE = frozenset({"butter", "flour", "oil", "salt", "egg"})
_ARTICLES = frozenset({"the", "a", "your", "it"})
_BEFORE_VERB = word_set(
    """then now next finally first gently carefully slowly quickly lightly just also please you can will should
    to once again meanwhile afterwards immediately always never dont not do"""
)
_FUNCTION = word_set(
    """a an and as at be before but by do for from i if in into is it its my no not of off on once or out over so
    that the them then there this till to until up us was we when while with you your"""
)
_CLAUSE = re.compile(r"[.!?;,:]+(?:\s+|$)|\s[-–—]\s|\s(?:and|then|&|but)\s|[()]", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")
_SENTENCE = re.compile(r"(?<=[.!?;])\s+")
_ABBREVIATED = re.compile(
    r"(?:\b[a-z](?:\.[a-z])+|\b(?:approx|abt|ca|tbsp|tsp|conv|incl|e\.g|i\.e|vs))\.$"
    r"|[,;:]\s*[0-9][0-9./ ]*\s*(?:g|l|c|t|oz|lbs?)\.$",
    re.IGNORECASE,
)
_NAMED_BEFORE = re.compile(
    r"[^\W\d]{3,},?\s+[0-9¼½¾⅓⅔⅛][0-9¼½¾⅓⅔⅛/., ]*\s*(?:tbsp|tbs|tsp)\.$", re.IGNORECASE
)
"""A spoon with the name in front of it, so that nothing has to follow: "olive oil 3 Tbsp. Beat 3 minutes"."""
_PROCESS_IN_FRONT = re.compile(
    r"[~]?[0-9]{1,3}(?:\s?[-–]\s?[0-9]{1,3})?\s*(?:°|º|degrees?\b|deg\b|c\b(?!\s*\w*\s*(?:flour|water|milk))|f\b|"
    r"min|hour|hr\b|h\b|sec|for\s)",
    re.IGNORECASE,
)
_PLACE = re.compile(r"(?<![\w.])(?=[0-9¼½¾⅓⅔⅛])")
_NAME = re.compile(r"\s*(?:of\s+)?(?P<name>[^\W\d_][^\s,.;:()]*(?:\s+[^\W\d_][^\s,.;:()]*){0,4})")
_MOST_CUPS = 30.0
_FEWEST_WORDS = 4
_SHORT = 7
"""Words up to which a line with an amount in it is taken for an ingredient line gone wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Within:
    """An amount inside a sentence: its text with the name behind it; no name where no ingredient follows."""

    text: str
    known: bool


def is_open(piece: str) -> bool:
    """Tell whether a bracket is open at the end of a piece, so that its stop ends nothing: "(abt. 50 g)"."""
    return piece.count("(") > piece.count(")")


def ends_nothing(piece: str, following: str, abbreviated: re.Pattern[str]) -> bool:
    """Tell whether the stop at the end of a piece ends nothing: one in a bracket, or one of an abbreviation."""
    if is_open(piece):
        return True
    return bool(abbreviated.search(piece)) and not (following[:1].isupper() and _NAMED_BEFORE.search(piece))


def sentences_of(text: str) -> tuple[str, ...]:
    """Part a line behind full stops, question marks and semicolons."""
    found: list[str] = []
    for piece in _SENTENCE.split(text):
        if found and ends_nothing(found[-1], piece, _ABBREVIATED):
            found[-1] = f"{found[-1]} {piece}"
        elif piece.strip():
            found.append(piece)
    return tuple(found)


def amounts_within(text: str, units: UnitTable, names: NameIndex) -> tuple[Within, ...]:
    """Give the amounts by weight, volume or piece inside a sentence, each with the ingredient that follows."""
    found: list[Within] = []
    end = 0
    for place in _PLACE.finditer(text):
        start = place.start()
        if start < end:
            continue
        try:
            amount = amount_at(text, start, units)
        except LineFault:
            continue
        if amount is None or amount.parts[0].percent:
            continue
        unit = amount.parts[0].unit
        if unit is not None and unit.id == "cup" and amount.parts[0].value > _MOST_CUPS:
            continue  # 180 C
        behind = _NAME.match(text, amount.end)
        words = behind["name"].split() if behind else []
        for count in range(len(words), 0, -1):
            name = " ".join(words[:count])
            try:
                match = names.match(name)
            except LineFault:
                match = None
            if match is not None and (unit is not None or match.ingredient.countable):
                end = behind.start("name") + len(name) if behind else amount.end
                found.append(Within(text=text[start:end], known=True))
                break
        else:
            if unit is not None and (unit.grams or unit.millilitres) and not _is_pan(text, amount.end):
                end = amount.end
                shown_to = behind.end() if behind else amount.end
                found.append(Within(text=text[start:shown_to], known=False))
    return tuple(found)


def _is_pan(text: str, at: int) -> bool:
    return bool(
        re.match(
            r"(?:\s*\([^()]*\))?[\s-]*(?:\w+\s+){0,2}(?:tin|pan|loaf|loaves|dish)\b", text[at:], re.IGNORECASE
        )
    )


def _begins_with_verb(clause: str) -> bool:
    words = [word.lower() for word in _WORD.findall(clause)]
    while words and words[0].replace("'", "").replace("’", "") in _BEFORE_VERB:
        words = words[1:]
    if not words:
        return False
    if words[0] in _FOODS_DONE and words[1:2] and words[1] in _ARTICLES:
        return True  # "butter the tin"
    if words[0] not in _VERBS:
        return False
    return words[1:2] not in (["of"], ["flour"])  # "a sprinkle of", "cream of tartar"


def begins_with_amount(text: str, units: UnitTable) -> bool:
    """Tell whether a line begins with an amount or a unit, and not with a time or a heat."""
    if text[:1].isdigit() and _PROCESS_IN_FRONT.match(text):
        return False
    try:
        number = number_at(text)
        if number is None:
            return units.unit_at(text, 0) is not None and (units.unit_at(text, 0) or ("", 0))[1] >= 3
        amount = amount_at(text, 0, units)
    except LineFault:
        return True
    return not number.word or (amount is not None and amount.parts[0].unit is not None)


def begins_with_weight(text: str, units: UnitTable) -> bool:
    """Tell whether a line begins with an amount by weight or volume, as an ingredient line does."""
    try:
        amount = amount_at(text, 0, units)
    except LineFault:
        return False
    if amount is None or (unit := amount.parts[0].unit) is None or _PROCESS_IN_FRONT.match(text):
        return False
    return bool(unit.grams or unit.millilitres) and not _is_pan(text, amount.end)


def is_sentence(text: str, units: UnitTable, names: NameIndex) -> bool:
    """Tell whether a line is free prose: a verb that begins a clause, or words enough and a full stop.

    A line that begins with an amount, a short one that holds an amount, and the bare name of an ingredient are none:
    they could be an ingredient line gone wrong.
    """
    words = _WORD.findall(text)
    if len(words) < 2 or begins_with_amount(text, units):
        return False
    clauses = [clause.strip() for clause in _CLAUSE.split(text) if clause.strip()]
    if not clauses:
        return False
    amounts = amounts_within(text, units, names)
    if amounts and len(words) <= _SHORT and len(sentences_of(text)) == 1:
        return False
    if _begins_with_verb(clauses[0]):
        return True
    if _named(clauses[0], names) or amounts_within(clauses[0], units, names):
        return False
    if len(words) >= _FEWEST_WORDS and any(_begins_with_verb(clause) for clause in clauses[1:]):
        return True
    if amounts or any(c.isdigit() for c in text):
        return False
    function_words = sum(word.lower() in _FUNCTION for word in words)
    if len(words) >= _FEWEST_WORDS and text.rstrip()[-1:] in ".!?" and function_words >= 1:
        return True
    return len(words) > _SHORT and function_words >= 2


def _named(text: str, names: NameIndex) -> bool:
    try:
        return names.match(text) is not None
    except LineFault:
        return True
