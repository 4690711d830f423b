"""The words of a work that stand before a number and tell what it is."""

from __future__ import annotations

import re
from typing import Literal

Meaning = Literal[
    "mix", "rest", "proof", "oven", "preheat", "core", "griddle", "boil", "steam", "microwave", "cool", "cool in pan",
    "store", "tent", "open", "room", "dough", "dough wanted", "water", "thickness", "height", "weight", "piece",
    "altitude", "story",
]  # fmt: skip
"""What a number can be; `story` is told, and belongs to no process ("ten minutes later")."""


def _words(text: str) -> re.Pattern[str]:
    """Compile words, written over several lines; a space between two is written as `\\s+`."""
    return re.compile(rf"\b(?:{text})\b", re.IGNORECASE | re.VERBOSE)


WORKS: tuple[tuple[Meaning, re.Pattern[str]], ...] = (
    (
        "mix",
        _words(
            r"""
            knead(?:ed|ing)?|knd(?=\s*[0-9])|kneed(?:ed|ing)?|mix(?:ed|ing)?|mixer|beat(?:en|ing)?|(?:at\s+|on\s+)?(?:speed|stage)\s*[0-9]|spiral|planetary|first\s+speed|second\s+speed|slow\s+speed|blitz(?:ed)?|whip(?:ped|ping)?|
            whisk(?:ed|ing)?|paddle|dough hook|hook|blend(?:ed)?|stir(?:red|ring)?|pulse|creamed|
            (?:soft|stiff|firm)\s+peaks|
            on\s+(?:low|medium|high|slow|fast)(?!\s+(?:rack|shelf|heat|flame|power|fire))(?:\s+speed)?|medium(?=\s+for\s+[0-9])|
            work(?:ed)?|
            fold(?:ed)?\s+(?:\w+\s+){0,3}?in(?=[,\s])|
            whi(?:z|zz)(?:ed|ing)?|blender|food\s+pro[cs]+es+o?r|gr(?:i|ou)nd(?=\s+(?:the|it|them|all|\w+,|\w+\s+(?:and|with))\b)|mixie|
            squish(?:ed|ing)?|(?:electric\s+)?beaters|hands?\s+mixer|fork(?=\W{0,3}[0-9])
            """
        ),
    ),
    (
        "rest",
        _words(
            r"""
            rest(?:ed|ing|s)?(?!\s+(?:of\b|folded|goes|went|in\s*(?:[.,;]|$)))|stood|ft(?=\s*[0-9])|floor\s+time|leave|(?<!are\s)(?<!is\s)(?<!be\s)left|(?:let|leave|left|allow)\s+(?:\w+\s+){0,3}?(?:stand|sit|set|hydrate|
            thicken|gel|swell|soak)|sit(?:s|ting)?|stand(?:s|ing)?|autoly[sz]e|soak(?:ed|ing)?|
            thicken(?:s|ed)?|swell(?:s|ed)?|firm(?:s|ed)?\s+up|chill(?:ed)?|bench(?:\s+(?:rest|time)|(?=\W{0,3}[0-9]))|hydrate|(?<!that\s)waits?(?!\s+(?:no\b|for\s+(?:it|the)))|foamy|bloom|
            keep\s+(?:it\s+)?(?:covered|aside)|keep(?=\s+(?:it\s+)?(?:for\s+)?(?:about\s+)?[0-9]{1,2}\s*min)|give\s+it(?!\s+(?:another|a\s+further))|under\s+(?:(?:a|an|the)\s+)?(?:\w+\s+)?(?:bowl|cloth|towel|cover)|have\s+a\s+(?:cuppa|coffee|tea)|gel(?=\s+(?:for\s+)?[0-9])|^gel\b|
            in\s+(?:(?!boil|simmer)\w+\s+){0,5}?(?:water|milk|curd|liquids?|buttermilk)(?=(?:\s+and\s+\w+)?(?:\s+w(?:ith|/)\s+\w+)?\W{0,3}(?:for\s+)?(?:about\s+)?[0-9]+(?:\s?[-–]\s?[0-9]+)?\s*(?:min|h\b|hours?\b|['’′]))|floor(?=\W{0,3}[0-9])|
            (?:walk|go)\s+(?:away|and)|forget\s+(?:about\s+)?it|aside|relax(?:es)?|cover(?=\s+(?:it\s+|and\s+leave\s+)?(?:for\s+)?(?:about\s+)?[0-9])|set\s+aside|(?:proof|prove)\s+(?:the\s+|your\s+)?yeast
            """
        ),
    ),
    (
        "proof",
        _words(
            r"""
            ris(?:e|es|ing|en)|(?:keep|leave)\s+(?:it\s+)?warm|somewhere\s+warm|warm\s+(?:place|spot|corner|cupboard)|airing\s+cupboard|rose|(?:proof|prove)(?!\s+(?:the\s+|your\s+)?yeast)(?:d|ed|r)?|proofing|
            proving|(?:rye\s+|wheat\s+)?(?:sour|levain|poolish|sponge|biga|pre-?ferment|leaven)(?=\W{0,4}(?:is\s+)?[0-9])|ferment(?:s|ed|ation|ing)?|ferm(?=\W{0,2}[0-9])|bulk|retard(?:ed)?|(?:bf|fp|pf|final)(?=\s*[0-9])|banneton|basket|doubled?|overnight|c[oa]mes?\s+(?:back\s+)?up(?:\s+again)?(?!\s+to\s+(?:room|temp))|
            (?:leave|leave\s+it|left)\s+out|take\s+(?:it\s+)?out|(?<!from\sthe\s)fridge(?![\s-]cold)|refrigerat(?:e|ed|or)|prover|
            warm\s+up\s+on\s+the\s+counter|2nd|1st|second\s+rise|final\s+proof|(?:cooler|chiller|walk-?in)(?=\W{0,3}[0-9])
            """
        ),
    ),
    (
        "preheat",
        _words(
            r"""
            pre-?heat(?:ed|ing|s)?|heat\s+(?:the\s+|your\s+|a\s+)?(?:dutch\s+|cast\s+iron\s+)?(?:oven|pot|stone|steel|casserole)|oven\s+heats|
            (?:heat|warm)\s+up\s+the\s+oven|(?:stone|steel|pot|dutch\s+oven)\s+heats
            """
        ),
    ),
    (
        "oven",
        _words(
            r"""
            (?:pre|par)-?bak(?:e|ed|ing)|bak(?:e|ed|es|ing(?!\s+(?:powder|soda|sheet|tray|paper|parchment|tin|dish|stone)))|
            oven(?!\s+with)|roast(?:ed)?|cook(?:ed)?|turn(?:ed)?\s+(?:it\s+)?(?:the\s+\w+\s+)?down|
            reduced?|lower(?:ed)?|drop(?:ped)?|(?:take|took|taken)\s+(?:it\s+|them\s+)?out|flip|
            deck(?=\W{0,3}(?:oven\W{0,3})?[0-9])|(?:waffle\s+)?iron\b|air\s*fryer|
            back\s+(?:in(?:to)?|on)\b
            (?!\s+(?:(?:the|its|a)\s+)?(?:\w+\s+)?(?:bowl|basket|banneton|fridge|mixer|counter|bench|table|bag|box)\b)
            (?:\s+(?:the\s+)?(?:oven|rack|tray))?|
            in\s+the\s+oven|stone\s+at|steel\s+at|in\s+at|load(?:ed)?|lid\s+(?:on|off)|broil(?:er)?|grill
            """
        ),
    ),
    (
        "story",
        _words(
            r"""
            (?:turn|switch)(?:ed)?\s+(?:it\s+|the\s+\w+\s+)?off|(?:heat|oven)\s+off|off\s+the\s+heat|
            (?:dough|bread|basic)\s+(?:cycle|program(?:me)?)|rotate[ds]?|every|folds?\s+(?:at|after)|dial|oven\s+thermometer|thermometer\s+(?:hanging|in\s+(?:the|my)\s+oven)|
            (?:oven\s+off|off),?\s+(?:spoon|door|and\s+leave)|warm(?:ed)?\s+(?:it|them)\b
            """
        ),
    ),
    (
        "core",
        _words(
            r"""
            meat\s+(?:one|thermometer|probe)|core|internal(?:ly)?|inside|(?:in\s+the\s+|
            the\s+)?(?:middle|cent(?:re|er)|ctr)(?!\s+(?:of\s+(?:the\s+|your\s+)?oven|shelf|rack|at\b))|thermometer|probe[ds]?|done\s+at
            """
        ),
    ),
    (
        "griddle",
        _words(
            r"""
            pan\s+surface|griddle|tawa|comal|skillet|fry(?:ing)?\s+pan|frying|dry\s+pan|cast\s+iron(?!\s+(?:pot|casserole|dutch|cocotte))|hot\s+pan|plancha|girdle|piastra|padella
            """
        ),
    ),
    (
        "boil",
        _words(
            r"""
            (?<!over\s)(?<!gently\s)(?:boil(?:ed|ing)?(?!\s+water)|(?:in|into|of)\s+boiling)|poach(?:ed)?|(?<!over\s)(?<!gently\s)simmer(?:ed|ing)?
            """
        ),
    ),
    (
        "steam",
        _words(
            r"""
            (?<!stops\s)(?<!stop\s)steam(?:ed|ing|er)?(?!\s+(?:off|itself))|trivet
            """
        ),
    ),
    (
        "microwave",
        _words(
            r"""
            microwave[ds]?|micro|mw|nuked?|zap
            """
        ),
    ),
    (
        "cool in pan",
        _words(
            r"""
            (?:cool|cooled|leave|left|stay|sit|set|rest|stand|hang)s?\s+(?:\w+\s+){0,4}?(?:in|on)\s+(?:the\s+|its\s+|
            their\s+)?(?:tins?|pans?|dish|tray|mou?lds?|form)\b|(?:out\s+of|from)\s+(?:the|its|their)\s+(?:pans?|tins?|cans?|mou?lds?|form)\s+after|
            turn(?:ed)?\s+(?:it\s+|them\s+)?out(?:\s+of\s+(?:the\s+)?(?:tin|pan))?\s+after|(?:un|de)-?mou?ld(?:ed)?\s+after|depan(?:ned)?\s+after
            """
        ),
    ),
    (
        "cool",
        _words(
            r"""
            cool(?:ed|ing|s)?|get\s+cold|cool(?:ed)?\s+under\s+(?:a\s+)?cloth|wrap(?:ped)?\s+(?:\w+\s+){0,2}?in\s+a\s+(?:\w+\s+)?(?:towel|cloth)|on\s+(?:(?:the|a)\s+)?(?:wire\s+)?rack|don'?t\s+touch|sliced?|slicing|cut(?:ting)?|steam\s+off|
            before\s+(?:slicing|cutting)|
            (?<!middle\s)(?<!low\s)(?<!lower\s)(?<!bottom\s)(?<!top\s)(?<!upper\s)(?<!oven\s)(?<!centre\s)(?<!center\s)(?<!bare\s)rack(?=\W{0,3}(?:[0-9]|an?\s+(?:\w+\s+)?hour|half\s+an))
            """
        ),
    ),
    (
        "store",
        _words(
            r"""
            keeps?|store[ds]?|freezes?|frozen|good(?=\s+(?:for\s+)?(?:[0-9]|a\b|in\b|about))|
            stays?\s+(?:fresh|soft|good)|lasts
            """
        ),
    ),
    (
        "tent",
        _words(
            r"""
            tent(?:ed)?|(?<!no\s)(?<!without\s)foil|cover(?:ed)?\s+(?:it\s+)?(?:loosely\s+)?with\s+foil
            """
        ),
    ),
    (
        "open",
        _words(
            r"""
            peek(?:ed|ing)?|open(?:ed)?\s+(?:the\s+)?(?:door|oven)|door\s+open(?:ed)?|looked\s+(?:in|at(?=\s+[0-9]))
            """
        ),
    ),
    (
        "room",
        _words(
            r"""
            (?<!laundry\s)(?<!utility\s)(?<!boiler\s)(?<!bath)room(?:\s+(?:was|is|at|temp(?:erature)?))?|(?:my|the|our)\s+(?:\w+\s+)?kitchen|kitchen
            """
        ),
    ),
    (
        "dough wanted",
        _words(
            r"""
            ddt|(?:look(?:ing)?|aim(?:ing)?)\s+for(?=\s+(?:about\s+)?(?:a\s+)?[0-9]{2}(?:\.[0-9])?\s*(?:°|º|deg\w*)?\s*[CF]?\b)|target(?=\s*,?\s*(?:about\s+)?[0-9]{2}(?:\.[0-9])?\s*°?\s*[CF]?\b(?!\s*(?:core|inside)))|(?:target|aim|wanted)\s+dt|(?:desired|target|wanted|final|aim(?:ed)?\s+for\s+a?)\s+dough(?:\s+temp(?:erature)?)?
            """
        ),
    ),
    (
        "dough",
        _words(
            r"""
            t[dt](?=\s*[0-9])|dt(?=\s*[0-9])|dough(?:\s+temp(?:erature)?)?(?=\s*(?:was|is|at|came|temp|out|,|:|[0-9]|read|measured))|fdt|
            on\s+the\s+probe|
            dough\s+(?:(?!ris|rest|proo|prov|for|in|into|at|is|was|water)[a-z]+\s+){1,5}?(?:at\s+|to\s+|be\s+)*(?:about\s+|around\s+)?(?=[0-9]{2}(?:\.[0-9])?\s*(?:°|º|deg\w*)?\s*[CF]\b)
            """
        ),
    ),
    (
        "water",
        _words(
            r"""
            (?<!over\s)(?<!over\swarm\s)(?<!over\shot\s)(?<!over\sboiling\s)water(?!\s+(?:system|bottle|bath|heater|tray|pan))
            """
        ),
    ),
    (
        "thickness",
        _words(
            r"""
            thick(?:ness)?|thin|flat\s+to|roll(?:ed)?(?:\s+out)?|pat(?:ted)?(?:\s+out)?|flatten(?:ed)?|
            press(?:ed)?|spread|sheet(?:ed)?
            """
        ),
    ),
    (
        "height",
        _words(
            r"""
            height|tall|high|stood|ht?\.?(?=\s*[0-9])|rose\s+to
            """
        ),
    ),
    (
        "weight",
        _words(
            r"""
            (?:out-of-oven|baked|final|finished)\s+weight|weigh(?:ed|s)|w(?:t|eight|eigh)?\.?\s+after(?:\s+bak\w+)?|loaf(?=\s+[0-9])|(?:weight|wt)\.?\s+(?:after|baked|out)|weight\s+of\s+one(?=\s+[0-9])|wt\.?(?=\s+[0-9])|came\s+out(?:\s+at)?(?=\s+(?:about\s+)?[0-9.]+\s*(?:g|kg|lbs?|oz)\b)
            """
        ),
    ),
    (
        "piece",
        _words(
            r"""
            (?:(?:raw|dough)\s+)?weight\s+(?:per|of\s+(?:each|one|a))\s+\w+|
            (?:bun|roll|ball|piece|bagel|bap)\s+weight|
            scal(?:e[ds]?|ing)(?=\W{0,3}(?:\d|at|to))|pieces?|balls?|rolls|buns|portions?|each|dough\s+weight|
            divide[ds]?
            """
        ),
    ),
)
"""Words of a work, and what a number behind them is; of several the last before the number counts."""
