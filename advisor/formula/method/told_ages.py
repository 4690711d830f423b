"""How old a leavening is, by a sentence beside the list: "the powder was opened four years ago"."""

from __future__ import annotations

import re
from dataclasses import replace

from advisor.formula.draft import Draft
from advisor.formula.faults import shown
from advisor.formula.formula import Line
from advisor.formula.lines.ages import DAYS_A_MONTH, months_of
from advisor.formula.lines.sentences import sentences_of

_MANY = (
    r"[0-9]{1,3}(?:\.[0-9])?|an?|a\s+(?:couple|few)(?:\s+of)?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|"
    r"eighteen|several|many|some"
)
_UNIT = r"(?P<unit>day|week|month|mo|year|yr|winter|summer)s?"
_AGED = re.compile(
    rf"(?:(?:open(?:ed)?|bought|stood|sat|from|since|been)\b[^.;!?]{{0,40}}?\b(?P<ago>{_MANY})\s+{_UNIT}\b"
    rf"|\b(?P<past>{_MANY})\s+{_UNIT.replace('unit', 'unit2')}\s+(?:past|after|over|beyond|out\s+of|old|ago|since)\b)",
    re.IGNORECASE,
)
_OLD = re.compile(
    r"\b(?:expired|out\s+of\s+date|past\s+its\s+(?:best|date|use)|best\s+before\s+(?:last|two|years?)|ancient|very\s+old|"
    r"ages\s+old|years\s+old|old\s+(?:jar|tin|packet|sachets?|bag|tub|box)|(?:jar|tin|packet|sachet|bag|tub|box)\s+is\s+old|"
    r"stale|dead|lost\s+its\s+(?:strength|power|fizz)|(?:yeast|powder|soda)\s+(?:is|was)\s+(?:rather\s+|quite\s+|pretty\s+)?old)\b",
    re.IGNORECASE,
)
_SPENT = re.compile(
    r"\b(?:(?:did\s*n[o']?t|didnt|never|not|hardly|barely|no|without)\s+(?:\w+\s+){0,3}?(?:foam|froth|fizz|bubbl)\w*)",
    re.IGNORECASE,
)
_NOT_OLD = re.compile(
    r"\b(?:fresh|brand[\s-]new|new\s+(?:jar|tin|packet|bag|tub)|not\s+(?:so\s+|that\s+|very\s+)?old|in\s+date|last\s+week|"
    r"(?:days?|weeks?)\s+(?:ago|old)|if\s+(?:it|the|your)|unless|replace|check)\b",
    re.IGNORECASE,
)
_LEAVENING = (
    (re.compile(r"\byeasts?\b", re.IGNORECASE), "yeast"),
    (re.compile(r"\b(?:baking\s+|raising\s+)?powder\b|\bBP\b|\braising\s+agent\b", re.IGNORECASE), "powder"),
    (re.compile(r"\bsoda\b|\bbicarb", re.IGNORECASE), "soda"),
)
MINUTES_A_MONTH = DAYS_A_MONTH * 1440
_FEW = re.compile(r"a\s+(?:couple|few)|several|some|many", re.IGNORECASE)
_OLD_MONTHS = 24.0
"""What "old" and "out of date" come to where no months are told; what has lost its foam or fizz is as good as spent."""
_SPENT_MONTHS = 48.0


def take_told_ages(draft: Draft, text: str) -> None:
    """Give leavenings of the list the age that a sentence tells; what its own line says stays."""
    for number, line in enumerate(text.splitlines(), 1):
        meant = ""
        for sentence in sentences_of(line):
            meant = next((name for words, name in _LEAVENING if words.search(sentence)), meant)
            if meant and (found := _months_of(sentence)) is not None:
                _give(draft, number, meant, *found)


def _months_of(sentence: str) -> tuple[float, str] | None:
    """Months, and the words that tell them; `None` where a sentence tells of no age, or of a young one."""
    if found := _SPENT.search(sentence):
        return _SPENT_MONTHS, found.group()
    if _NOT_OLD.search(sentence):
        return None
    if found := _AGED.search(sentence):
        many, unit = found["ago"] or found["past"], found["unit"] or found["unit2"]
        if _FEW.match(many):
            return 3 * months_of("one", unit), found.group()
        return months_of(many, unit), found.group()
    if found := _OLD.search(sentence):
        return _OLD_MONTHS, found.group()
    return None


def _give(draft: Draft, number: int, meant: str, months: float, said: str) -> None:
    for place, line in enumerate(draft.lines):
        if _is_meant(line, meant) and not line.age_months:
            draft.lines[place] = replace(line, age_months=months)
            if number in draft.passed_over:
                draft.passed_over.remove(number)
            if draft.kinds.get(number) != "ingredient":
                draft.kinds[number] = "process"
            named = re.compile(
                rf"line {number}(?: is not read:|: '[^']*(?:month|year|day|week)s?' is not taken)"
            )
            draft.warnings[:] = [said for said in draft.warnings if not named.match(said)]
            draft.assumed.append(
                f"line {number}: '{shown(said.strip())}' is taken as the age of {line.ingredient.name}: "
                f"{months:.0f} months"
            )


def _is_meant(line: Line, meant: str) -> bool:
    if meant == "yeast":
        return line.ingredient.yeast_rate is not None
    soda = bool(line.ingredient.soda_per_100g)
    return soda and (("soda" in line.ingredient.id) == (meant == "soda"))
