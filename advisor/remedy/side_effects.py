"""What else a change does, in words a baker uses."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination
from advisor.knowledge_base.knowledge import Knowledge


def side_effects(before: Examination, after: Examination, knowledge: Knowledge) -> tuple[str, ...]:
    """Say which measures left or entered their band, and what happens to carbohydrate, mass and pan."""
    out: list[str] = []
    entering: list[str] = []
    was, now = before.inference.judged, after.inference.judged
    for name in now:
        if name not in was or name not in knowledge.measures or was[name].state == now[name].state:
            continue
        label = knowledge.measures[name].name
        if now[name].state == "in":
            entering.append(label)
        elif was[name].state == "in":
            out.append(f"{label} becomes too {now[name].state}")
    if entering:
        it = "it" if len(entering) == 1 else "they"
        out.insert(0, f"now where {it} should be: {', '.join(entering)}")
    one = "piece" if before.workings.dough_state.with_defaults.pan_kind in ("rolls", "flat") else "slice"
    a, b = before.workings.measures, after.workings.measures
    for name, unit, least in (
        ("net_carb_per_slice", f"g net carbohydrate a {one}", 0.05),
        ("dough_g", "g of dough", 5),
    ):
        x, y = a.value(name), b.value(name)
        if x is None or y is None:
            continue
        # Rounded first: the last digit of a sum must not decide between 0.2 and 0.3.
        moved = round(y - x, 6)
        if abs(moved) >= least:
            digits = 1 if least < 1 else 0
            out.append(f"{abs(moved):.{digits}f} {unit} {'more' if moved > 0 else 'less'}")
    if before.structure != after.structure:
        out.append(f"it becomes another kind of loaf: {knowledge.structures[after.structure].name}")
    return tuple(out)
