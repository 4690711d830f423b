"""All that is known of an ingredient on one page, each figure with its range, grade and source."""

from __future__ import annotations

from advisor.knowledge_base.all_entries import sources_behind
from advisor.knowledge_base.entry import Figure, Graded
from advisor.knowledge_base.ingredient import Composition, Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_making import is_own
from advisor.rendering.text import Page

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
_LABEL = 14


def grade_of(graded: Graded, *, own: bool) -> str:
    """How well something is known, with its sources; what a user's packet says is the user's own."""
    sources = [s for s in graded.sources if s != "own-packet"]
    grade = "your own" if own and "own-packet" in graded.sources else graded.grade
    return ", ".join((grade, *sources))


def ingredient_page(page: Page, entry: Ingredient, knowledge: Knowledge) -> None:
    """Write an ingredient onto a page."""
    page.heading(entry.name)
    whose = "your own ingredient" if is_own(entry) else entry.family.replace("_", " ")
    page.paragraph(f"{whose}; id {entry.id}; {', '.join(r.replace('_', ' ') for r in entry.roles)}")
    if entry.also:
        _field(page, "also", ", ".join(entry.also))
    _field(page, "allergens", ", ".join(entry.allergens) or "none of those that are tracked")
    if entry.dry_base:
        _field(page, "counted in", "the dry base, of which percentages are taken")
    if entry.price_per_kg is not None:
        _field(page, "price", f"{entry.price_per_kg:g} a kilogram, your own")
    _composition(page, entry)
    _behaviour(page, entry, knowledge)
    _proteins(page, entry, knowledge)
    if entry.traits:
        page.heading("traits")
        for trait in entry.traits:
            page.item(f"{trait.replace('_', ' ')}:", knowledge.traits[trait].says, 2)
    _weights(page, entry)
    _sources(page, entry, knowledge)


def _field(page: Page, label: str, text: str, indent: int = 0) -> None:
    page.paragraph(f"{label:<{_LABEL}}{text}", indent, indent + _LABEL)


def _amount(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _composition(page: Page, entry: Ingredient) -> None:
    c = entry.per_100g
    page.heading("in 100 g")
    for key, label in _PARTS:
        value = getattr(c, key)
        if not value and key not in _ALWAYS:
            continue
        said = ""
        if key == "carbohydrate":
            said = "  fibre included" if c.basis == "by_difference" else "  fibre not included"
        page.paragraph(f"{label:<{_LABEL + 4}}{value:>7.2f} g{said}", 2, 4)
    page.paragraph(f"{'sodium':<{_LABEL + 4}}{c.sodium_mg:>7.0f} mg", 2, 4)
    if c.energy_kcal is not None:
        page.paragraph(f"{'energy':<{_LABEL + 4}}{c.energy_kcal:>7.0f} kcal", 2, 4)
    page.paragraph(f"adds up to {c.closure:.1f} g; {_record(c, own=is_own(entry))}", 2, 2)
    if c.note:
        page.paragraph(c.note, 2, 2)


def _record(c: Composition, *, own: bool) -> str:
    if own:
        return f"your own, {c.record}"
    return f"{c.data_set}, record {c.record}, {c.grade}"


def _span(figure: Figure) -> str:
    return f" ({_amount(figure.range[0])} to {_amount(figure.range[1])})" if figure.range else ""


def _behaviour(page: Page, entry: Ingredient, knowledge: Knowledge) -> None:
    own = is_own(entry)
    rows: list[tuple[str, str]] = []
    for key, label in _BEHAVIOUR:
        figure: Figure | None = getattr(entry, key)
        if figure is not None:
            note = f"; {figure.note}" if figure.note else ""
            rows.append(
                (_amount(figure.value) + _span(figure), f"{label} [{grade_of(figure, own=own)}]{note}")
            )
    for acid, figure in entry.acids_per_100g.items():
        named = knowledge.acids[acid]
        rows.append(
            (
                _amount(figure.value) + _span(figure),
                f"g of {named.name} in 100 g, which neutralises {named.neutralising_value.value:g} % of its weight "
                f"in soda [{grade_of(figure, own=own)}]",
            )
        )
    if entry.solids_like:
        powder = knowledge.ingredients[entry.solids_like]
        rows.append(("its solids", f"behave like {powder.name}, gram of solids for gram"))
    if rows:
        page.heading("in the dough")
    for value, text in rows:
        page.paragraph(f"{value}  {text}", 2, 6)


def _proteins(page: Page, entry: Ingredient, knowledge: Knowledge) -> None:
    if not entry.protein_classes:
        return
    page.heading("its protein")
    for name, share in entry.protein_classes.items():
        kind = knowledge.protein_classes[name]
        page.item(f"{100 * share:.0f} %", f"{kind.name}. {kind.says}", 2)
        facts = []
        if kind.sets_c:
            facts.append(f"sets from {{{kind.sets_c[0]:.0f} to {kind.sets_c[1]:.0f} C}}")
        facts.append(f"{100 * kind.sets_share:.0f} % of it sets")
        facts.append(
            f"holds {_amount(kind.holds_when_set.value)} g of water a gram{_span(kind.holds_when_set)}"
        )
        facts.append(f"{100 * kind.crosslinks_share:.0f} % open to a crosslinking enzyme")
        page.paragraph(f"{'; '.join(facts)} [{grade_of(kind, own=False)}]", 6, 6)


def _weights(page: Page, entry: Ingredient) -> None:
    if not entry.weights:
        return
    page.heading("household weights")
    for name, weight in entry.weights.items():
        note = f"; {weight.note}" if weight.note else ""
        said = f"{_amount(weight.grams)} g [{grade_of(weight, own=is_own(entry))}]{note}"
        _field(page, name.replace("_", " "), said, 2)


def _sources(page: Page, entry: Ingredient, knowledge: Knowledge) -> None:
    page.heading("sources")
    for key in sources_behind(entry, knowledge):
        page.paragraph(f"{key}: {knowledge.sources[key].cites}", 2, 4)
