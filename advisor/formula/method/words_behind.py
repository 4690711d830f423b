"""The words that stand right behind a number and tell what it is."""

from __future__ import annotations

import re

from advisor.formula.method.work_words import Meaning


def _right_behind(text: str) -> re.Pattern[str]:
    return re.compile(text, re.IGNORECASE | re.VERBOSE)


BEHIND: tuple[tuple[Meaning, frozenset[str], re.Pattern[str]], ...] = (
    (
        "oven",
        frozenset(["bare", "heat"]),
        _right_behind(
            r"""
            \s*non[\s-]?fan\b
            """
        ),
    ),
    (
        "griddle",
        frozenset(["bare", "time"]),
        _right_behind(
            r"""
            \s*(?:,\s*)?(?:a|per|each|on\s+each|on\s+the\s+(?:first|other|second)|every|one|/)\s*-?side|
            \s+on\s+both\s+sides|
            \s*(?:on\s+)?(?:the\s+|its\s+)?(?:first|second|one|other)\s+side|\s+on\s+(?:the\s+)?other\b|\s+the\s+other\b
            """
        ),
    ),
    (
        "mix",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s*(?:on\s+|at\s+|in\s+)?(?:slow|fast|(?<=on\s)(?:lo(?:w)?|med(?:ium)?|hi(?:gh)?)(?!\s+(?:rack|shelf|heat|flame|power|fire)|\w)|(?:first|second|low|high|medium)\s+speed|speed\s*[0-9]|(?:by|in|with)\s+(?:(?:the|a)\s+)?(?:hand\s+)?(?:hand|spiral|mixer|paddle|fork)|of\s+(?:the\s+)?(?:mixing|kneading|stirring|beating|folding|whisking)|(?:1st|2nd)(?!\s+(?:rise|proof|prove|bulk))|(?-i:I{1,2})(?=\s*(?:[,;./]|$)))\b
            """
        ),
    ),
    (
        "cool",
        frozenset(["time"]),
        _right_behind(
            r"""
            [\s,]*(?:at\s+(?:the\s+)?(?:very\s+)?least\s*,?\s*|or\s+more\s+|minimum\s+)?(?:on\s+(?:(?:the|a)\s+)?(?:(?:wire\s+)?rack|wire|grid)\b|(?:before|b4|
            until|till)\s+(?:you\s+|the\s+|it\s+is\s+)?(?:slic|cut|serv|eat|peel|knife|break))
            """
        ),
    ),
    (
        "cool",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s+to\s+(?:cut|slice|cool)
            """
        ),
    ),
    (
        "cool in pan",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s+in\s+(?:the\s+|its\s+|their\s+)?(?:pans?|tins?|dish|mou?lds?)\b|
            \s*(?:or\s+so\s+)?before\s+(?:you\s+)?(?:turn\w*\s+(?:it\s+|them\s+)?out|unmou?ld|tip\w*\s+(?:it\s+|them\s+)?out)|\s+on\s+the\s+(?:pan|tray|sheet)\b
            """
        ),
    ),
    (
        "story",
        frozenset(["bare", "time"]),
        _right_behind(
            r"""
            \s*(?:later|before\s?hand|in\s+advance|ago|old|out\s+of\s+the\s+oven(?!\s+weight)|early|late|off\b|years?|tries|times|apart|shorter|longer(?=\s*(?:if|than|next))|sooner|earlier|ahead|before(?=\s*(?:$|[,.;:)(])|\s+(?:whi[sz]|grind|using|(?:you|i|we)\s+(?:start|mix|grind|bake|want\s+to\s+bake)))|\s(?:mug\s+)?(?:bread|bun|muffin)\b|
            so\s+(?:they|it)\b[^.;]{0,24}\bcold)
            """
        ),
    ),
    (
        "dough wanted",
        frozenset(["bare", "heat"]),
        _right_behind(
            r"""
            \s*(?:target|desired|wanted)\s+dough\b|[ ](?-i:dough)\b(?!\s+(?:rise|proof|temp))
            """
        ),
    ),
    (
        "core",
        frozenset(["bare", "heat"]),
        _right_behind(
            r"""
            \s*(?:internal|inside|core|in\s+the\s+(?:middle|cent(?:re|er))|target|(?:=|is)\s*done|(?:when|as)\s+(?:it\s+was\s+)?pulled)\b
            """
        ),
    ),
    (
        "thickness",
        frozenset(["length"]),
        _right_behind(
            r"""
            \s*(?:thick|thin)
            """
        ),
    ),
    (
        "height",
        frozenset(["length"]),
        _right_behind(
            r"""
            \s*(?:tall|high)
            """
        ),
    ),
    (
        "rest",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s+(?:rest|autolyse|soak|bench|to\s+(?:swell|soak|hydrate|thicken|rest|relax|gel))\b
            """
        ),
    ),
    (
        "proof",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s+(?:\w+\s+)?(?:rise|proof|prove|ferment|bulk|on\s+the\s+counter)
            """
        ),
    ),
    (
        "oven",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s+(?:lid\s+(?:on|off)|with\s+(?:the\s+)?lid)|
            ,?\s*(?:on\s+)?(?:the\s+)?(?:low(?:er|est)?|middle|cent(?:re|er)|bottom|top|upper)\s+(?:rack|shelf|third)\b
            """
        ),
    ),
    (
        "tent",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s*(?:put|lay|place|cover|tent)\s+(?:\w+\s+){0,3}?foil\b
            """
        ),
    ),
    (
        "microwave",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s*(?:more\s+)?in\s+(?:the|a)\s+micro(?:wave)?\b
            """
        ),
    ),
    (
        "steam",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s+(?:over\s+|of\s+)?steam
            """
        ),
    ),
    (
        "piece",
        frozenset(["weight"]),
        _right_behind(
            r"""
            \s*(?:(?:each|apiece)(?!\s+baked)|before\s+(?:the\s+)?(?:oven|bak\w+)|per\s+(?:piece|ball|roll|bun)|pieces|balls|of\s+(?:the\s+)?(?:dough|batter|mix(?:ture)?)\b|(?:per|in(?:to)?|a)\s+(?:the\s+|each\s+|a\s+)?tins?\b)
            """
        ),
    ),
    (
        "weight",
        frozenset(["weight"]),
        _right_behind(
            r"""
            \s*(?:each\s+|apiece\s+)?(?:out\s+of\s+the\s+oven|after\s+(?:the\s+)?bak|baked)|
            \s+(?:large\s+|small\s+)?(?:loaf|boule)\b(?!\s+(?:tin|pan))
            """
        ),
    ),
    (
        "dough",
        frozenset(["bare", "heat"]),
        _right_behind(
            r"""
            \s+(?:on\s+the\s+probe|when\s+i\s+(?:stuck|put|took)|out\s+of\s+(?:the\s+)?mixer)
            """
        ),
    ),
    (
        "room",
        frozenset(["bare", "heat"]),
        _right_behind(
            r"""
            \s+in\s+(?:my|the|our)\s+kitchen
            """
        ),
    ),
    (
        "store",
        frozenset(["time"]),
        _right_behind(
            r"""
            \s+(?:wrapped\s+)?(?:in\s+a\s+(?:tin|jar|bag|box)|in\s+the\s+freezer)
            """
        ),
    ),
)
"""What stands right behind a number and says what it is, whatever came before."""
