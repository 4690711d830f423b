"""Asks at the terminal for an ingredient of the baker's own: its name, what it is like, and its packet's panel."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.interface.desk.prompting import Left, Prompter
from advisor.interface.desk.showing import wrapped
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.own_entry import level
from advisor.knowledge_base.panel import EuPanel, UsPanel

Fields = dict[str, object]
_UNITS = {"calories": "kcal", "energy_kcal": "kcal", "energy_kj": "kJ"}
_LAYOUTS: dict[str, type[UsPanel] | type[EuPanel]] = {"us": UsPanel, "eu": EuPanel}


def ask_for_ingredient(names: Mapping[str, Ingredient]) -> Fields:
    """Ask question by question; give the fields of an own ingredient as its YAML has them.

    `names` holds every known name, levelled: a name that stands already is asked again, and the ingredient that
    the new one is like must be among them.

    Raises:
        InputFault: the baker left before the panel was whole.
    """
    return _Asking(names).ask()


class _Asking:
    def __init__(self, names: Mapping[str, Ingredient]) -> None:
        self._names = names
        self._prompter = Prompter()
        self._fields: Fields = {}

    def ask(self) -> Fields:
        self._say(
            "An ingredient of your own, from the panel on its packet. Enter alone leaves a figure out where the "
            "question says (optional); Ctrl-C leaves, and nothing is kept."
        )
        try:
            self._fields["name"] = self._name()
            self._fields["like"] = self._like()
            layout = self._layout()
            self._fields[f"{layout}_panel"] = self._panel(_LAYOUTS[layout])
            self._beside()
        except Left:
            raise InputFault("advisor: stopped; no ingredient was kept") from None
        return self._fields

    def _say(self, text: str) -> None:
        self._prompter.say(wrapped(text))

    def _name(self) -> str:
        while True:
            typed = self._prompter.line("Name, as you write it in formulas: ")
            if not level(typed):
                self._say("A name with Latin letters, please.")
            elif (owner := self._names.get(level(typed))) is not None:
                self._say(f"'{typed}' is a name of {owner.name} already: take another.")
            else:
                return typed

    def _like(self) -> str:
        words = sorted({entry.name for entry in self._names.values()})
        self._say(
            "Which known ingredient behaves like it? Water, setting, allergens and cups are taken over from it."
        )
        while True:
            typed = self._prompter.line("Like (the Tab key completes): ", words=words)
            if (found := self._names.get(level(typed))) is not None:
                return found.id
            self._say(f"No ingredient is called '{typed}'." if typed else "One name is needed.")

    def _layout(self) -> str:
        self._say("US: 'Total Carbohydrate', which includes fibre; sodium. EU: 'of which sugars', salt.")
        while True:
            typed = self._prompter.line("Layout of the panel (us or eu): ").lower()
            if typed in _LAYOUTS:
                return typed
            self._say("us or eu, please.")

    def _panel(self, model: type[UsPanel] | type[EuPanel]) -> Fields:
        answers: Fields = {}
        for key, field in model.model_fields.items():
            needed = field.is_required() or (key == "energy_kj" and "energy_kcal" not in answers)
            if key == "energy_kj":
                continue  # asked below, where kilocalories are not printed
            unit = _UNITS.get(key, "mg" if key.endswith("_mg") else "g")
            optional = "" if needed or key == "energy_kcal" else " (optional)"
            value = self._number(f"{field.title}, {unit}{optional}: ", needed=needed)
            if value is None and key == "energy_kcal":
                key = "energy_kj"
                value = self._number("Energy, kJ: ", needed=True)
            if value is not None:
                answers[key] = value
        return answers

    def _beside(self) -> None:
        price = self._number("Price of a kilogram (optional): ", needed=False)
        if price:
            self._fields["price_per_kg"] = price
        uptake = self._number(
            "Water that a gram takes up in dough, g (optional: as what it is like): ", needed=False
        )
        if uptake is not None:
            self._fields["dough_uptake"] = uptake

    def _number(self, prompt: str, *, needed: bool) -> float | None:
        while True:
            typed = self._prompter.line(prompt)
            if not typed and not needed:
                return None
            if (value := number_typed(typed)) is not None:
                if typed.startswith("<"):
                    self._say(f"Taken as {value:g}, half of it.")
                return value
            self._say("A number from 0 upwards, such as 12 or 0.5; or <0.5 as the packet prints it.")


def number_typed(text: str) -> float | None:
    """A number as a packet prints it, with decimal comma or point, its unit or without; `<0.5` is half of it."""
    plain = text.strip().lower().replace(",", ".")
    below = plain.startswith("<")
    plain = plain.removeprefix("<").strip()
    for unit in ("kcal", "kj", "mg", "g"):
        plain = plain.removesuffix(unit).strip()
    if not plain or not plain.replace(".", "", 1).isdigit() or not plain.isascii() or len(plain) > 12:
        return None
    return float(plain) / 2 if below else float(plain)
