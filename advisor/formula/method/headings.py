"""Which lines are headings of a card or page, which begin its method, and which say nothing of the dough."""

from __future__ import annotations

import re

from advisor.formula.spelling import words_of

_SECTIONS = (
    "ingredients", "dry", "wet", "dry ingredients", "wet ingredients", "dry mix", "wet mix", "liquids", "liquid",
    "powders", "topping", "toppings", "dough", "main dough", "final dough", "batter", "filling", "glaze",
    "egg wash", "crust", "sponge", "poolish", "biga", "old dough", "pâte fermentée", "preferment", "pre-ferment",
    "levain", "starter", "soaker",
    "scald", "leavening", "raising agents", "seasoning", "seasonings", "fats", "eggs and dairy", "binder",
    "binders", "flours", "proteins", "fibres", "optional", "extras", "coating",
    "decoration", "the dough", "the topping", "yeast mix", "yeast mixture", "to finish", "to serve", "bowl 1",
    "bowl 2", "bowl one", "bowl two", "first bowl", "second bowl", "you need", "you will need", "what you need",
    "shopping list", "ingredient list",
)  # fmt: skip
_METHOD = (
    "method", "instructions", "directions", "steps", "preparation", "procedure", "how to", "how to make it",
    "notes", "note", "tips", "nutrition", "nutrition facts", "nutritional information", "equipment", "process notes",
    "baking instructions", "what to do", "storage", "comments",
)  # fmt: skip
_CARD_NOTES = (
    "prep time", "preparation time", "cook time", "cooking time", "total time", "active time", "hands-on time",
    "ready in", "difficulty", "level", "course", "cuisine", "category", "author", "by", "source", "date", "tried",
    "tags", "keywords", "rating",
    "version", "from", "tester", "kitchen", "batch no", "calories", "print", "equipment",
)  # fmt: skip
_HEADING_KEYS = frozenset(words_of(s) for s in _SECTIONS)
_METHOD_KEYS = frozenset(words_of(s) for s in _METHOD)
_NOTE_KEYS = frozenset(words_of(s) for s in _CARD_NOTES)
_FEW_WORDS = 4
_CARD_ROW = re.compile(
    r"(?:(?:prep|cook|bake|total|active|hands-on|mix|rise|proof|rest|chill|cool|ready|servings?|serves|yield|calories|kcal|difficulty|course|cuisine|author|rating)"
    r"(?:\s+time)?\s*:\s*[^:]+?[\s,;|·•/-]*){3,}",
    re.IGNORECASE,
)
_CARD_TIMES = re.compile(
    r"\b(?:prep(?:aration)?|bake|baking|cook(?:ing)?|total|rest(?:ing)?|active|rise|rising|proof|chill|cool)(?:\s+time)?\s*:?\s*"
    r"(?:about\s+)?[0-9]{1,3}\s*(?:min(?:ute)?s?|h(?:ou)?rs?|h)\b\.?(?:\s*[0-9]{1,2}\s*(?:min(?:ute)?s?)?\b)?[\s,;|/·•-]*",
    re.IGNORECASE,
)
_BEGINS_CARD = re.compile(r"prep(?:aration)?(?:\s+time)?\s*:?\s*[0-9]{1,3}\s*(?:m|h)", re.IGNORECASE)
_BUTTONS = re.compile(r"\W*(?:skip|jump)\s+to\s+(?:the\s+)?(?:recipe|content|method)\b", re.IGNORECASE)
_OF_A_PAGE = re.compile(
    r"(?:(?:skip|jump)\s+to\s+(?:the\s+)?(?:recipe|content|method)|print(?:\s+recipe)?|pin(?:\s+it)?|save|share)\b(?:[\s|·•,/-]+.*)?",
    re.IGNORECASE,
)
_FOR_THE = re.compile(r"for\s+(?:the\s+|a\s+|each\s+)?[^\W\d]+(?:[ \-][^\W\d]+){0,3}", re.IGNORECASE)
_NUMBERED = re.compile(r"(?:bowl|step|part|stage)\s+(?:[0-9]{1,2}|[a-d])", re.IGNORECASE)


def is_section(text: str) -> bool:
    """Tell whether a line without colon is a heading that cards use: Dry, WET INGREDIENTS, For the topping."""
    words = words_of(text)
    if words in _HEADING_KEYS or words in _METHOD_KEYS:
        return True
    return bool(_FOR_THE.fullmatch(text) or _NUMBERED.fullmatch(text))


def begins_method(text: str) -> bool:
    """Tell whether a heading is followed by sentences and not by ingredients."""
    return words_of(text) in _METHOD_KEYS


_TELLS = frozenset(
    words_of(s)
    for s in ("method", "instructions", "directions", "steps", "preparation", "procedure", "how to", "how to make it",
              "baking instructions", "what to do", "notes", "note", "process notes", "tips", "storage", "comments")
)  # fmt: skip
_FINISH = frozenset(["topping", "top", "finish", "serve", "decoration", "coating", "crust", "glaze"])


def tells_work(text: str) -> bool:
    """Tell whether a heading is followed by what is done, and not by notes, nutrition or storage."""
    return words_of(text) in _TELLS


def is_finish(text: str) -> bool:
    """Tell whether a heading is one of what goes on top, where an ingredient may stand without an amount."""
    return bool(_FINISH & set(words_of(text)))


def without_card_times(text: str) -> str:
    """Give the first lines of a card without its times: "Prep 10 min, bake 30 min, makes 6" makes 6."""
    return _CARD_TIMES.sub("", text).strip(" ,;") if _BEGINS_CARD.match(text) else text


def is_card_row(text: str) -> bool:
    """Tell whether a line is the row of a page's card with its times, servings and calories; the method has them."""
    if _BUTTONS.match(text):
        return True
    if _OF_A_PAGE.fullmatch(text) and ("|" in text or len(text.split()) <= _FEW_WORDS):
        return True  # the buttons of a page
    return text.count(":") > 2 and _CARD_ROW.fullmatch(text) is not None


def is_card_note(key: str) -> bool:
    """Tell whether what stands before a colon announces something that no formula needs."""
    return words_of(key) in _NOTE_KEYS
