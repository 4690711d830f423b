"""Numbers in words turned into digits, as dictated text holds them: "three hundred and fifty", "one eighty"."""

from __future__ import annotations

import re

_ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
}  # fmt: skip
_TEENS = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
_ONE, _TEEN, _TEN = "|".join(_ONES), "|".join(_TEENS), "|".join(_TENS)
_BELOW = rf"(?:(?:{_TEN})(?:[\s-]+(?:{_ONE})\b)?|(?:{_TEEN})|(?:{_ONE}))\b"
_HALF = (
    r"(?:\s+and\s+(?P<part>a\s+half|a\s+quarter|three\s+quarters)\b|\s+point\s+(?P<point>"
    + rf"(?:{_ONE}|zero)(?:\s+(?:{_ONE}|zero))?)\b)?"
)
_PARTS = {"a half": 0.5, "a quarter": 0.25, "three quarters": 0.75}
_WHOLE = re.compile(
    rf"\b(?:(?:(?P<thousand>{_BELOW}|a)\s+thousand\b(?:\s+and)?\s*)?"
    rf"(?:(?P<hundred>(?:{_TEEN}|{_ONE}|a)|[0-9])\s+hundred\b(?:\s+and\s+(?!a\b)(?={_BELOW}))?\s*)?"
    rf"(?P<rest>{_BELOW})?){_HALF}(?![\w])",
    re.IGNORECASE,
)
_BY_HUNDREDS = re.compile(
    rf"\b(?P<hundred>one|two|three|four|five)\s+(?P<rest>(?:{_TEN})(?:[\s-]+(?:{_ONE})\b)?|oh\s+(?:{_ONE}))\b"
    r"(?!\s*-?\s*(?:min|sec|hour))",
    re.IGNORECASE,
)
"""An oven's heat as it is spoken: "one eighty", "three fifty", "two oh five"."""
_THE_ONE = re.compile(r"\bthe\s+[a-z]+\s+$", re.IGNORECASE)
_HOUR_AND = re.compile(
    r"\b(?P<hour>(?:an|one|[0-9]+)\s+(?:and\s+a\s+half\s+)?hours?)\s+(?:and\s+)?"
    rf"(?P<more>(?:{_TEN})(?:[\s-]+(?:{_ONE})\b)?|{_TEEN}|five|[1-5]?[05])\b(?!\s*-?\s*(?:min|sec|hour|at\b\s*$|[%°.,]?[0-9]|g\b|c\b|f\b|deg))",
    re.IGNORECASE,
)
_SMALL = re.compile(
    rf"\b(?P<n>{_ONE})(?=\s+(?:g|grams?|kilos?|kg|ml|mils?|ounces?|oz|pounds?|lbs?|percent)\b)", re.IGNORECASE
)
_UPS, _DOWNS = {"one": 1, "two": 2, "three": 3}, {"hal": 2, "thi": 3, "fou": 4, "qua": 4, "eig": 8}
_FRACTION = re.compile(
    r"\b(?P<up>one|two|three)[\s-]+(?P<down>half|thirds?|fourths?|quarters?|eighths?)"
    r"(?:\s+of\s+an?)?(?=\s+(?:cups?|tsp|tbsp|tea|table|dessert|spoon|pound|lb|pint|glass|katori|oz|ounce)\w*)",
    re.IGNORECASE,
)
"""A fraction in words in front of a measure: "three fourth teaspoon"."""
_UNIT_AND = re.compile(
    rf"\b(?P<n>an?|{_ONE}|[0-9]+)\s+(?P<unit>cup|teaspoon|tablespoon|tsp|tbsp|pound|ounce|pint|kilo|inch|spoon)(?:e?s)?\s+and\s+"
    r"(?P<part>a\s+half|a\s+quarter|three\s+quarters)\b(?!\s+(?:cup|tea|table|pint|pound|ounce))",
    re.IGNORECASE,
)
"""A fraction behind its unit: "a cup and three quarters"."""
_TWICE = re.compile(r"(?<![\w.])(?P<n>[12][0-9]{2})\s?/\s?(?P=n)(?![\w.])")
_TAKEN_BACK = re.compile(r"\b(?:no|mean|that)\b", re.IGNORECASE)
_BY_SMALL = re.compile(rf"\b(?P<a>{_ONE})\s+by\s+(?P<b>{_ONE})\b", re.IGNORECASE)
_LIST_OF = re.compile(
    r"(?<![\w.])(?P<a>[0-9]{1,2})(?P<plus>\s*(?:\+|&|plus)\s*)(?P<b>[0-9]{1,2})(?P<unit>\s*(?:min(?:ute)?s?|hours?|h|secs?)\b)",
    re.IGNORECASE,
)
"""Two times that share a unit: "4 + 3 min"."""
_AND_HIGH = re.compile(
    r"(?P<sides>[0-9.]+\s*[x×]\s*[0-9.]+)\s*cm\s*,?\s*(?:and\s+)?(?:height|depth|deep|high)\s+(?P<high>[0-9.]*[0-9])\s*cm\b",
    re.IGNORECASE,
)
"""A tin whose height stands apart: "25 x 11 cm, height 10 cm"."""
_BY_THE_CLOCK = re.compile(
    r"(?<![\w:.])(?P<h1>[0-2]?[0-9]):(?P<m1>[0-5][0-9])(?:\s+(?P<what>[a-z]+)\s+(?:starts?|started|begin|began|on)\W+|"
    r"\s*(?:-+>?|–|→|to|till|until)\s*)(?P<h2>[0-2]?[0-9]):(?P<m2>[0-5][0-9])(?![\w:])(?:\s+(?:stop(?:ped)?|end(?:ed)?|done|off)\b)?"
    r"(?P<then>\s+)?",
    re.IGNORECASE,
)
"""A time told by the clock: "10:30 - 11:35 proof", "10:05 mix start, 10:14 stop"."""
_OTHER_DEGREES = re.compile(r"(?<=[0-9])\s*(?:graden|grader|grados?|gradi|grades|Grad)\b", re.IGNORECASE)
_WITH = re.compile(r"\bw[/.]\s*(?=[a-z])", re.IGNORECASE)
_UP_TO_AN_HOUR = re.compile(
    r"(?<![\w.])(?P<n>[1-5][0-9])\s*min\w*\s*(?:to|or|[-–])\s*(?:1|one|an)\s*h(?:ou)?r\b", re.IGNORECASE
)
_OR_TWO = re.compile(r"\b(?:a|one|1)\s+(?P<unit>min|minute|hour)\s+or\s+two\b", re.IGNORECASE)
"""Ranges whose ends have a unit each, or one between them: "50 mins to 1 hour", "a minute or two"."""
_HEAT_AND_MIN = re.compile(
    r"(?P<lead>\b(?:oven|bake[ds]?|then|,)\s*:?\s*)(?P<heat>[1-5][0-9]{2})\s?/\s?(?P<min>[0-9]{1,2})"
    r"(?![\w/°º%]|\.[0-9]|\s*(?:min|h\b|°|º|[cf]\b|fan|gas|deg))",
    re.IGNORECASE,
)
"""A heat and its minutes as bakers note them: "oven 210/10 then 185/22"."""
_MIXED = re.compile(
    r"(?P<lead>\b(?:mix|mixed|knead|kneaded)\s*:?\s*)(?P<a>[0-9]{1,2})\s*\+\s*(?P<b>[0-9]{1,2})(?=\s*(?:[.,;/]|$))",
    re.IGNORECASE,
)
_SPEEDS = re.compile(
    r"(?<![\w.])(?P<a>[0-9]{1,2})(?:\s*min(?:ute)?s?)?\s+(?:(?:on|at)\s+)?(?P<slow>slow|low|first\s+speed)"
    r"(?P<then>\s*[,;/+&]?\s*(?:(?:and|then)\s+)?)"
    r"(?P<b>[0-9]{1,2})(?:\s*min(?:ute)?s?)?\s+(?:(?:on|at)\s+)?(?P<fast>fast|medium|high|second\s+speed)\b",
    re.IGNORECASE,
)
"""Minutes at two speeds of a mixer, with the unit once or never: "3 min slow 6 fast"."""
_NUMBER_AGAIN = re.compile(
    rf"(?<![\w.])(?:[0-9][0-9.]*|\b(?:{_ONE})\b)(?P<behind>(?P<unit>\s*(?:[a-z]{{1,12}}\b|°\s?[CF]\b))?(?:\s+(?:of\s+)?(?:[a-z]+\s+){{0,2}}?[a-z]+)??)"
    r"[\s,.–—-]+(?:(?:um|uh|er|oh|sorry|wait)[\s,]+)*(?:no|make\s+that|i\s+mean|scratch\s+that)[\s,]+"
    r"(?:(?:no|wait|sorry|make|that|it|was|is|it's|were|i|mean)[\s,]+)*"
    rf"(?P<right>[0-9][0-9.]*|(?!one){_ONE})(?![\w.%])(?P<again>\s*(?:[a-z]{{1,12}}\b|°\s?[CF]\b))?",
    re.IGNORECASE,
)
"""A number that is taken back at once: "220 grams of warm water no 230", "9 minutes um no it was 10 minutes"."""
_HINT = re.compile(
    rf"\b(?:{_TEN}|{_TEEN}|hundred|thousand|point|grams?|ounces?)\b|\band\s+(?:a|three)\s+(?:half|quarters?)\b|\bhours?\s+(?:and\s+)?[0-9a-z]",
    re.IGNORECASE,
)


