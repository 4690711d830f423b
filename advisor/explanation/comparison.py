"""Two formulas beside each other as blocks: what is changed, what moves, what it does to the risks, both clocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.explanation.blocks import Block, Heading, Item, Paragraph, Quantity, Runs, Table
from advisor.explanation.changes import ChangeWords, joined
from advisor.explanation.numbers import said_timeline
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import in_kitchen, number, quantity_of
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import Change
from advisor.remedy.comparing import Comparison, OneDifference
from advisor.remedy.substitution import Substitution

_SHOWN = (
    "net_carb_per_slice", "energy_kcal_per_slice", "protein_pct", "dough_g", "mixing_hydration", "baked_water_load",
    "setting_protein_pct", "filler_ratio", "fat_ratio", "gum_load", "salt_per_100g_water", "co2_total",
    "early_gas_share", "late_gas_share", "proof_rise", "specific_volume", "pan_fill", "rise_over_pan",
    "residual_soda_meq", "residual_acid_meq", "core_set_min", "core_done_min", "pull_margin_min",
    "set_share_at_door", "crust_browning", "bake_loss_pct", "sliceable_after_min",
)  # fmt: skip
"""Measures in the order in which a baker goes over a dough: what it is, how it is raised, how it bakes."""
Names = tuple[str, str]
"""What the two formulas are called at the head of a column."""


class ComparisonBlocks:
    """Says a comparison under headings of its own."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.limits = Thresholds.read(knowledge)
        self.words = ChangeWords(knowledge)

    def of(self, found: Comparison, changes: Sequence[Change], names: Names) -> Iterator[Block]:
        """What is changed, what moves and what it does to the risks."""
        yield from self.changes(changes)
        yield from self._moved(found, names)
        yield from self._risks(found, names)

    def changes(self, changes: Sequence[Change]) -> Iterator[Block]:
        """List what is changed."""
        yield Heading(text="Changed")
        yield from (Item(label="-", runs=self.words.runs(change)) for change in changes)
        if not changes:
            yield Paragraph(runs=("Nothing: both are the same.",))

    def _moved(self, found: Comparison, names: Names) -> Iterator[Block]:
        """A table of the measures that moved as much as can be seen, with where they lie in the second."""
        yield Heading(text="What moves")
        rows = tuple(row for name in _SHOWN if (row := self._moved_row(found, name)) is not None)
        if rows:
            yield Table(caption="What moves", head=("", *names, ""), rows=rows, figures=frozenset({1, 2}))
        else:
            yield Paragraph(runs=("No number that is shown here.",))

    def _moved_row(self, found: Comparison, name: str) -> tuple[Runs, ...] | None:
        if name not in found.measures:
            return None
        entry, (a, b) = self.knowledge.measures[name], found.measures[name]
        judged = (found.before.inference.judged, found.after.inference.judged)
        states = [some[name].state if name in some else "" for some in judged]
        least = self.limits.move_said
        small = a is not None and b is not None and abs(b - a) < least * max(abs(a), abs(b))
        same = [None if v is None else number(v, entry.decimals) for v in (a, b)]
        if same[0] == same[1] or (small and states[0] == states[1]):
            return None
        # A unit that no kitchen has stands once, beside the name: beside both values it would crowd the table.
        kitchen = in_kitchen(entry.unit)
        values = (
            ("-",) if v is None else (quantity_of(v, entry.unit if kitchen else "-", entry.decimals),)
            for v in (a, b)
        )
        named = entry.name if kitchen or entry.unit == "-" else f"{entry.name}, {entry.unit}"
        return (named,), *values, (_state_words(states),)

    def _risks(self, found: Comparison, names: Names) -> Iterator[Block]:
        """A table of the risks that moved, largest move first, and whether it is better or worse in all."""
        least, most = self.limits.risk_move_said, self.limits.risk_moves_shown
        moved = [(s, a, b) for s, (a, b) in found.risk.items() if abs(b - a) >= least]
        moved.sort(key=lambda r: (-abs(r[2] - r[1]), r[0]))
        yield Heading(text="Risks before the bake")
        if moved:
            rows: tuple[tuple[Runs, ...], ...] = tuple(
                ((self._symptom(s),), (_share(a),), (_share(b),), ("falls" if b < a else "rises",))
                for s, a, b in moved[:most]
            )
            yield Table(caption="Risks", head=("", *names, ""), rows=rows, figures=frozenset({1, 2}))
            if len(moved) > most:
                yield Paragraph(runs=(f"And {len(moved) - most} more.",))
        else:
            yield Paragraph(runs=("No risk moves by as much as one in a hundred.",))
        yield Paragraph(runs=(_in_all(*found.burden, self.limits.risk_move_said),))
        if found.says:
            yield Paragraph(runs=(f"Also: {'; '.join(found.says)}.",))

    def clocks(self, found: Comparison, names: Names) -> Iterator[Block]:
        """Gas against set of both, where they are not the same."""
        lines = [said_timeline(x, self.knowledge) for x in (found.before, found.after)]
        if lines[0] == lines[1]:
            return
        yield Heading(text="Gas against set")
        for name, line in zip(names, lines, strict=True):
            yield Heading(text=name.capitalize(), level=3)
            yield Paragraph(runs=("Nothing rises and nothing sets.",)) if line is None else line

    def singly(self, found: Sequence[OneDifference]) -> Iterator[Block]:
        """Each difference alone: the measures that it moves most and the risks that it moves."""
        yield Heading(text="What each difference does on its own")
        for one in found:
            said = (*self._measures_of(one), *self._risks_of(one))
            runs: Runs = (*joined(said), ".") if said else ("It moves next to nothing.",)
            yield Item(label="-", runs=self.words.runs(one.change), under=(Paragraph(runs=runs),))

    def _measures_of(self, one: OneDifference) -> Iterator[Runs]:
        for name, (a, b) in list(one.measures.items())[: self.limits.risks_named]:
            entry = self.knowledge.measures[name]
            written = ["none" if v is None else number(v, entry.decimals) for v in (a, b)]
            if written[0] != written[1]:
                was, now = (
                    "none" if v is None else quantity_of(v, entry.unit, entry.decimals) for v in (a, b)
                )
                yield f"{entry.name} ", was, " to ", now

    def _risks_of(self, one: OneDifference) -> Iterator[Runs]:
        for symptom in dict.fromkeys((one.improves, one.worsens)):
            if symptom is not None:
                a, b = one.risk[symptom]
                yield f"{self._symptom(symptom)} ", _share(a), " to ", _share(b)

    def duties(self, one: Substitution) -> Iterator[Block]:
        """What work the old one did, and what of it the new one cannot do."""
        if one.duties:
            held = ", ".join(self.knowledge.measures[n].name for n in one.duties)
            yield Paragraph(runs=(f"Its work in this dough: {held}.",))
        if not one.missed:
            yield Paragraph(runs=("The amounts are solved so that all of it is done as before.",))
        for name, values in one.missed.items():
            entry = self.knowledge.measures[name]
            was, now = (
                "nothing" if v is None else quantity_of(v, entry.unit, entry.decimals) for v in values
            )
            yield Paragraph(
                runs=(f"No amount of it does this as well: {entry.name}, ", was, " to ", now, ".")
            )

    def stand_ins(self, found: Sequence[Substitution]) -> Iterator[Block]:
        """What can take the place of an ingredient, the nearest first, with what each does not match."""
        yield Heading(text="What can do its work, the nearest first")
        if not found:
            yield Paragraph(runs=("Nothing that may be added shares what it does.",))
        for place, one in enumerate(found, 1):
            amounts = joined(tuple(self.words.runs(change) for change in one.changed.changes[1:]))
            missed = ", ".join(self.knowledge.measures[n].name for n in one.missed)
            under = (Paragraph(runs=(f"Not matched: {missed}.",)),) if missed else ()
            yield Item(label=f"{place}.", runs=amounts or (one.new.name,), under=under)

    def _symptom(self, symptom: str) -> str:
        return self.knowledge.symptoms[symptom].name.lower()


def _share(value: float) -> Quantity:
    return Quantity(value=value, unit="share")


def _in_all(before: float, after: float, least: float) -> str:
    if abs(after - before) < least:
        return "All in all about the same."
    way, word = ("better", "falls") if after < before else ("worse", "rises")
    summed = "the sum of the risks, each weighed by how bad it is,"
    return f"All in all {way}: {summed} {word} from {before:.2f} to {after:.2f}."


def _state_words(states: Sequence[str]) -> str:
    """Where a measure goes, said only where it is or was outside its band."""
    was, now = (s if s in ("low", "high") else "in" if s == "in" else "" for s in states)
    if now in ("low", "high"):
        return f"still too {now}" if was == now else f"now too {now}"
    return "now good" if was in ("low", "high") and now == "in" else ""
