"""When two spellings are the same name: case, accents, hyphens, spaces, plurals, two spellings of English."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_WORD = re.compile(r"[a-z0-9.]+")
_APOSTROPHE = re.compile(r"['’`]")
_LIGATURES = str.maketrans({"ß": "ss", "œ": "oe", "æ": "ae", "ø": "o", "ł": "l"})
_SAME = {
    "yoghurt": "yogurt",
    "fibre": "fiber",
    "unflavoured": "unflavored",
    "flavour": "flavor",
    "flavoured": "flavored",
    "pasteurised": "pasteurized",
    "dessicated": "desiccated",
    "desicated": "desiccated",
    "centre": "center",
    "conc": "concentrate",
    "pwd": "powder",
    "powd": "powder",
    "pdr": "powder",
    "pwdr": "powder",
    "fib": "fiber",
    "cmpr": "compressed",
    "liq": "liquid",
    "crm": "cream",
    "mic": "micellar",
    "chz": "cheese",
    "chs": "cheese",
    "wht": "white",
    "pwder": "powder",
    "bkg": "baking",
    "isol": "isolate",
    "iso": "isolate",
    "prot": "protein",
    "unsalt": "unsalted",
    "med": "medium",
    "lg": "large",
    "lge": "large",
    "lrg": "large",
    "sml": "small",
    "xtra": "extra",
    "veg": "vegetable",
    "org": "organic",
    "flr": "flour",
    "choc": "chocolate",
    "wholem": "wholemeal",
    "granul": "granulated",
    "yogh": "yogurt",
    "yog": "yogurt",
    "yst": "yeast",
    "bak": "baking",
    "h2o": "water",
}


@lru_cache(maxsize=4096)
def _stem(word: str) -> str:
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        if word.endswith("ies") and len(word) > 4:
            word = word[:-3] + "y"
        elif word.endswith(("oes", "shes", "ches", "xes", "sses")):
            word = word[:-2]
        else:
            word = word[:-1]
    return _SAME.get(word, word)


def word_set(text: str) -> frozenset[str]:
    """Give the words of a list that is written over several lines."""
    return frozenset(text.split())


def words_of(text: str) -> tuple[str, ...]:
    """Give the words of a name in the one form in which names are compared."""
    lowered = text.lower()
    if not lowered.isascii():
        decomposed = unicodedata.normalize("NFKD", lowered.translate(_LIGATURES))
        lowered = "".join(c for c in decomposed if not unicodedata.combining(c))
    lowered = _APOSTROPHE.sub("", lowered).replace("&", " and ")
    return tuple(_stem(w.strip(".")) for w in _WORD.findall(lowered) if w.strip("."))


def key_of(words: tuple[str, ...]) -> str:
    """Give the key under which a name is looked up: its words run together, as spaces do not count."""
    return "".join(words)
