"""What the words around an amount in prose say: another bake, for the top, a head of a list, a sentence going on."""

from __future__ import annotations

import re

_ANOTHER_BAKE = re.compile(
    r"\?|\b(?:day\s+one|last\s+(?:time|week|year|month)|used\s+to|i\s+(?:first\s+)?tried|first\s+(?:try|time|attempt)|"
    r"attempt\s+[0-9]|next\s+time|planned|binned|previous(?:ly)?|not\s+baked|before\s*,?\s+i|instead\s+of|"
    r"the\s+old\s+(?:one|version)|boiling\s+(?:pot|bath)|for\s+(?:the\s+)?(?:pot|boiling|bath|steamer)|should\s+i|could\s+i|"
    r"if\s+i|would|swap|replace[ds]?|substitute|per\s+(?:100|loaf|slice|roll|serving)|(?:run|trial|version|batch)\s+[0-9])\b",
    re.IGNORECASE,
)
_NOT_IN_DOUGH = re.compile(
    r"\b(?:egg\s*-?wash|glaz\w+|brush\w*|to\s+finish|on\s+top|for\s+(?:the\s+)?(?:top|topping|tin|pan|tray|cross(?:es)?|dusting|"
    r"rolling|greasing|boil\w*|water\s+bath)|sprinkl\w+|dusting|scatter\w*|serve|spread|icing|steam\w*|(?:boil(?:ed)?|simmer(?:ed)?)\b(?!\s+water)[^.;]{0,40}?\s(?:in|with)|"
    r"(?:boiling|simmering)\s+in|poach\w*)\b",
    re.IGNORECASE,
)
_GOES_ON = re.compile(
    r"\s*(?:$|[0-9.,]+\s*%|[=.,;:!?()&+–—-]|(?:and|plus|with|in|into|on|at|for|to|then|until|till|while|which|that|when|if|or|as|n|all|because|since|but|so|"
    r"straight|from|more|extra|um|uh|er|i|we|you|it|they|hold|held|reserved|bit|not|last|first|just|very|nice|ish|right|off|out|up|over|\w+ed|\w+ly|\w+en|cut|put|set|beat|left|torn)\b)",
    re.IGNORECASE,
)


def is_about_another(sentence: str) -> bool:
    """Tell whether a sentence speaks of another bake, of a question, or of what goes into no dough."""
    return bool(_ANOTHER_BAKE.search(sentence))


def is_for_dough(sentence: str) -> bool:
    """Tell whether the amounts of a sentence go into the dough, as far as its words tell."""
    return not (_ANOTHER_BAKE.search(sentence) or _NOT_IN_DOUGH.search(sentence))


_JOINS = re.compile(r"(?:[\s,;&+·•|/–—-]|\b(?:and|plus|n|then|also|with)\b)*", re.IGNORECASE)
_HEAD = re.compile(r"(?P<head>[^:,;0-9]{2,60}?)\s*(?::|[.!](?=\s)|\s[-–—])\s*", re.IGNORECASE)


def joins(between: str) -> bool:
    """Tell whether what stands between two amounts only joins them: a comma, "and", "+"."""
    return _JOINS.fullmatch(between) is not None


def without_head(text: str) -> tuple[str, str]:
    """Give the words that head a list of amounts ("Wet:", "Cheese baps."), and the list."""
    found = _HEAD.match(text)
    return (found["head"].strip(), text[found.end() :]) if found else ("", text)


def goes_on(behind: str) -> bool:
    """Tell whether what stands behind a name goes on with something else: "butter rubbed in" and not "butter beans"."""
    return _GOES_ON.match(behind) is not None
