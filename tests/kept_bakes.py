"""A bake to keep, with any of its parts otherwise."""

from __future__ import annotations

from dataclasses import replace

from advisor.trial_record.bake import Amount, Bake, CameOut, Foreseen, Scores

_LOAF = Bake(
    formula="Test loaf",
    formula_text="Test loaf\n100 g water\n50 g psyllium powder\n",
    baked_on="2026-05-01",
    amounts=(
        Amount(ingredient="water", name="water", grams=100.0),
        Amount(ingredient="psyllium_powder", name="psyllium powder", grams=50.5),
    ),
    steps={"oven": "175 C for 70 min", "slices": "16"},
    seen=("gummy_centre",),
    absent=("flat_loaf", "overflow"),
    scores=Scores(volume=3, crumb=2),
    came_out=CameOut(height_cm=9.5, core_c=88.0),
    photo="loaf.jpg",
    lots={"water": "L-77"},
    notes="first",
    foreseen=Foreseen(
        cause="excess_water", cause_probability=0.4, efficacy=0.8, single=True, core_c=93.25, height_cm=10.0,
        oven_offset_c=-12.5, powder_strength=0.75, risk={"flat_loaf": (None, 0.05), "gummy_centre": (0.4, 0.00001)},
    ),
)  # fmt: skip


def loaf(**parts: object) -> Bake:
    return replace(_LOAF, **parts)  # type: ignore[arg-type]
