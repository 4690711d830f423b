"""What is not to be used, or is on hand, as people name it: allergens by everyday words, ingredients by any name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.formula.spelling import words_of
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest

_EVERYDAY = {
    "dairy": "milk", "lactose": "milk", "casein": "milk", "tree nuts": "nuts", "nut": "nuts", "soya": "soy",
    "sulphites": "sulphite", "sulfites": "sulphite", "sulfite": "sulphite", "coeliac": "gluten", "celiac": "gluten",
}  # fmt: skip
"""Everyday words for allergens; who names lactose or casein is given no milk at all, to be safe."""
_QUOTED = 40


def avoided_in(texts: Iterable[str], knowledge: Knowledge) -> frozenset[str]:
    """Ids of allergens and ingredients in some texts, each one name or several with commas between.

    Raises:
        InputFault: a name that is neither.
    """
    allergens = sorted({a for i in knowledge.ingredients.values() for a in i.allergens})
    by_words = {words_of(word): found for word, found in _EVERYDAY.items()}
    by_words |= {words_of(name): name for name in allergens}
    out: set[str] = set()
    for text in _parts(texts):
        words = words_of(text.replace("_", " ").removeprefix("no ").removesuffix("-free"))
        found = by_words.get(words) or _ingredient(words, text, knowledge)
        if found is None:
            near = nearest(text.lower().replace(" ", "_"), [*allergens, *knowledge.ingredients], least=40)
            hint = f"did you mean {' or '.join(near)}?" if near else f"allergens: {', '.join(allergens)}"
            raise InputFault(f"advisor: no allergen or ingredient '{text[:_QUOTED]}'; {hint}")
        out.add(found)
    return frozenset(out)


def ingredients_in(texts: Iterable[str], knowledge: Knowledge) -> frozenset[str]:
    """Ids of ingredients in some texts, each one name or several with commas between.

    Raises:
        InputFault: a name that is none.
    """
    out: set[str] = set()
    for text in _parts(texts):
        if (found := _ingredient(words_of(text.replace("_", " ")), text, knowledge)) is None:
            near = nearest(text.lower().replace(" ", "_"), list(knowledge.ingredients), least=40)
            hint = f"did you mean {' or '.join(near)}?" if near else "advisor ingredients lists them"
            raise InputFault(f"advisor: no ingredient '{text[:_QUOTED]}'; {hint}")
        out.add(found)
    return frozenset(out)


def _parts(texts: Iterable[str]) -> Iterator[str]:
    return (part.strip() for one in texts for part in one.split(",") if part.strip())


def _ingredient(words: object, text: str, knowledge: Knowledge) -> str | None:
    name = text.lower().replace(" ", "_").replace("-", "_")
    if name in knowledge.ingredients:
        return name
    for one in knowledge.ingredients.values():
        if any(words_of(called) == words for called in (one.name, *one.also)):
            return one.id
    return None
