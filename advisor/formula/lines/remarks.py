"""Lines with numbers that are no ingredient and are kept as remarks: sums, plans, prices, water for the pot."""

from __future__ import annotations

import re

from advisor.formula.lines.running import amounts_at
from advisor.formula.lines.units import UnitTable
from advisor.formula.spelling import word_set

_PIECE = r"(?:bun|roll|piece|loaf|ball|tin|portion|person|slice|serving|wrap|bagel|cracker|muffin|cup|flatbread|each)"
_KEPT = re.compile(
    rf"""
    \b(?:for|into|in)\s+the\s+(?:boiling\s+)?(?:pot|steamer|water\s?bath|steam|oven)\b
    | ^\W*(?:boiling|poaching)\s+(?:pot|bath|liquid|water)\s*:
    | \b(?:boil|bring)\b .{{0,40}} \bwater\b (?!.*\b(?:dough|flour|mix)\b)
    | ^\W*(?:run|trial|attempt|test|version|try|batch|bake)\s*(?:no\.?\s*|\#\s*)?[0-9]+\b
    | ^\W*(?:next|last)\s+(?:time|run|bake|trial)\b
    | ^\(.*\)$ | \+\s?/\s?[-−]\s?[0-9]
    | = .* (?:=|%|÷)
    | \bper\s+(?:100\s*g|{_PIECE})\b
    | \b{_PIECE}\s+weight\b | \bweight\s+(?:per|of\s+each|each|raw|before|after)\b
    | \b[0-9]+(?:\.[0-9]+)?\s*(?:g|gr|gm|grams?|oz)\s+each\s*$
    | \bprep(?:aration)?\b .* \b(?:cook|servings?|total|rise)\b | \b(?:votes|reviews|ratings)\b | \bjump\s+to\s+recipe\b
    | [£$€]\s?[0-9] | [0-9]\s?(?:kcal|kj|cal)\b | \b(?:calories|net\s+carbs?|nutrition)\b
    | ^\W*(?:hydration|total\s+hydration|yield|cost|price|source|date|page|serves)\b
    """,
    re.IGNORECASE | re.VERBOSE,
)
_NO_FOOD = word_set(
    """
    weight height pan pans tin tins loaf loaves dough ball balls roll rolls bun buns piece pieces bagel
    bagels bap baps slice slices oven temp temperature time result results core rest proof prove rise bake
    baked cool rack tray sheet paper-lined lined dish form mould deck convection fan steam minutes min hours
    hour degrees serves makes batch batches people persons portions portion each servings yield title page
    crackers muffins wraps tortillas pizzas naans rotis flatbreads total carbs kcal
    votes ratings rating reviews stars servings prep calories humidity rh
    scale scaled deposit
    speed spec version trial run day days week circle rounds discs squares paper fan until knead kneaded
    thick wide deep across long works at is was out comes gives per needs
    left basin bowl jar mug hands batter dough foil lid parchment
    """
)
"""Words that no name of an ingredient holds: a line with an amount and one of them is none that went wrong."""
_LONGEST_NAME = 6
_NAME_WORD = re.compile(r"[^\W\d_][\w'’-]*")
_STOP = re.compile(r"[.;!?](?:\s|$)|\s[-–—]\s")
_ASIDE = re.compile(r"\s*[,(]")
"""What is done to an ingredient stands behind a comma or in a bracket: "80 g rinds, bashed in the bag"."""
_DIGIT = re.compile(r"[0-9½¼¾⅓⅔⅛]\s*")
_SHORT = 12
_SHORTEST_UNIT = 3
_SHARE_ROW = re.compile(r"[0-9.,]+\s?%\s+\D{3,40}|\D{3,40}\s[0-9.,]+\s?%")


def is_kept(text: str, units: UnitTable) -> bool:
    """Tell whether a line that could not be read as an ingredient is one that says something else.

    What begins or ends in an amount with a few words is an ingredient that is not known, and is asked back.
    """
    if not any(c.isdigit() for c in text):
        return False
    if _KEPT.search(text):
        return True
    amounts = amounts_at(text, units)
    if not amounts:
        measured = any(
            units.unit_at(text, at.end()) or text[at.end() :][:1] == "%" for at in _DIGIT.finditer(text)
        )
        return not measured and not _ends_in_number(text)
    within = amounts[0].start > 0 and amounts[-1].end < len(text.rstrip(" ."))
    return within and len(text.split()) > _SHORT


def is_short(text: str) -> bool:
    """Tell whether a line is so short, and speaks so little of pan or oven, that it can only be an ingredient."""
    words = [word.lower() for word in _NAME_WORD.findall(text)]
    return len(words) <= _SHORT and not any(word in _NO_FOOD for word in words)


def _ends_in_number(text: str) -> bool:
    """Tell whether a line has a bare number at one of its ends, as a row without a unit has."""
    return bool(re.search(r"^[~≈]?[0-9][0-9.,/]*(?=\s)|\s[0-9][0-9.,/]*$", text.strip(" .")))


def is_unknown_ingredient(text: str, units: UnitTable) -> bool:
    """Tell whether a line that could not be read is an amount with the name of an ingredient that is not known.

    Only that is asked back: an amount at one end of the line, and beside it few words, none of which is of the oven, of
    the pan or of what the dough becomes. Everything else is a remark.
    """
    amounts = amounts_at(text, units)
    if (unit := units.unit_at(text, 0)) and unit[1] >= _SHORTEST_UNIT:
        behind = text[unit[1] :].split()
        return behind[:1] == ["of"] and len(behind) <= _LONGEST_NAME
    if not amounts:
        share = "%" in text and not is_kept(text, units) and _SHARE_ROW.fullmatch(text.strip())
        return bool(share) and is_short(text)
    first, last = amounts[0], amounts[-1]
    if not text[: first.start].strip(" ~≈("):
        name = text[first.end : amounts[1].start if len(amounts) > 1 else len(text)]
        name = _ASIDE.split(_STOP.split(name)[0])[0]
    elif not text[last.end :].strip(" .!?)") and len(amounts) == 1:
        name = text[: first.start]
    else:
        return False
    if "%" in name:
        return False  # "Baker's % on (gluten + fibre) = 500 g"
    words = [word.lower() for word in _NAME_WORD.findall(name)]
    return 1 <= len(words) <= _LONGEST_NAME and not any(
        part in _NO_FOOD for word in words for part in (word, *word.split("-"))
    )
