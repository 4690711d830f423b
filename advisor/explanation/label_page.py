"""A label and a nutrition table as blocks."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Paragraph, Quantity, Row, Runs, Table
from advisor.explanation.declaration import DeclaredLine
from advisor.explanation.label import LabelAnswer, LabelIngredient, NutritionAnswer
from advisor.models.dough.nutrition import Nutrition

ESTIMATE = (
    "An estimate from tables of ingredients, not for sale: a label needs an analysis and the local rules."
)
_BASIS = {
    "weighed": "The weight after the bake is the one you weighed",
    "worked_out": "The bake loss is worked out",
    "as_mixed": "The bake could not be followed: these are figures of the dough as mixed, and the baked loaf, "
    "which holds less water, has more of all in 100 g. Write its weight, such as 'weight after: 720 g'",
}
_ROWS = (
    ("energy", "energy_kj", "", 0, "kJ"),
    ("", "energy_kcal", "", 0, "kcal"),
    ("fat", "fat", "", 1, "g"),
    ("  of which saturates", "saturates", "saturates_up_to", 1, "g"),
    ("carbohydrate with fibre", "carbohydrate", "", 1, "g"),
    ("carbohydrate without fibre", "carbohydrate_without_fibre", "", 1, "g"),
    ("  of which sugars", "sugars", "sugars_up_to", 1, "g"),
    ("  of which sugar alcohols", "polyols", "", 1, "g"),
    ("fibre", "fibre", "", 1, "g"),
    ("protein", "protein", "", 1, "g"),
    ("salt", "salt", "", 2, "g"),
)
"""Name, field, field of the most it may be, digits, unit."""
_FORMS = {"eu": "European form", "us": "Form of the United States"}
_NOT_WORKED_OUT = (
    "Not worked out: trans fat, cholesterol, added sugars, vitamins and minerals other than sodium. A serving by the "
    "rules of the United States is the amount that people usually eat, which is often more than one slice."
)


def nutrition_blocks(answer: NutritionAnswer) -> Iterator[Block]:
    """The whole nutrition page."""
    yield _title(answer)
    yield Paragraph(runs=(ESTIMATE,), meaning="caution")
    yield from _table(answer)
    yield from _net(answer)
    yield from _rests_on(answer)


def label_blocks(answer: LabelAnswer) -> Iterator[Block]:
    """The whole label page."""
    held = answer.nutrition
    yield _title(held)
    yield Paragraph(runs=(ESTIMATE,), meaning="caution")
    yield Heading(text="Ingredients", ident="ingredients")
    listed = ", ".join(_listed(entry) for entry in answer.ingredients)
    yield Paragraph(runs=(f"{listed[:1].upper()}{listed[1:]}.",))
    yield Paragraph(runs=("By weight as put in; what an ingredient is itself made of stands on its packet.",))
    yield Heading(text="Allergens", ident="allergens")
    if not answer.allergens:
        yield Paragraph(runs=("None that the ingredients name.",))
    for line in answer.allergens:
        name: Runs = (Emphasis(meaning="caution", runs=(line.allergen.replace("_", " "),)),)
        yield Item(label="-", runs=(*name, f": in {', '.join(line.carried_by)}"))
    yield Heading(text=_FORMS["eu"], ident="eu")
    yield _european(answer)
    yield Heading(text=_FORMS["us"], ident="us")
    yield _american(answer)
    yield Paragraph(runs=(_NOT_WORKED_OUT,))
    yield from _net(held)
    yield from _rests_on(held)


def label_part(answer: LabelAnswer) -> Iterator[Block]:
    """The label as a part of another page, under one heading: its own stand a level lower."""
    yield Heading(text="Label and nutrition", ident="label")
    for block in label_blocks(answer):
        yield Heading(text=block.text, level=3) if isinstance(block, Heading) else block


def _title(answer: NutritionAnswer) -> Row:
    plural = "" if answer.pieces == 1 else "s"
    right: Runs = (
        f"{answer.pieces} {answer.piece}{plural} of ",
        Quantity(value=answer.per_piece.grams, unit="g", decimals=0),
        " as mixed" if answer.basis == "as_mixed" else " as baked",
    )
    return Row(left=(Emphasis(meaning="name", runs=(answer.name,)),), right=right)


def _listed(entry: LabelIngredient) -> str:
    marks = [", ".join(a.upper() for a in entry.allergens)] if entry.allergens else []
    if entry.grams is None:
        marks.append("weight not given")
    return f"{entry.name} ({'; '.join(marks)})" if marks else entry.name


def _piece(answer: NutritionAnswer) -> str:
    return f"{answer.piece} ({answer.per_piece.grams:.0f} g)"


def _table(answer: NutritionAnswer) -> Iterator[Block]:
    rows = []
    for name, field, most, decimals, unit in _ROWS:
        if field == "polyols" and answer.per_100g.polyols <= 0:
            continue
        cells = (_figure(held, field, most, decimals, unit) for held in (answer.per_100g, answer.per_piece))
        rows.append(((name,), *((cell,) for cell in cells)))
    yield Table(
        caption="Nutrition",
        head=("", "100 g", _piece(answer)),
        rows=tuple(rows),
        figures=frozenset({1, 2}),
    )


def _figure(held: Nutrition, field: str, most: str, decimals: int, unit: str) -> str:
    low = f"{getattr(held, field):.{decimals}f}"
    high = f"{getattr(held, most or field):.{decimals}f}"
    return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"


def _net(answer: NutritionAnswer) -> Iterator[Block]:
    yield Heading(text="Net carbohydrate, by convention", ident="net")
    yield Table(
        caption="Net carbohydrate, by convention",
        head=("", "100 g", _piece(answer)),
        rows=tuple(
            ((line.name,), (f"{line.per_100g:.1f} g",), (f"{line.per_piece:.1f} g",))
            for line in answer.net_carbohydrate
        ),
        figures=frozenset({1, 2}),
    )
    yield Paragraph(runs=("No term of food law. A limit of net carbohydrate is held by the first.",))


def _rests_on(answer: NutritionAnswer) -> Iterator[Block]:
    yield Heading(text="What this rests on", ident="rests-on")
    loss = Quantity(value=answer.bake_loss, unit="share")
    weighed: Runs = (f"{_BASIS[answer.basis]}.",)
    if answer.basis != "as_mixed":
        weighed = (f"{_BASIS[answer.basis]}: ", loss, " of the dough.")
    yield Item(label="-", runs=weighed)
    for gap in answer.unknown:
        runs = (
            f"Not known: the {gap.part} of {', '.join(gap.ingredients)}. They add at most "
            f"{gap.at_most:.2f} g to 100 g; where that shows, a figure is a span.",
        )
        yield Item(label="-", runs=runs)
    if answer.unweighed:
        yield Item(label="-", runs=(f"Without a weight and not counted in: {', '.join(answer.unweighed)}.",))
    yield Item(
        label="-",
        runs=("Sugar that yeast takes is out. Sugar alcohols that fruit holds by nature are in no table.",),
    )


def _european(answer: LabelAnswer) -> Table:
    rows = zip(answer.per_100g.lines, answer.per_portion.lines, strict=True)
    return Table(
        caption=_FORMS["eu"],
        head=("", "100 g", _piece(answer.nutrition), "inspection allows in 100 g"),
        rows=tuple(
            ((_named(whole),), (_written(whole),), (_written(part),), (_allowed(whole),))
            for whole, part in rows
        ),
        figures=frozenset({1, 2}),
    )


def _american(answer: LabelAnswer) -> Table:
    return Table(
        caption=_FORMS["us"],
        head=("", _piece(answer.nutrition), "inspection allows"),
        rows=tuple(((_named(line),), (_written(line),), (_allowed(line),)) for line in answer.serving.lines),
        figures=frozenset({1}),
    )


def _named(line: DeclaredLine) -> str:
    return f"  {line.name}" if line.of_which else line.name


def _written(line: DeclaredLine) -> str:
    return f"{line.written} {line.unit}"


def _allowed(line: DeclaredLine) -> str:
    if line.inspected is None:
        return ""
    low, high = line.inspected
    if low is None or high is None:
        return f"at most {_short(high)}" if high is not None else f"at least {_short(low or 0.0)}"
    return f"{_short(low)} to {_short(high)}"


def _short(figure: float) -> str:
    return f"{figure:.2f}" if figure < 1 else f"{figure:.1f}" if figure < 100 else f"{figure:.0f}"
