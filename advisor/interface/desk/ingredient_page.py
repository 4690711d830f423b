"""All that is known of an ingredient on one page, each figure with its range, grade and source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.explanation.blocks import Block, Heading, Item, Paragraph, Table
from advisor.explanation.wording import sentence
from advisor.knowledge_base.all_entries import sources_behind
from advisor.knowledge_base.entry import Figure, Graded
from advisor.knowledge_base.ingredient import Composition, Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_making import is_own

_PARTS = (
    ("water", "water"), ("protein", "protein"), ("fat", "fat"), ("carbohydrate", "carbohydrate"),
    ("fibre", "of it fibre"), ("sugars", "of it sugars"), ("starch", "of it starch"),
    ("polyols", "of it polyols"), ("erythritol", "of it erythritol"), ("allulose", "of it allulose"),
    ("ash", "ash"), ("organic_acid", "organic acid"), ("alcohol", "alcohol"),
)  # fmt: skip
_ALWAYS = frozenset({"water", "protein", "fat", "carbohydrate"})
_BEHAVIOUR = (
    ("gives_water", "share of its water that it gives up"),
    ("dough_uptake", "g of water a gram takes up in dough"),
    ("holds_when_baked", "g of water a gram holds when baked"),
    ("starch_holding", "g of water a gram of its starch takes when it gelatinises"),
    ("gum_equivalent", "g of psyllium that a gram stands for as a gum"),
    ("fermentable_sugars", "g of sugar for yeast in 100 g"),
    ("soda_per_100g", "g of soda in 100 g"),
    ("yeast_rate", "times the gas of instant yeast, gram for gram"),
    ("enzyme_u_per_g", "units of enzyme a gram"),
)


def grade_of(graded: Graded, *, own: bool) -> str:
    """How well something is known, with its sources; what a user's packet says is the user's own."""
    sources = [s for s in graded.sources if s != "own-packet"]
    grade = "your own" if own and "own-packet" in graded.sources else graded.grade
    return ", ".join((grade, *sources))


def ingredient_page(entry: Ingredient, knowledge: Knowledge) -> Iterator[Block]:
    """Give an ingredient as blocks."""
    yield Heading(text=entry.name)
    whose = "your own ingredient" if is_own(entry) else entry.family.replace("_", " ")
    yield _says(f"{whose}; id {entry.id}; {', '.join(r.replace('_', ' ') for r in entry.roles)}")
    fields = [("allergens", ", ".join(entry.allergens) or "none of those that are tracked")]
    if entry.also:
        fields.insert(0, ("also", ", ".join(entry.also)))
    if entry.dry_base:
        fields.append(("counted in", "the dry base, of which percentages are taken"))
    if entry.price_per_kg is not None:
        fields.append(("price", f"{entry.price_per_kg:g} a kilogram, your own"))
    yield _pairs(entry.name, fields)
    yield from _composition(entry)
    if behaviour := list(_behaviour(entry, knowledge)):
        yield Heading(text="in the dough")
        yield _pairs("What it does in the dough", behaviour)
    yield from _proteins(entry, knowledge)
    if entry.traits:
        yield Heading(text="traits")
    for trait in entry.traits:
        yield Item(label=f"{trait.replace('_', ' ')}:", runs=sentence(knowledge.traits[trait].says))
    if entry.weights:
        yield Heading(text="household weights")
        yield _pairs("Household weights", _weights(entry))
    yield Heading(text="sources")
    for key in sources_behind(entry, knowledge):
        yield Item(label=f"{key}:", runs=(knowledge.sources[key].cites,))


def _says(text: str) -> Paragraph:
    return Paragraph(runs=sentence(text))


def _pairs(caption: str, pairs: Iterable[tuple[str, str]]) -> Table:
    rows = tuple((sentence(left), sentence(right)) for left, right in pairs)
    return Table(caption=caption, head=("", ""), rows=rows)


def _amount(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _composition(entry: Ingredient) -> Iterator[Block]:
    c = entry.per_100g
    fibre = "fibre included" if c.basis == "by_difference" else "fibre not included"
    rows = [
        (label, f"{value:.2f} g", fibre if key == "carbohydrate" else "")
        for key, label in _PARTS
        if (value := getattr(c, key)) or key in _ALWAYS
    ]
    rows.append(("sodium", f"{c.sodium_mg:.0f} mg", ""))
    if c.energy_kcal is not None:
        rows.append(("energy", f"{c.energy_kcal:.0f} kcal", ""))
    yield Heading(text="in 100 g")
    cells = tuple(tuple((cell,) for cell in row) for row in rows)
    yield Table(caption="In 100 g", head=("", "", ""), rows=cells, figures=frozenset({1}))
    note = f"; {c.note}" if c.note else ""
    yield _says(f"Adds up to {c.closure:.1f} g; {_record(c, own=is_own(entry))}{note}")


def _record(c: Composition, *, own: bool) -> str:
    if own:
        return f"your own, {c.record}"
    return f"{c.data_set}, record {c.record}, {c.grade}"


def _span(figure: Figure) -> str:
    return f" ({_amount(figure.range[0])} to {_amount(figure.range[1])})" if figure.range else ""


def _figure(figure: Figure, does: str, *, own: bool) -> tuple[str, str]:
    note = f"; {figure.note}" if figure.note else ""
    return _amount(figure.value) + _span(figure), f"{does} [{grade_of(figure, own=own)}]{note}"


def _behaviour(entry: Ingredient, knowledge: Knowledge) -> Iterator[tuple[str, str]]:
    own = is_own(entry)
    for key, label in _BEHAVIOUR:
        if (figure := getattr(entry, key)) is not None:
            yield _figure(figure, label, own=own)
    for acid, figure in entry.acids_per_100g.items():
        named = knowledge.acids[acid]
        share = f"{named.neutralising_value.value:g} % of its weight in soda"
        yield _figure(figure, f"g of {named.name} in 100 g, which neutralises {share}", own=own)
    if entry.solids_like:
        powder = knowledge.ingredients[entry.solids_like]
        yield "its solids", f"behave like {powder.name}, gram of solids for gram"


def _proteins(entry: Ingredient, knowledge: Knowledge) -> Iterator[Block]:
    if entry.protein_classes:
        yield Heading(text="its protein")
    for name, share in entry.protein_classes.items():
        kind = knowledge.protein_classes[name]
        facts = []
        if kind.sets_c:
            facts.append(f"sets from {{{kind.sets_c[0]:.0f} to {kind.sets_c[1]:.0f} C}}")
        facts.append(f"{100 * kind.sets_share:.0f} % of it sets")
        facts.append(
            f"holds {_amount(kind.holds_when_set.value)} g of water a gram{_span(kind.holds_when_set)}"
        )
        facts.append(f"{100 * kind.crosslinks_share:.0f} % open to a crosslinking enzyme")
        under = _says(f"{'; '.join(facts)} [{grade_of(kind, own=False)}]")
        says = sentence(f"{kind.name}. {kind.says}")
        yield Item(label=f"{100 * share:.0f} %", runs=says, under=(under,))


def _weights(entry: Ingredient) -> Iterator[tuple[str, str]]:
    for name, weight in entry.weights.items():
        note = f"; {weight.note}" if weight.note else ""
        said = f"{_amount(weight.grams)} g [{grade_of(weight, own=is_own(entry))}]{note}"
        yield name.replace("_", " "), said
