"""Phrases around an ingredient that are no part of its name: its warmth, its purpose, "to taste", "plus extra"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.formula.lines.ages import months_of

_DEGREE = r"\s*(?:°|º|degrees?|deg\.?)?\s*"
_NUMBER = r"[0-9]{1,3}(?:\.[0-9]+)?"
_SCALE = r"(?P<{0}>celsius|centigrade|fahrenheit|[cf])\b"
_ONE = rf"(?P<low>{_NUMBER})(?:\s?(?:[-–]|to)\s?(?P<high>{_NUMBER}))?{_DEGREE}" + _SCALE.format("scale")
_SAME = (
    rf"(?:\s*[/,(=]\s*(?:or\s+)?{_NUMBER}(?:\s?[-–]\s?{_NUMBER})?{_DEGREE}"
    + _SCALE.format("other")
    + r"\)?)?"
)
_IN_WORDS = re.compile(
    rf"\s*,?\s*(?:(?:heated|warmed|cooled|brought)\s+(?:up\s+)?to|at|@|about)\s+(?:about\s+|around\s+)?{_ONE}{_SAME}",
    re.IGNORECASE,
)
_IN_BRACKETS = re.compile(
    rf"\s*[(,]\s*(?:~\s*|(?:[a-z'-]+[\s,.]+){{0,4}}?){_ONE}{_SAME}(?:\)|$|(?=,))", re.IGNORECASE
)
_WITH_SIGN = re.compile(_ONE.replace(_DEGREE, r"\s*(?:°|º|degrees?|deg\.?)\s*", 1) + _SAME, re.IGNORECASE)
_AT_THE_END = re.compile(
    r"(?<=\w)\s+(?P<low>[2-9][0-9]|1[0-9]{2}|1[3-9])(?P<high>(?!))?\s?(?P<scale>[cf])\b(?=\s*$|\s+-\s|\s+[0-9.]+\s*(?:(?:g|ml|kg|l)\b|$))",
    re.IGNORECASE,
)
"""A heat behind a name without a sign: "water 40 C"; so many cups would be none."""
_BARE_DEGREES = re.compile(
    r"\s*[,(]?\s*(?:(?:at|of|about|around|@|~)\s+)*(?P<low>[0-9]{2,3})(?:\s?(?:[-–]|to)\s?(?P<high>[0-9]{2,3}))?\s*"
    r"(?:°|º|degrees?|deg)\.?(?!\s*[cf]\b)\s*\)?",
    re.IGNORECASE,
)
"""Degrees without a scale: of what is poured, up to 60 can only be C, and from 70 F."""
_WARM_THEN = re.compile(
    r"(?:\s*[,(]?\s*@|(?<=warm|epid|cool)(?P<name>(?:\s+[a-z]+){0,2}?)\s*[,(]|(?<=warm|epid|cool)\s+(?:at|about|around|like|~))"
    r"\s*(?:(?:at|about|around|i|aim|for|say|like|~)\s+)*(?P<low>[1-9][0-9]{1,2})(?:\s?(?:[-–]|to)\s?(?P<high>[0-9]{2,3}))?"
    r"(?![0-9.,/]*\s*[a-z%½¼¾0-9])\s*\)?",
    re.IGNORECASE,
)
"""A heat by what stands in front of it: "water 400 @ 22", "1 cup warm water, 100-110"."""
_MOST_BARE_C, _LEAST_BARE_F, _MOST_YEAST_F = 60.0, 70.0, 130.0
_TASTE = re.compile(
    r"\s*[,(]?\s*\b(?:or\s+)?(?:to\s+(?:your\s+)?taste|as\s+(?:needed|required|you\s+like|desired)|"
    r"(?:if|when|where)\s+(?:needed|liked|desired|wanted|you\s+(?:have|like)(?:\s+(?:it|any|some|them))?)|"
    r"q\.?\s?s\b\.?|quantum satis)(?:\s*\))?",
    re.IGNORECASE,
)
_PURPOSE = re.compile(
    r"\s*[,(]?\s*\b(?:for|to)\s+(?:the\s+|your\s+|a\s+)?(?:(?P<in>kneading|dough|batter|sponge|starter|loaf|bread)|"
    r"dusting|greasing|oiling|sprinkling|sprinkle|brushing|scatter(?:ing)?|fry(?:ing)?|boiling(?!\s+water)|steam(?:ing|er)|"
    r"brush|rolling(?:\s+out)?|shaping|glazing|glaze|egg\s?wash|topping|top|toppings|crust|filling|finish|"
    r"finishing|serving|serve|garnish|coating|coat|decoration|decorating|pot|(?:water\s+)?bath|"
    r"work\s?(?:surface|top)|surface|bench|counter|pan|tin|tray|baking\s+(?:sheet|tray)|grease|dust|bowl)"
    r"(?:\s+(?:the\s+)?(?:pan|tin|top|tray|loaf|dough|bowl|surface|bench|work\s?(?:surface|top)))?\b(?:\s*\))?",
    re.IGNORECASE,
)
_ATOP = re.compile(
    r"\s*[,(]?\s*\b(?:to\s+(?:go|sprinkle|scatter|strew|stick|press)\s+(?:\w+\s+){0,2}?on(?:\s+(?:the\s+)?top)?|"
    r"(?:sprinkled\s+|scattered\s+|pressed\s+)?(?:on|over)\s+(?:the\s+)?top)\b(?:\s+of\s+the\s+\w+)?(?:\s*\))?",
    re.IGNORECASE,
)
"""Where an ingredient goes that goes into no dough: "1 tbsp sesame, on top"."""
_FOR = re.compile(r"^for\s+(?:the\s+)?", re.IGNORECASE)
_ON_TOP = re.compile(r"(?<=[\w.])\s*,\s*(?:[^\W\d]+\s*){1,3}$")
"""Another food without an amount in front of its purpose: "oil 2 tbsp, butter for brushing"."""
_EXTRA = re.compile(
    r"\s*[,(]?\s*(?:\bplus\b|\+|\band\b|&)\s*(?:a\s+(?:little|bit|few|handful)\s+)?(?:some\s+)?(?:extra|more)\b[^,()]*\)?",
    re.IGNORECASE,
)
MORE_ON_TOP = re.compile(
    r"\s*[,(]?\s*(?:\bplus\b|\+|\band\b)\s*(?:about\s+)?[0-9½¼¾/. ]+[a-z]*\.?\s+"
    r"(?:for|to)\s+(?:the\s+)?(?:sprinkl|dust|brush|roll|top|greas|"
    r"garnish|serv|tin|pan|tray|decorat|scatter|finish|coat|work|glaz)\w*(?:\s+on\s+top|\s+and\s+(?:the\s+)?(?:top|tin|pan|tray)\b)?\s*\)?",
    re.IGNORECASE,
)
"""More of an ingredient that goes on the loaf and not into it: "(plus 1 tbsp for sprinkling)"."""
_OPTIONAL = re.compile(r"\s*[,(]?\s*\b(?:optional(?:ly)?\b|opt\b\.?)\s*:?(?:\s*\))?", re.IGNORECASE)
_VAGUE = re.compile(
    r"(?:an?\s+)?(?:good\s+|generous\s+|small\s+|large\s+|big\s+|tiny\s+)?(?:bit|little|touch)s?"
    r"(?:\s+(?:of|more|extra)\b)?\s+|(?:some|extra|a little)\s+",
    re.IGNORECASE,
)
_JUICE = re.compile(
    r"(?:the\s+)?juice\s+(?:of|from)\s+(?P<count>.+?)\s+(?:(?P<size>small|medium|large)\s+)?(?P<fruit>lemon|lime)s?\b",
    re.IGNORECASE,
)
_JUICED = re.compile(
    r"(?P<count>[^ ]+)\s+(?P<fruit>lemon|lime)s?,\s*(?:the\s+)?juiced?(?:\s+only)?", re.IGNORECASE
)
_PARTS_OF_EGGS = re.compile(
    r"(?:the\s+)?(?:egg\s+)?(?P<part>white|yolk)s?\s+(?:of|from)\s+(?P<count>.+?)\s+(?P<size>(?:small|medium|large)\s+)?eggs?\b",
    re.IGNORECASE,
)
_SIZE = re.compile(
    r"\b(?:size|grade)\s+(?P<size>s|m|l|xl|small|medium|large)\b|\((?P<letter>s|m|l|xl)\)|(?<=\beggs)\s*,?\s+(?P<behind>S|M|L|XL)\b",
    re.IGNORECASE,
)
_SIZES = {"s": "small", "m": "medium", "l": "large", "xl": "extra large"}
_HINT = re.compile(
    r"[°º@]|\beggs\s*,?\s+(?:s|m|l|xl)\b|degree|warm|tepid|\bdeg|[0-9]\s?(?:[cf]\b|cels|fahr)|\b(?:taste|needed|required|desired|liked|like|wanted|have|satis|q\.?s)\b"
    r"|\b(?:for|to|extra|more|optional|optionally|opt|some|"
    r"bit|little|touch|juice|juiced|size|grade|of|from|opened|open|bought|old|top)\b|\((?:s|m|l|xl)\)",
    re.IGNORECASE,
)
_MANY = r"[0-9]{1,3}|an?|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
_AGE = re.compile(
    rf"\s*[,(]?\s*\b(?:(?:opened|open\s+for|open\s+since|bought)\s+(?:about\s+|over\s+)?(?P<ago>{_MANY})\s+"
    rf"(?P<unit>day|week|month|year)s?(?:\s+ago)?|(?P<old>{_MANY})\s+(?P<of>day|week|month|year)s?\s+old)\b"
    r"(?:\s*\))?",
    re.IGNORECASE,
)
_LEAST_WARMTH_C = 10.0
_BOTH = re.compile(r"\s+([,)])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    """A line without its phrases: what is left, and what they said."""

    text: str
    celsius: float | None = None
    vague: bool = False
    more: str = ""
    taste: bool = False
    beside: str = ""
    """The words that say that it goes on the loaf, into the pot or into the tin, and into no dough."""
    said: tuple[str, ...] = ()
    age_months: float = 0.0


def without_phrases(text: str) -> Phrase:
    """Take phrases off an ingredient line; a line that has none comes back as it is."""
    if not _HINT.search(text):
        return Phrase(text=text)
    said: list[str] = []
    age = 0.0
    if (found := _AGE.search(text)) and found.start() > 0:
        many, unit = (found["ago"], found["unit"]) if found["ago"] else (found["old"], found["of"])
        age, text = months_of(many, unit), _without(text, found)
    celsius, text = _warmth(text, said)
    text = _SIZE.sub(
        lambda m: " " + _SIZES.get((m["size"] or m["letter"] or m["behind"]).lower(), m["size"] or ""), text
    )
    text = _JUICE.sub(lambda m: f"{m['count']} piece {m['fruit']} juice", text)
    text = _PARTS_OF_EGGS.sub(lambda m: f"{m['count']} {m['size'] or ''}egg {m['part']}s", text)
    text = _JUICED.sub(lambda m: f"{m['count']} piece {m['fruit']} juice", text)
    vague, more, taste = False, "", False
    if found := MORE_ON_TOP.search(text):
        said.append(f"'{found.group().strip(' ,()')}' is not counted with the dough")
        text = _without(text, found)
    if found := _EXTRA.search(text):
        more, text = found.group().strip(" ,()"), _without(text, found)
    if found := _TASTE.search(text):
        vague, taste, text = True, True, _without(text, found)
        said.append(f"'{found.group().strip(' ,()')}' gives no weight")
    if (found := _PURPOSE.search(text)) and (note := _ON_TOP.search(text[: found.start()])):
        said.append(f"'{text[note.start() : found.end()].strip(' ,()')}' is not counted with the dough")
        text = text[: note.start()] + text[found.end() :]
    beside = ""
    if (found := _ATOP.search(text) or _PURPOSE.search(text)) and found.start() > 0:
        stop = _end_of_bracket(text, found)
        words = text[found.start() : stop].strip(" ,()")
        vague, text = True, _joined(text[: found.start()], text[stop:], closed=found.group().endswith(")"))
        beside = "" if found.groupdict().get("in") else _FOR.sub("", words)
    if found := _OPTIONAL.search(text):
        stop = _end_of_bracket(text, found)
        text = _joined(text[: found.start()], text[stop:], closed=found.group().endswith(")"))
        said.append("what is optional is counted")
    if found := _VAGUE.match(text):
        vague, text = True, text[found.end() :]
    return Phrase(
        text=text.strip(" ,"),
        celsius=celsius,
        vague=vague,
        more=more,
        taste=taste,
        beside=beside,
        said=tuple(said),
        age_months=age,
    )


def _end_of_bracket(text: str, found: re.Match[str]) -> int:
    """Give the end of a phrase that opens a bracket: all of "(for dusting the board)" goes."""
    words = found.group()
    close = text.find(")", found.end())
    opened = "(" in words and ")" not in words and close >= 0
    return close + 1 if opened and "(" not in text[found.end() : close] else found.end()


def _without(text: str, found: re.Match[str]) -> str:
    return _joined(text[: found.start()], text[found.end() :], closed=found.group().endswith(")"))


def _joined(before: str, behind: str, *, closed: bool) -> str:
    joined = f"{before} {behind}"
    if joined.count("(") != joined.count(")"):
        joined = f"{before} {')' if closed else ''}{behind}"
    return _BOTH.sub(r"\1", " ".join(joined.split())).strip()


def _warmth(text: str, said: list[str]) -> tuple[float | None, str]:
    """Take one temperature off: "(38 C)", "at 100 F", "38 °C"; "2 C flour" is two cups and none."""
    for pattern in (_IN_WORDS, _IN_BRACKETS, _WITH_SIGN, _AT_THE_END):
        for found in pattern.finditer(text, 1):
            low = float(found["low"])
            value = (low + float(found["high"])) / 2 if found["high"] else low
            celsius = (value - 32) / 1.8 if found["scale"].lower().startswith("f") else value
            if pattern is _IN_BRACKETS and celsius < _LEAST_WARMTH_C:
                continue
            if not -5 <= celsius <= 100:
                continue
            if found["high"]:
                written = found.group().strip(" ,()")
                said.append(f"'{written}' is taken at its middle, {celsius:.4g} C")
            return celsius, _without(text, found)
    for bare in (_BARE_DEGREES.search(text, 1), _WARM_THEN.search(text, 1)):
        if bare is None:
            continue
        low = float(bare["low"])
        value = (low + float(bare["high"])) / 2 if bare["high"] else low
        most_f = 212 if bare.re is _BARE_DEGREES else _MOST_YEAST_F
        if value <= _MOST_BARE_C or _LEAST_BARE_F <= value <= most_f:
            fahrenheit = value >= _LEAST_BARE_F
            said.append(
                f"'{bare.group().strip(' ,()')}' is taken as {'Fahrenheit' if fahrenheit else 'Celsius'}"
            )
            celsius = (value - 32) / 1.8 if fahrenheit else value
            name = bare.groupdict().get("name") or ""
            left = text[: bare.start()] + name
            return celsius, _joined(left, text[bare.end() :], closed=bare.group().endswith(")") and not name)
    return None, text
