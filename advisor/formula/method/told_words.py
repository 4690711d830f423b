"""Words beside a number that tell more of it: with a lid, for the last, wanted or measured, back in the oven."""

from __future__ import annotations

import re

LINK = re.compile(
    r"\b(?:then|reduce|lower|turn|drop|down|another|more|further|flip|again|second|2nd|finish|increase|raise|lid|foil|"
    r"uncover|final|last|after\s+that|and\s+then|follow)\w*",
    re.IGNORECASE,
)
MORE = re.compile(r"\s+(?:more|longer)\b(?!\s*(?:if|than|next))", re.IGNORECASE)
LID_ON = re.compile(
    r"\b(?:lid\s+on|lid(?=\s*[0-9])|with\s+(?:the\s+|a\s+|its\s+)?lid|w/\s*lid|lidded|covered)\b",
    re.IGNORECASE,
)
LID_OFF = re.compile(
    r"\b(?:lid\s+off|without\s+(?:the\s+|a\s+)?lid|uncovered|uncover|remove\s+(?:the\s+)?lid|lid\s+removed|no\s+lid)\b|\bwith\s+it\s+off\b|\bwithout(?=\s*(?:$|[.,;]))",
    re.I,
)
STEAM = re.compile(
    r"(?<!no\s)(?<!without\s)(?<!the\s)(?<!let\s)\b(?:steam(?!\s+(?:out|off|go|escape))|(?:pan|tray|cup)\s+of\s+(?:hot|boiling|ice\w*)?\s*water|ice\s+cubes)\b",
    re.I,
)
FOIL = re.compile(r"\b(?:foil|tent(?:ed)?)\b", re.IGNORECASE)
FAN = re.compile(r"\b(?:fan(?!\s*(?:of|s|\?))|convection)\b", re.IGNORECASE)
NO_FAN = re.compile(r"\b(?:no|without|non)[\s-]+fan\b", re.IGNORECASE)
TOTAL = re.compile(
    r"\s*(?:min\w*\s+)?(?:in\s+)?(?:total\b|all\s+(?:together|up|in)\b|(?<=in\s)all\b)", re.IGNORECASE
)
TARGET = re.compile(
    r"\b(?:should|want|wants|until|till|to|target|aim|spec|get|go|need|needs|looking|for|min(?:imum)?|least|less\s+than|done|"
    r"stop|(?<!at\s)pull|take|if|when|under)\b",
    re.IGNORECASE,
)
MEASURED = re.compile(
    r"\b(?:was|said|read|measured|taken|came|pulled|stopped|took|had|at\s+pull|checked|got|showed|went\s+to|ended)\b",
    re.IGNORECASE,
)
OUGHT_TO_READ = re.compile(
    r"\b(?:should|must|ought\s+to|needs?\s+to|has\s+to)\s+(?:\w+\s+){0,2}?(?:read|show|say)s?\b",
    re.IGNORECASE,
)
OR_OVER = re.compile(
    r"[0-9]\s*(?:°|º)?\s*[cf]?\s*(?:or|and|\+)\s*(?:over|more|above|higher|up)\b", re.IGNORECASE
)
"""A heat that is the least: "core: 97 C or over, log it"."""
READ_OFF = re.compile(
    r"\b(?:exit|at\s+(?:the\s+)?end|off\s+the\s+hook|probed|pulled|stopped|checked|thermometer|poked|today|mine|in\s+the\s+end|afterwards|took|taken|measured|was|came|baked|log(?!\s+it))\b",
    re.IGNORECASE,
)
"""Words of a core that was read; one without them is the one to bake to."""
NEVER = re.compile(
    r"\b(?:never|not(?!\s+(?:less|below|under|before))|won'?t|don'?t|can'?t|no\s+(?:hotter|warmer)\s+than)\b[^.,;]{0,20}$",
    re.IGNORECASE,
)
OR_ELSE = re.compile(r"(?:^|[,;.(]\s*|\s)or\s+(?:[a-z]+\s+){0,6}$", re.IGNORECASE)
WANTED_DOUGH = re.compile(
    r"\b(?:should|want(?:s|ed)?|target|aim(?:ing)?|must|ought|look(?:ing)?\s+for|goes\s+(?:past|over|above))\b[^.;]*$",
    re.IGNORECASE,
)
READ_DOUGH = re.compile(
    r"\b(?:was|is|came|comes|got|gave|read|reads|showed|measured|out|off|probe[ds]?|thermometer|has|had|after|ended|ends|mine|today)\b|[0-9]\.[1-9]",
    re.IGNORECASE,
)
"""Words of a dough whose heat was read; without one an order tells the heat to aim at."""
AT_ROOM = re.compile(r"\bat\s+room\s+temp(?:erature)?\b[^.;]{0,24}$", re.IGNORECASE)
FURTHER = re.compile(r"\b(?:another|a\s+further)\s+(?:about\s+)?$", re.IGNORECASE)
LAST = re.compile(r"\b(?:last|final)\s+(?:about\s+)?$", re.IGNORECASE)
UNTIL = re.compile(
    r"\b(?:until|till|til)\s+(?:they\s+|it\s+|it'?s\s+|they'?re\s+|just\s+|about\s+|has\s+|have\s+|nearly\s+|almost\s+)*"
    r"(?P<what>[^\d.,;:()/]{3,40})",
    re.IGNORECASE,
)
FIRST = re.compile(r"\bfirst\s+(?:about\s+)?$", re.IGNORECASE)
AFTER = re.compile(r"\bafter\s+(?:the\s+first\s+|about\s+)?$", re.IGNORECASE)
TURNED = re.compile(r"\b(?:drop|reduc|lower|turn|down|rais|up\b)\w*\s+(?:\w+\s+){0,4}$", re.IGNORECASE)
"""Words in front of a heat to which the oven is turned, and of the minutes after which it is."""
STEAMS = re.compile(
    r"\bsteam(?:\s+(?:closed|in|on))?\s+(?:for\s+)?(?:the\s+)?(?:first\s+)?(?:about\s+)?$", re.IGNORECASE
)
OF_STEAM = re.compile(r"\s+(?:of\s+)?steam\b", re.IGNORECASE)
AT_A_HEAT = re.compile(r"\s*(?:at|@)\s*(?:about\s+)?[0-9]{3}\s*(?:°|º|deg\w*)?\s*[CF]?", re.IGNORECASE)
FRIDGE = re.compile(
    r"\b(?:(?<!from\sthe\s)fridge(?![\s-]cold)|refrigerat\w+|retard\w*|(?:cooler|chiller|walk-?in)(?=\W{0,3}[0-9]))\b",
    re.IGNORECASE,
)
NIGHT = re.compile(r"\bover\s?night\b", re.IGNORECASE)
ENDS = " ,.;:()"
LASTING = frozenset(["mix", "rest", "proof", "oven", "cool", "boil", "steam"])
"""Works that take a time of their own: "let it rest another 15 min" is a rest, whatever came before."""
NO_DOUGH = re.compile(
    r"\b(?:stripe|streak|layer|band|line|ring|skin|crust|gummy|dense|wet|rubbery)\b", re.IGNORECASE
)
SLICED = re.compile(
    r"\b(?:slic\w+|cut(?!\s+(?:out|in|into|rounds|strips|squares)))\b[^.;]{0,24}$", re.IGNORECASE
)
"""A slice is so thick, and no dough: "slice it 1 cm thick"."""
ACROSS = re.compile(
    r"\s*(?:squares?|circles?|rounds?|discs?|disks?|cutter|wide|across|long|strips?|apart)\b", re.I
)
"""Words behind a length that is not how thick a dough is."""
OF_A_TIN = re.compile(
    r"\b(?:tins?|pans?|rings?|mou?lds?|box)\b[^.;]*[0-9]\s*(?:cm|mm|in\w*)\b[^.;]*$", re.IGNORECASE
)
FLATTENED = re.compile(
    r"\b(?:pat(?:ted)?|roll(?:ed)?|press(?:ed)?|flatten(?:ed)?|cut\s+out|shaped?|mounds?|spoon(?:ed)?|heaps?)\b",
    re.IGNORECASE,
)
NAMES = re.compile(
    r"(?:\b(?:no|nr|run|trial|version|v|p|page|step|week|day|batch|attempt|type|book|handout|year|class|line|lesson)\.?\s*|#)$",
    re.IGNORECASE,
)
COUNTS = re.compile(
    r"\s*(?:times?|folds?|eggs?|people|persons|friends|kids|of\s+(?:you|us)|things|goes|turns|years?|times|x\b|th\b|nd\b|rd\b|st\b|%|"
    r"kcal|calories|carbs?|net)",
    re.IGNORECASE,
)
LEAST_TOLD = 3.0
LONGEST_REST_MIN = 1440.0
MOST_THICK_CM = 5.0
BACK_IN = re.compile(r"\bback\s+in(?:to)?\b|\breturn\s+(?:it\s+|them\s+)?to\s+the\s+oven", re.IGNORECASE)
LEAST_LONG_RISE_MIN = 240.0
BUBBLES = re.compile(r"\b(?:it|they)\s+(?:bubbles?|ferments?|rises?|puffs?)\b", re.IGNORECASE)
RISES = re.compile(
    r"\b(?:until|till|til)\b[^.;]{0,30}\b(?:rim|doubled?|top|puff(?:y|ed)|risen|twice|size|big(?:ger)?)\b|\bairing\s+cupboard\b",
    re.IGNORECASE,
)
LEAST_STORED_MIN = 2880.0
"""Minutes from which a time in the fridge keeps a loaf, where nothing says that the dough rises there."""
LONGEST_MICROWAVE_MIN = 15.0
NOT_BAKED = re.compile(
    r"\b(?:shaped?|round|form(?:ed)?|above|over|under|below|before|at\s+the\s+start|raw|until|till|rim|lip|dough|batter)\b[^.;]*$",
    re.IGNORECASE,
)
"""Words before a height that is the dough's and not the loaf's: "until 1 cm above the rim", "at the start 7.5 cm"."""
OF_A_PIECE = re.compile(
    r"\b(?:weight|scal(?:e[ds]?|ing)|pieces?|pcs?|balls?|rolls?|buns?|bagels?|baps?|portions?|each|divide[ds]?)"
    r"(?:\W|\b(?:at|to|of|about|around|approx|abt|ca|each|weighing|roughly|is|was|were|are|in|into|[0-9]+|x|per|a|the|raw|dough|as)\b)*$",
    re.IGNORECASE,
)
EACH = re.compile(
    r"\s*(?:each|apiece|per|(?:in(?:to)?|a)\s+(?:(?:the|each|a)\s+)?tins?|pieces|balls|before\s+(?:the\s+)?(?:oven|bak\w+)|of\s+(?:the\s+)?(?:dough|batter|mix))\b",
    re.IGNORECASE,
)
IN_A_CUP = re.compile(
    r"\b(?:i\s+)?weighed\s+(?:it|them|mine|that)?\b[^.;]{0,12}$|\bcups?\b[^.;]*$", re.IGNORECASE
)
"""Words in front of the weight of what goes in: "1 cup, I weighed it, 96 g"."""
ONLY_LEFT = re.compile(
    r"(?:leave|left|let|allow|stood|stand\w*|sit\w*|keep|give|aside|set|under|cover|wait)\b", re.IGNORECASE
)
"""A rest by words that say of a dough with yeast that it rises: "leave it an hour", "under a cloth for 40 min"."""
NO_RISE = re.compile(
    r"\b(?:luke\s?warm|cold|cools?|cooled|thick\w*|foam\w*|froth\w*|dissolv\w*|swell|soak\w*|bloom|set|firm\w*)\b",
    re.IGNORECASE,
)
"""Words of what is waited for that is no rise."""
RISING = re.compile(
    r"\b(?:ris(?:e|es|ing|en)|rose|pro(?:of|v)\w*|ferment\w*|bulk|doubl\w*|retard\w*|sour|levain|leaven|poolish|sponge|biga|"
    r"pre-?ferment\w*|starter|puff\w*|bubbl\w*|banneton|basket|bf|[fp]p|pf|final)\b",
    re.IGNORECASE,
)
"""Words that say that a dough rises, whatever is in it."""
LEAST_LEFT_TO_RISE_MIN = 25.0
"""Minutes from which a dough with yeast that is only left rises."""
DOUGH_WITHIN, LEAST_BAKED = 0.04, 0.75
"""Shares of the dough within which a weight is the dough's, and from which it is that of the baked loaf."""
LOAF = re.compile(r"\s+(?:\w+\s+)?(?:loaf|boule)\b", re.IGNORECASE)
BRIEF_MIN = 1.5
"""Minutes up to which nobody does anything to a dough but mix it, where no work is named."""
LONGEST_SECOND_MIX_MIN = 30.0
"""Minutes beyond which a second time behind a kneading is none of it."""
DONE = re.compile(
    r"\b(?:kneaded|mixed|whisked|whipped|shaped|rested|proofed|proved|baked|scaled|divided|came|cooled|sliced|waited|weighed|bulked|"
    r"didn'?t|was|were|took|got|had|stayed|sank|rose|pulled|used|made|left|put|tried|ended|dropped|opened)\b",
    re.IGNORECASE,
)
TO_DO = re.compile(
    r"\b(?:knead|mix|whisk|whip|shape|bake|scale|divide|cool|slice|let|leave|add|stir|cover|preheat|roll|use|"
    r"take|fold|beat|press|should)\b",
    re.IGNORECASE,
)
"""Words of a log of what was done, and of orders of what is to be done."""
OUTCOME = re.compile(
    r"\b(?:trial|attempt|test)[ ]*(?:no\.?|nr\.?|#)?[ ]*[0-9]+\b|\blog\b|"
    r"\bcrumb\s*(?::|(?:was\s+|is\s+)?(?:ok|even|tight|good|dense|open|wet)\b)|"
    r"\bgummy\s+(?:line|layer|stripe)\b",
    re.IGNORECASE,
)
"""Words of a text that tells how a bake came out."""
