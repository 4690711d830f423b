"""Two formulas beside each other on a page: what moved, what it does to the risks, both clocks."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.explanation.numbers import said_timeline
from advisor.explanation.wording import change_text, number, percent
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import Change
from advisor.remedy.comparing import Comparison, OneDifference
from advisor.rendering.text import Page
from advisor.rendering.timeline_text import timeline_key, timeline_lines

_SHOWN = (
    "net_carb_per_slice", "energy_kcal_per_slice", "protein_pct", "dough_g", "mixing_hydration", "baked_water_load",
    "setting_protein_pct", "filler_ratio", "fat_ratio", "gum_load", "salt_per_100g_water", "co2_total",
    "early_gas_share", "late_gas_share", "proof_rise", "specific_volume", "pan_fill", "rise_over_pan",
    "residual_soda_meq", "residual_acid_meq", "core_set_min", "core_done_min", "pull_margin_min",
    "set_share_at_door", "crust_browning", "bake_loss_pct", "sliceable_after_min",
)  # fmt: skip
_LEAST_RISK = 0.01
_LEAST_MOVE = 0.02
"""Moves of a measure that are too small to be shown, as a share of it."""


def changes_section(page: Page, changes: Sequence[Change]) -> None:
    """List what is changed."""
    page.heading("Changed")
    for change in changes:
        page.item("-", change_text(change), 2)
    if not changes:
        page.paragraph("Nothing: both are the same.", 2, 2)


def moved_section(page: Page, found: Comparison, knowledge: Knowledge, names: tuple[str, str]) -> None:
    """A table of the measures that moved as much as can be seen, with where they lie in the second."""
    rows = []
    for name in _SHOWN:
        if name not in found.measures:
            continue
        entry, (a, b) = knowledge.measures[name], found.measures[name]
        shown = ["-" if v is None else number(v, entry.decimals) for v in (a, b)]
        states = [
            x.inference.judged[name].state if name in x.inference.judged else ""
            for x in (found.before, found.after)
        ]
        small = a is not None and b is not None and abs(b - a) < _LEAST_MOVE * max(abs(a), abs(b))
        if shown[0] == shown[1] or (small and states[0] == states[1]):
            continue
        unit = "" if entry.unit == "-" else f" {entry.unit}"
        rows.append((f"{entry.name}{unit}", *shown, _state_words(states)))
    page.heading("What moves")
    if not rows:
        page.paragraph("No number that is shown here.", 2, 2)
        return
    page.columns([("", *names, ""), *rows])


def _state_words(states: Sequence[str]) -> str:
    """Where a measure goes, said only where it is or was outside its band."""
    was, now = (s if s in ("low", "high") else "in" if s == "in" else "" for s in states)
    if now in ("low", "high"):
        return f"still too {now}" if was == now else f"now too {now}"
    return "now good" if was in ("low", "high") and now == "in" else ""


def risks_section(page: Page, found: Comparison, knowledge: Knowledge, names: tuple[str, str]) -> None:
    """A table of the risks that moved, largest move first, and the sum of all by severity."""
    moved = [(s, a, b) for s, (a, b) in found.risk.items() if abs(b - a) >= _LEAST_RISK]
    moved.sort(key=lambda r: (-abs(r[2] - r[1]), r[0]))
    page.heading("Risks before the bake")
    if not moved:
        page.paragraph("No risk moves by as much as one in a hundred.", 2, 2)
    else:
        rows = [
            (knowledge.symptoms[s].name.lower(), percent(a), percent(b), "falls" if b < a else "rises")
            for s, a, b in moved[:8]
        ]
        page.columns([("", *names, ""), *rows])
        if len(moved) > 8:
            page.paragraph(f"and {len(moved) - 8} more.", 2, 2)
    before, after = found.burden
    verdict = "better" if after < before - 0.01 else ("worse" if after > before + 0.01 else "about the same")
    page.paragraph(
        f"All in all {verdict}: risks weighed by how bad they are sum up to {before:.2f} and {after:.2f}.",
        2,
        2,
    )
    if found.says:
        page.paragraph("Beside it: " + "; ".join(found.says) + ".", 2, 2)


def clocks_section(page: Page, found: Comparison, knowledge: Knowledge, names: tuple[str, str]) -> None:
    """Gas against set of both, where they are not the same."""
    lines = [said_timeline(x, knowledge) for x in (found.before, found.after)]
    if lines[0] == lines[1]:
        return
    page.heading("Gas against set")
    for name, line in zip(names, lines, strict=True):
        page.paragraph(name, 2, 2)
        if line is None:
            page.paragraph("Nothing rises and nothing sets.", 2, 2)
            continue
        page.lines += timeline_lines(line, page.width)
        page.paragraph(timeline_key(line), 2, 2)


def differences_section(page: Page, found: Sequence[OneDifference], knowledge: Knowledge) -> None:
    """Each difference alone: the measure that it moves most and the risks that it moves."""
    page.heading("What each difference does on its own")
    for one in found:
        page.item("-", change_text(one.change))
        said = []
        for name, (a, b) in list(one.measures.items())[:2]:
            entry = knowledge.measures[name]
            values = ["none" if v is None else number(v, entry.decimals) for v in (a, b)]
            if values[0] != values[1]:
                said.append(f"{entry.name} {values[0]} to {values[1]}")
        for symptom in dict.fromkeys((one.improves, one.worsens)):
            if symptom is not None:
                a, b = one.risk[symptom]
                said.append(f"{knowledge.symptoms[symptom].name.lower()} {percent(a)} to {percent(b)}")
        page.paragraph("; ".join(said) + "." if said else "moves next to nothing.", 2, 2)
