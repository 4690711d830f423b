"""The user's own ingredients and prices, put beside the shipped knowledge without touching it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from advisor.knowledge_base.faults import Finding
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.own_entry import OwnFile, OwnIngredient, level
from advisor.knowledge_base.own_file import OwnFileFault, read_own_file
from advisor.knowledge_base.own_making import OWN_SOURCE, Made, is_own, make_ingredient
from advisor.knowledge_base.places import own_ingredients_path
from advisor.knowledge_base.strict_yaml import Document
from advisor.knowledge_base.texts import Source

_SOURCE = Source(
    key=OWN_SOURCE,
    cites="The nutrition panel of a packet, entered by the user of this copy",
    kind="data_set",
    seen="whole",
    note="the user's own figures: checked for mass and energy, and no more",
)


def names_of(ingredients: Iterable[Ingredient]) -> dict[str, Ingredient]:
    """Every id and name, levelled, with the ingredient that has it."""
    found: dict[str, Ingredient] = {}
    for entry in ingredients:
        for name in (entry.id, entry.name, *entry.also):
            found.setdefault(level(name), entry)
    return found


def shipped_only(knowledge: Knowledge) -> Knowledge:
    """The knowledge without own ingredients and prices; the same object where it has none."""
    if not any(is_own(e) or e.price_per_kg is not None for e in knowledge.ingredients.values()):
        return knowledge
    ingredients = {
        name: entry if entry.price_per_kg is None else entry.model_copy(update={"price_per_kg": None})
        for name, entry in knowledge.ingredients.items()
        if not is_own(entry)
    }
    return replace(knowledge, ingredients=ingredients)


def sibling_of(own: OwnIngredient, names: Mapping[str, Ingredient]) -> Ingredient | None:
    """The ingredient that `like` names; `None` where nothing is named.

    Raises:
        ValueError: no such ingredient, with the nearest names.
    """
    if own.like is None:
        return None
    return _named(own.like, names)


def _named(word: str, names: Mapping[str, Ingredient]) -> Ingredient:
    if (found := names.get(level(word))) is not None:
        return found
    near = [names[key].name for key in nearest(level(word), names)]
    hint = f"; near: {', '.join(dict.fromkeys(near))}" if near else ""
    raise ValueError(f"no ingredient is called '{word}'{hint}")


def check_new_names(own: OwnIngredient, taken: Mapping[str, Ingredient]) -> None:
    """Refuse a name that stands already.

    Raises:
        ValueError: naming the name and who has it.
    """
    for name in (own.key, own.name, *own.also):
        if (owner := taken.get(level(name))) is not None:
            if is_own(owner):
                do = "take another name, or give --replace to put the new one in its place"
            else:
                do = "take another name"
            raise ValueError(f"'{name}' is already a name of {owner.name}: {do}")


def with_own_ingredients(knowledge: Knowledge, path: Path | None = None) -> Knowledge:
    """Give the knowledge with the user's own ingredients and prices; the same object where there are none.

    What was merged before is taken out first, so that merging twice is merging once. The knowledge given is
    left as it is.

    Raises:
        OwnFileFault: the user's file is at fault; names file and line.
    """
    place = own_ingredients_path() if path is None else path
    own, document = read_own_file(place)
    return merged(knowledge, own, document, str(place))[0]


def merged(
    knowledge: Knowledge, own: OwnFile, document: Document, shown: str
) -> tuple[Knowledge, Mapping[str, Made]]:
    """Put the entries and prices of one file beside the shipped knowledge; give what was made, by id.

    Raises:
        OwnFileFault: with every entry that cannot be used.
    """
    base = shipped_only(knowledge)
    if not own.ingredients and not own.prices:
        return base, {}
    siblings = names_of(base.ingredients.values())
    taken, made = dict(siblings), dict[str, Made]()
    ingredients, origin = dict(base.ingredients), dict(base.origin)
    faults: list[Finding] = []

    def fault(path: tuple[str | int, ...], message: str) -> None:
        faults.append(Finding(file=shown, line=document.line_of(path), check="own", message=message))

    for index, entry in enumerate(own.ingredients):
        try:
            check_new_names(entry, taken)
            new = make_ingredient(entry, sibling_of(entry, siblings))
            _known_words(new.ingredient, base)
        except ValueError as error:
            fault(("ingredients", index), f"{entry.name}: {error}")
            continue
        key = new.ingredient.id
        made[key], ingredients[key] = new, new.ingredient
        origin["ingredient", key] = (shown, document.line_of(("ingredients", index)))
        taken |= names_of((new.ingredient,))
    for word, price in own.prices.items():
        try:
            key = _named(word, taken).id
        except ValueError as error:
            fault(("prices", word), f"prices: {error}")
            continue
        ingredients[key] = ingredients[key].model_copy(update={"price_per_kg": price})
    if faults:
        raise OwnFileFault(tuple(faults))
    sources = {**base.sources, OWN_SOURCE: _SOURCE}
    return replace(base, ingredients=ingredients, origin=origin, sources=sources), made


def _known_words(entry: Ingredient, knowledge: Knowledge) -> None:
    for what, words, known in (
        ("trait", entry.traits, knowledge.traits),
        ("protein class", entry.protein_classes, knowledge.protein_classes),
    ):
        for word in words:
            if word not in known:
                near = nearest(word, known, 1)
                raise ValueError(f"no {what} '{word}'" + (f"; did you mean '{near[0]}'?" if near else ""))
