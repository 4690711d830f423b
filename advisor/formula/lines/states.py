"""Words for the state of an ingredient ("melted", "finely ground", "from a bag"), and the traits they set."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.formula.spelling import words_of
from advisor.knowledge_base.ingredient import Ingredient

SIZES = {
    ("extra", "large"): "extra_large",
    ("xl",): "extra_large",
    ("jumbo",): "jumbo",
    ("large",): "large",
    ("medium",): "medium",
    ("small",): "small",
}
UNTOLD_TEMPERATURE = frozenset(
    {("warm",), ("lukewarm",), ("tepid",), ("cold",), ("ice", "cold"), ("chilled",), ("hot",)}
)

_TRAITS: dict[str, tuple[str, ...]] = {
    "coated": (
        "pre-shredded", "preshredded", "pre-grated", "pregrated", "from a bag", "from the bag",
        "from a packet", "grated from a bag", "shredded from a bag", "bagged", "ready-grated",
        "bought grated", "bought shredded", "from a tub", "from the tub", "from a shaker",
    ),
    "coarse": (
        "coarse", "coarsely", "coarsely ground", "coarsely milled", "coarse ground", "roughly ground",
        "crushed",
        "roughly crushed", "coarsely crushed", "roughly chopped", "coarsely chopped", "unground",
        "left whole",
    ),
    "melted": ("melted", "melted and cooled", "browned"),
    "hot_liquid": ("boiling", "boiling hot", "hot", "just boiled", "scalded", "simmering", "from the kettle"),
}  # fmt: skip
_NO_TRAIT = (
    "if coarse", "sieved if coarse", "if at all coarse", "not coarse", "not too coarse", "nothing coarse",
    "well stirred", "stirred", "stirred well", "well shaken", "shaken", "shaken well", "well mixed",
    "full cream", "inst", "spare", "ripe", "tasty", "vintage", "salted", "thick", "lively", "bubbly",
    "liquid", "pliable", "warmish", "softish", "heaped up",
    "softened", "soft", "very soft", "at room temperature", "room temperature",
    "room temp", "at room temp", "cold", "ice cold", "chilled",
    "cool", "cooled", "warm", "lukewarm", "tepid", "grated", "shredded", "finely grated", "coarsely grated",
    "coarsely shredded", "freshly grated", "hand grated", "grated from the block", "grated from a block",
    "shredded from the block", "shredded from a block", "from the block", "from a block", "block", "ground",
    "freshly ground", "finely", "fine", "finely ground", "very finely ground", "finely milled", "milled",
    "ground fine", "ground finely", "ground to a powder", "superfine", "super fine", "extra fine", "sifted",
    "packed", "lightly packed", "level", "beaten", "lightly beaten", "well beaten", "whisked", "separated",
    "lightly whisked", "organic", "free-range", "chopped", "finely chopped", "cubed", "diced", "sliced",
    "crumbled", "divided", "extra virgin", "virgin", "cold pressed", "unflavoured", "neutral", "good quality",
    "fresh", "freshly", "freshly squeezed", "freshly milled", "good", "quality", "best quality", "high quality", "best",
    "unbleached", "natural", "pure", "real", "plain", "regular", "ordinary", "normal", "usual", "standard", "homemade",
    "home made", "shop bought", "store bought", "local", "your favourite", "your favorite", "favourite", "my", "your",
    "any", "own brand", "supermarket", "approx", "approximately", "roughly", "about", "or so", "ish", "extra", "heaped",
    "rounded", "scant", "frozen", "thawed", "defrosted", "drained", "rinsed", "washed", "peeled",
    "mashed", "minced", "pitted", "stoned", "pasteurised", "undiluted", "non gmo", "gmo free", "grass fed", "grassfed",
    "pastured", "barn", "tinned", "canned", "jarred", "squeezed", "whizzed", "blitzed", "blended",
    "crumbled up", "cut up",
    "in pieces", "in cubes", "in chunks", "halved", "quartered", "torn", "thinly sliced", "warmed", "gently warmed",
    "warmed up", "blood warm", "hand warm", "hand hot", "from tap", "from the tap", "from the fridge", "fridge cold",
    "from the freezer", "unsweetened", "lightly salted", "heaping", "loose", "loosely packed", "firmly packed",
    "strained", "well drained", "squeezed dry", "squeezed out", "for the dough", "sieved", "unsifted",
    "each", "total", "in total", "extra large", "xl", "jumbo", "large", "medium", "small", "size", "sized",
    "of", "the", "golden", "gold", "old fashioned", "oldfashioned", "sharp", "mild", "mature", "extra mature", "aged",
    "dark", "clear", "thin", "stiff", "firm", "young", "hard", "rendered", "leftover", "remaining", "further",
    "additional", "vanilla", "instantised", "agglomerated", "spray dried", "half cured", "cured",
    "slightly beaten",
    "black", "raw", "shelled", "hulled", "toasted", "lightly toasted", "roasted", "unsalted", "dried and ground",
)  # fmt: skip
_DESCRIBES = (
    "white", "red", "green", "yellow", "purple", "large flake", "small flake", "flaky", "sparkling", "mineral", "runny",
    "uncooked", "light", "lite", "low fat", "reduced fat", "full fat", "lactose free",
    "gluten free", "gf", "certified gluten free",
)  # fmt: skip
"""Words that are part of many names and are taken off only where nothing else fits: an egg white is no egg."""
_ONLY_FOR: dict[str, frozenset[str]] = {
    "coated": frozenset({"cheese"}),
    "melted": frozenset({"fat", "cheese"}),
    "hot_liquid": frozenset({"water", "liquid", "fat"}),
    "coarse": frozenset({"meal", "flour", "fibre", "filler", "gluten", "setting_protein", "casein", "gum"}),
}
WORD_FOR_TRAIT = {"coated": "from a bag", "coarse": "coarse", "melted": "melted", "hot_liquid": "boiling"}
"""How a trait is written, so that it reads back as the same trait."""

_DESCRIBING = frozenset(words_of(p) for p in _DESCRIBES)
_PHRASES: dict[tuple[str, ...], str | None] = {words_of(p): None for p in (*_NO_TRAIT, *_DESCRIBES)}
_PHRASES.update({words_of(p): trait for trait, phrases in _TRAITS.items() for p in phrases})
_LONGEST = max(len(p) for p in _PHRASES)
_FIRST_WORDS = frozenset(p[0] for p in _PHRASES)

_WITHOUT_GLUTEN = frozenset({("gluten", "free"), ("gf",), ("certified", "gluten", "free")})

Span = tuple[int, int]


def state_spans(words: tuple[str, ...]) -> tuple[Span, ...]:
    """Find the phrases that name a state, longest first at each place, none overlapping."""
    spans: list[Span] = []
    at = 0
    while at < len(words):
        if words[at] in _FIRST_WORDS:
            for length in range(min(_LONGEST, len(words) - at), 0, -1):
                if words[at : at + length] in _PHRASES:
                    spans.append((at, at + length))
                    at += length - 1
                    break
        at += 1
    return tuple(spans)


def denies(words: tuple[str, ...], ingredient: Ingredient) -> bool:
    """Tell whether the words of a name say that it cannot be the ingredient: what is free of gluten is no wheat."""
    if "wheat" not in ingredient.allergens or "liquid" in ingredient.roles:
        return False  # a starter is of any flour
    return any(words[a:b] in _WITHOUT_GLUTEN for a, b in state_spans(words))


def plain_spans(words: tuple[str, ...]) -> tuple[Span, ...]:
    """Find the phrases that name a state and are never part of a name's own meaning, as white is of an egg white."""
    return tuple((a, b) for a, b in state_spans(words) if words[a:b] not in _DESCRIBING)


def only_states(words: tuple[str, ...]) -> bool:
    """Tell whether words say nothing but a state."""
    return sum(stop - start for start, stop in state_spans(words)) == len(words)


def traits_of(phrases: tuple[tuple[str, ...], ...], ingredient: Ingredient) -> tuple[str, ...]:
    """Give the traits that states set on this ingredient; melted water, coarse salt or chopped onion set none."""
    roles = set(ingredient.roles)
    # Coarse is a meal that does not drink; crushed tomatoes, chopped olives and bacon lie in the dough as they are.
    if not ingredient.dry_base:
        roles.discard("filler")
    found: Iterator[str | None] = (_PHRASES.get(p) for p in phrases)
    return tuple(dict.fromkeys(t for t in found if t is not None and _ONLY_FOR[t] & roles))


def size_in(phrases: tuple[tuple[str, ...], ...]) -> str | None:
    """Give the size that states name, such as ``extra_large``."""
    return next((SIZES[p] for p in phrases if p in SIZES), None)
