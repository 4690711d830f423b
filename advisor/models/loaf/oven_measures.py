"""Measures of the oven and the pan: when the core sets and is done, what margin is left, how full the pan gets."""

from __future__ import annotations

from advisor.formula.formula import Process
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults
from advisor.models.loaf.bake import Bake
from advisor.models.loaf.expansion import Rise


def pan_measures(
    process: Process, with_defaults: ProcessWithDefaults, lift: Rise, reasons: dict[str, str]
) -> dict[str, float | None]:
    """Fill before the rise, and volume and height at set, against the pan; reasons where there is no pan."""
    pan = process.pan_volume_ml
    if pan is None:
        for name in ("pan_fill", "rise_height_cm", "rise_over_pan"):
            reasons[name] = "no tin of stated size"
        return {}
    whole = pan * with_defaults.loaves
    over = None if lift.set_ml is None else lift.set_ml / whole
    return {
        "pan_fill": lift.mixed_ml / whole,
        "rise_over_pan": over,
        "rise_height_cm": None if over is None or not process.pan_height_cm else over * process.pan_height_cm,
    }


def oven_measures(
    process: Process, baked: Bake, reasons: dict[str, str], knowledge: Knowledge
) -> dict[str, float | None]:
    """Times, temperatures and margins of the bake; reasons where nothing was stated."""
    set_at, margin = baked.core_set_min, baked.pull_margin_min
    door = _since(set_at, process.opened_at_min)
    probe = _since(set_at, process.probed_at_min)
    if door is None:
        reasons["door_margin_min"] = "the formula does not say that the door was opened"
    if probe is None:
        reasons["probe_margin_min"] = "the formula does not say that the loaf was probed"
    sliceable = baked.cooling.sliceable_after_min
    if sliceable is None:
        reasons["sliceable_after_min"] = "the room is too warm to cool a loaf so far"
    sliced = _since(sliceable, process.sliced_after_min)
    if sliced is None:
        reasons["slice_margin_min"] = "the formula does not say when the loaf was sliced"
    return {
        "core_set_min": set_at,
        "do_not_disturb_until_min": _shut_until(set_at, knowledge),
        "core_done_min": baked.core_done_min,
        "core_at_pull_c": baked.core_at_pull_c,
        "pull_margin_min": margin,
        "short_of_done_min": None if margin is None else max(-margin, 0.0),
        "crust_browning": baked.browning,
        "bake_loss_pct": 100 * baked.bake_loss,
        "door_margin_min": door,
        "door_too_soon_min": None if door is None else max(-door, 0.0),
        "probe_margin_min": probe,
        "probe_too_soon_min": None if probe is None else max(-probe, 0.0),
        "sliceable_after_min": sliceable,
        "slice_margin_min": sliced,
    }


def _since(set_at: float | None, minute: float | None) -> float | None:
    return None if set_at is None or minute is None else minute - set_at


def _shut_until(set_at: float | None, knowledge: Knowledge) -> float | None:
    """Core set with a margin that does not outgrow small pieces, min."""
    if set_at is None:
        return None
    return set_at + min(
        knowledge.coefficient("door_safety_min"), knowledge.coefficient("door_safety_share") * set_at
    )
