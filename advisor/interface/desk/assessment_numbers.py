"""The upper half of the page that answers a check or a diagnosis: the dough, its numbers, its oven and clock."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.cost_line import cost_line
from advisor.explanation.wording import band_text, grams, number, state_text, with_article
from advisor.formula.formula import Process
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults
from advisor.models.loaf.timeline import timeline
from advisor.rendering.text import Page
from advisor.rendering.timeline_text import timeline_key, timeline_lines

SHOWN_MEASURES = (
    "mixing_hydration", "baked_water_load", "setting_protein_pct", "filler_ratio", "fat_ratio", "gum_load",
    "salt_per_100g_water", "co2_total", "proof_rise", "specific_volume", "pan_fill", "residual_soda_meq",
    "residual_acid_meq",
)  # fmt: skip
_WORST_SHOWN, _WORST_FROM = 3, 0.25
"""Of the other measures so many are shown whose excess is at least so large: they are what the causes rest on."""
_ALWAYS = ("mixing_hydration", "baked_water_load", "setting_protein_pct", "specific_volume")


def head_section(page: Page, found: Examination, knowledge: Knowledge) -> None:
    """Name, dough, what carries it, and what a slice has."""
    m, with_defaults = found.workings.measures, found.workings.dough_state.with_defaults
    pieces = with_defaults.slices * with_defaults.loaves
    slice_g = m.value("slice_g") or 0.0
    what = "pieces" if with_defaults.pan_kind in ("rolls", "flat") else "slices"
    page.row(
        found.formula.name,
        f"{grams(round(found.formula.dough_g))} of dough, {pieces} {what} of {slice_g:.0f} g",
    )
    weights = sorted(found.inference.structures.items(), key=lambda i: -i[1])
    names = [knowledge.structures[s].name for s, w in weights if w >= 0.15]
    close = "".join(f", close to {with_article(name)}" for name in names[1:])
    page.paragraph(f"Carried as: {names[0]}{close}.")
    carb, energy = m.value("net_carb_per_slice"), m.value("energy_kcal_per_slice")
    if carb is not None and energy is not None:
        one = "piece" if what == "pieces" else "slice"
        page.paragraph(
            f"A {one}: {carb:.1f} g net carbohydrate (a convention, no regulated term), {energy:.0f} kcal."
        )
        if said := cost_line(
            found.formula, slices=with_defaults.slices, loaves=with_defaults.loaves, piece=one
        ):
            page.paragraph(said)


def numbers_section(page: Page, found: Examination, knowledge: Knowledge, *, all_of_it: bool) -> None:
    """Measures against their bands: those that matter always, the others where they are out."""
    page.heading("Numbers")
    judged = found.inference.judged
    if all_of_it:
        names = list(judged)
    else:
        worst = sorted((n for n in judged if n not in SHOWN_MEASURES), key=lambda n: -judged[n].excess)
        names = [n for n in SHOWN_MEASURES if n in judged]
        names += [n for n in worst[:_WORST_SHOWN] if judged[n].excess >= _WORST_FROM]
    widest = max((len(knowledge.measures[n].name) for n in names if n in knowledge.measures), default=20) + 2
    for name in names:
        lies, entry = judged[name], knowledge.measures.get(name)
        if entry is None or (not all_of_it and name not in _ALWAYS and lies.state == "in"):
            continue
        unit = "" if entry.unit == "-" else f" {entry.unit}"
        value = number(lies.value, entry.decimals) + unit
        if page.width >= 72:
            line = f"  {entry.name:<{widest}}{value:<{46 - widest}}  {band_text(lies, entry.decimals):<16}"
            page.lines.append((line + state_text(lies)).rstrip())
        else:
            page.paragraph(
                f"{entry.name}: {value} ({band_text(lies, entry.decimals)}): {state_text(lies)}", 2, 4
            )
    if not all_of_it:
        others = sum(
            1 for n in SHOWN_MEASURES if n in judged and n not in _ALWAYS and judged[n].state == "in"
        )
        page.paragraph(f"{others} more lie where they should (--all shows them).", 2, 2)


def oven_section(page: Page, found: Examination) -> None:
    """When the core sets and is done, how long to leave the oven shut, when the loaf can be cut."""
    bake, with_defaults = found.workings.bake, found.workings.dough_state.with_defaults
    if bake is None:
        return
    page.heading("Oven")
    said = _oven_said(with_defaults, found.formula.process)
    if bake.core_set_min is None or bake.core_done_min is None:
        page.paragraph(f"At {said} the core does not get to {bake.target_c:.0f} C in three hours.", 2, 2)
        return
    page.paragraph(
        f"At {said}: core set after {bake.core_set_min:.0f} min, done ({bake.target_c:.0f} C) after "
        f"{bake.core_done_min:.0f} min; pulled at {bake.pulled_at_min:.0f} min with the core at "
        f"{bake.core_at_pull_c:.0f} C.",
        2, 2,
    )  # fmt: skip
    if bake.pulled_at_min < bake.core_set_min:
        page.paragraph("It leaves the oven before its core has set: bake on.", 2, 2)
        return
    shut = found.workings.measures.value("do_not_disturb_until_min")
    if shut is not None:
        page.paragraph(f"Do not open the oven, move or probe the loaf before minute {shut:.0f}.", 2, 2)
    if bake.cooling.sliceable_after_min is not None:
        page.paragraph(
            f"Cool enough to slice about {_hours(bake.cooling.sliceable_after_min)} after that.", 2, 2
        )


def _hours(minutes: float) -> str:
    """Minutes as a baker says them: to five minutes, or in hours and quarters."""
    if minutes < 90:
        return f"{max(5 * round(minutes / 5), 5):.0f} min"
    quarters = round(minutes / 15)
    part = ("", " and a quarter", " and a half", " and three quarters")[quarters % 4]
    return f"{quarters // 4}{part} hours"


def _oven_said(with_defaults: ProcessWithDefaults, process: Process) -> str:
    """The oven as the loaf meets it: its true heat, with what the dial says where that is another."""
    said = f"{with_defaults.oven_c:.0f} C" + (" fan" if with_defaults.oven_fan else "")
    if process.oven_offset_c:
        true = with_defaults.oven_c + process.oven_offset_c
        said = f"{true:.0f} C in the oven ({said} on its dial)"
    return said + (" from cold" if process.cold_start else "")


def clock_section(page: Page, found: Examination, knowledge: Knowledge) -> None:
    """Gas and set on one axis: the heart of the matter, for whoever can see a row of figures."""
    line = timeline(found.workings, knowledge)
    if line.gas[-1] <= 0 and not any(line.set_share):
        return
    page.heading("Gas against set")
    page.lines += timeline_lines(line, page.width)
    page.paragraph(timeline_key(line), 2, 2)