def with_digits(text: str) -> str:
    """Give a text in which numbers of more than one word, and single ones from ten up, stand in digits.

    Small ones that stand alone ("two", "a", "half a") stay words: they are read where a unit follows them.
    """
    if "/" in text:
        text = _TWICE.sub(r"\g<n>", text)  # "deck 200/200": top and bottom heat
    if " by " in text:
        text = _BY_SMALL.sub(lambda m: f"{_ONES[m['a'].lower()]} by {_ONES[m['b'].lower()]}", text)
    if "w/" in text or "w." in text:
        text = _WITH.sub("with ", text)
    if "min" in text or " or two" in text:
        text = _OR_TWO.sub(r"1 to 2 \g<unit>s", _UP_TO_AN_HOUR.sub(r"\g<n> to 60 min", text))
    if "/" in text:
        text = _HEAT_AND_MIN.sub(r"\g<lead>\g<heat> for \g<min> min", text)
    if "cm" in text:
        text = _AND_HIGH.sub(r"\g<sides> x \g<high> cm", text)
    if "rad" in text:
        text = _OTHER_DEGREES.sub(" degrees", text)
    if ":" in text:
        text = _BY_THE_CLOCK.sub(_minutes_between, text)
    if "+" in text:
        text = _MIXED.sub(r"\g<lead>\g<a> min + \g<b> min", text)
    if "low" in text:
        text = _SPEEDS.sub(r"\g<a> min on \g<slow>\g<then>\g<b> min on \g<fast>", text)
    if _LIST_OF.search(text):
        text = _LIST_OF.sub(r"\g<a>\g<unit>\g<plus>\g<b>\g<unit>", text)
    if "th" in text or "quarter" in text or "half" in text:
        text = _FRACTION.sub(lambda m: f"{_UPS[m['up'].lower()]}/{_DOWNS[m['down'].lower()[:3]]}", text)
    if " and " in text:
        text = _UNIT_AND.sub(_unit_and, text)
    if _HINT.search(text):
        text = _in_digits(text)
    return _NUMBER_AGAIN.sub(_put_right, text) if _TAKEN_BACK.search(text) else text


