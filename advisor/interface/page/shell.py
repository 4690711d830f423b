"""The page as it first comes: its views, empty but for what the knowledge offers to choose from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from string import Template

from advisor import load_knowledge
from advisor.explanation.designing.improve_page import aim_said
from advisor.explanation.report import PARTS
from advisor.formula_design.aims import AIMS
from advisor.formula_design.request import kinds_written
from advisor.interface.desk.baker_measures import REGIONS as REGION_NAMES
from advisor.interface.desk.teach_topic import demo_faults
from advisor.interface.page.asked_formula import AS_WRITTEN
from advisor.interface.page.device_access import Begin
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.html import Html, text
from advisor.rendering.pictures.cut_loaf import loaf_picture
from advisor.rendering.pictures.svg import svg_text
from advisor.version import __version__

_UNITS = {
    AS_WRITTEN: "the formula's own units",
    "metric": "grams and Celsius",
    "us": "cups, ounces and Fahrenheit",
    "uk": "grams, Celsius and UK spoons",
}
_FOOT = (
    "Trust these figures more to compare two doughs than to foretell one loaf. Bake egg doughs to at least 71 C in the "
    "middle; a loaf with wheat gluten is never gluten-free; name its allergens to whoever eats it. Where food is "
    f"sold, local rules and qualified people decide. dough-advisor {__version__}, on this machine alone."
)


_ANOTHER = (
    "<p><button type='button' id='another'>Let another device in</button></p>"
    "<div id='another-link' role='status'></div>"
)  # fmt: skip


def shell(begin: Begin, *, lan: bool) -> Html:
    """The whole page for one session."""
    return _skeleton().substitute(
        region=text(begin.region),
        units=text(begin.units),
        # A newline right behind the tag would be taken off by the browser.
        text="\n" + _as_written(begin.text),
        regions=_options(REGION_NAMES.items(), begin.region),
        units_offered=_options(_UNITS.items(), begin.units),
        another=_ANOTHER if lan else "",
        **_of_knowledge(),
    )


@cache
def _skeleton() -> Template:
    return Template((Path(__file__).parent / "page.html").read_text("utf-8"))


@cache
def _of_knowledge() -> dict[str, Html]:
    """What is the same for every session."""
    knowledge = load_knowledge()
    demos = sorted((name, _name(name)) for name in knowledge.formulas)
    return {
        "demos": _options(demos),
        "allergens": "".join(
            _ticks(
                "avoid",
                (
                    (a, a.replace("_", " "))
                    for a in sorted({a for i in knowledge.ingredients.values() for a in i.allergens})
                ),
            )
        ),
        "kinds": _options((kind.id.replace("_", " "), kind.name) for kind in kinds_written(knowledge)),
        "aims": _options((aim.id, aim_said(aim)) for aim in AIMS.values()),
        "parts": "".join(_ticks("with", ((name, PARTS[name]) for name in PARTS))),
        "symptoms": "".join(_symptoms(knowledge)),
        "topics": "".join(_topics(knowledge)),
        "faults": _options((s.id, s.name) for s in knowledge.symptoms.values()),
        "marks": _options((("", "no mark"), *((str(mark), str(mark)) for mark in range(1, 6)))),
        "foot": text(_FOOT),
    }


def _ticks(field: str, offered: Iterable[tuple[str, str]]) -> Iterator[Html]:
    for value, says in offered:
        yield (
            f"<label class='tick'><input type='checkbox' name='{field}' value='{text(value)}'> {text(says)}</label>"
        )


def _topics(knowledge: Knowledge) -> Iterator[Html]:
    """What can be taught, by kind: lessons with questions, formulas with a fault, and faults of a loaf."""
    causes = knowledge.causes
    faulty = [
        (name, f"{_name(name)}: {causes[c].name.lower()}") for name, c in demo_faults(knowledge).items()
    ]
    for label, offered in (
        ("Lessons with questions", [(x.id, x.title) for x in knowledge.lessons.values()]),
        ("Formulas with a fault", faulty),
        ("Faults of a loaf", [(s.id, s.name) for s in knowledge.symptoms.values()]),
    ):
        yield f"<optgroup label='{label}'>{_options(offered)}</optgroup>"


def _name(demo: str) -> str:
    return demo.replace("-", " ").capitalize()


def _symptoms(knowledge: Knowledge) -> Iterator[Html]:
    """Each fault with its drawing; the drawing says nothing that the name does not, so it is not read out."""
    for entry in knowledge.symptoms.values():
        scene = loaf_picture(entry.id, entry.name)
        drawn = f"<span class='drawing' aria-hidden='true'>{svg_text(scene)}</span>"
        words = " ".join((entry.name, *entry.also, entry.says)).lower()
        yield (
            f"<label class='symptom' data-words='{text(words)}'>{drawn}<span class='tick'><input type='checkbox' "
            f"name='saw' value='{text(entry.id)}'> <strong>{text(entry.name)}</strong></span>"
            f"<span class='note'>{text(entry.says)}</span></label>"
        )


def _options(offered: Iterable[tuple[str, str]], chosen: str = "") -> Html:
    return "".join(
        f"<option value='{text(value)}'{' selected' if value == chosen else ''}>{text(label)}</option>"
        for value, label in offered
    )


def _as_written(formula: str) -> Html:
    """A text that keeps its lines; each is made harmless by itself."""
    return "\n".join(text(line, 2000) for line in formula.splitlines())