def _put_right(found: re.Match[str]) -> str:
    """Give the number that counts, with the unit and the name of the one that it takes back."""
    unit, again = (found["unit"] or "").strip(), (found["again"] or "").strip()
    rest = found.string[found.end() :].split()
    named_again = rest[:1] == found["behind"].split()[-1:]
    if again.lower().rstrip("s") == unit.lower().rstrip("s") and not named_again:
        return f"{found['right']}{found['behind']}"
    behind = "" if named_again else found["behind"]
    return f"{found['right']}{behind}{found['again'] or ''}"


def _in_digits(text: str) -> str:
    text = _BY_HUNDREDS.sub(_by_hundreds, text)
    text = _SMALL.sub(lambda m: str(_ONES[m["n"].lower()]), _WHOLE.sub(_digits, text))
    return _HOUR_AND.sub(lambda m: f"{m['hour']} {_minutes(m['more'])} min", text)


def _by_hundreds(found: re.Match[str]) -> str:
    if _THE_ONE.search(found.string[: found.start()]):
        return found.group()  # "that's the blanched one, fifty grams oat fibre"
    return str(100 * _ONES[found["hundred"].lower()] + _below(found["rest"].lower().removeprefix("oh ")))


def _minutes_between(found: re.Match[str]) -> str:
    """Give "10:30 -> 11:35 proof" as "65 min proof", over midnight too."""
    between = 60 * (int(found["h2"]) - int(found["h1"])) + int(found["m2"]) - int(found["m1"])
    return f"{found['what'] or ''} {between % 1440} min{found['then'] or ''}".lstrip()


def _unit_and(found: re.Match[str]) -> str:
    count = found["n"].lower()
    number = 1 if count in ("a", "an") else int(count) if count.isdigit() else _ONES[count]
    return f"{number + _PARTS[' '.join(found['part'].lower().split())]:g} {found['unit']}"


def _minutes(words: str) -> int:
    return int(words) if words.isdigit() else _below(words.lower())


def _below(words: str) -> int:
    return sum({**_ONES, **_TEENS, **_TENS}[word] for word in re.split(r"[\s-]+", words.strip()))


def _digits(found: re.Match[str]) -> str:
    thousand, hundred, rest = (found[k].lower() if found[k] else "" for k in ("thousand", "hundred", "rest"))
    small = not (thousand or hundred) and rest in _ONES
    if not (thousand or hundred or rest) or (small and not found["point"] and not found["part"]):
        return found.group()
    value = 0.0
    if thousand:
        value += 1000 * (1 if thousand == "a" else _below(thousand))
    if hundred:
        value += 100 * (1 if hundred == "a" else int(hundred) if hundred.isdigit() else _below(hundred))
    value += _below(rest) if rest else 0
    if found["part"]:
        value += _PARTS[" ".join(found["part"].lower().split())]
    if found["point"]:
        digits = [str({"zero": 0, **_ONES}[word]) for word in found["point"].lower().split()]
        value += float("0." + "".join(digits))
    space = " " if found.group()[-1:].isspace() else ""
    return f"{value:g}{space}"
