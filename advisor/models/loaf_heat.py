"""What the oven model is told: one loaf as heat sees it, and the constants of oven and crumb."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Literal

Pan = Literal["tin", "round", "free_standing", "rolls", "flat"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoafHeat:
    """What the oven sees of one loaf: section in metres, mass fractions, kg/m3 after proof, C, metres.

    For `round` and `rolls` the width is the diameter. The height is that of the dough as it bakes.
    """

    width_m: float
    height_m: float
    water_frac: float
    protein_frac: float
    fat_frac: float
    carb_frac: float
    ash_frac: float
    density_kg_m3: float
    start_c: float
    oven_c: float
    fan: bool = False
    pan: Pan = "tin"
    pan_dark: bool = False
    altitude_m: float = 0.0
    fibre_frac: float = 0.0
    water_activity: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OvenCoefficients:
    """Constants of the oven and the crumb; each field is `oven_<field>` in knowledge/coefficients.yaml."""

    h_still: float
    h_fan: float
    emissivity_crust: float
    emissivity_shiny: float
    emissivity_dark: float
    pan_contact: float
    pan_heat: float
    vapour_share: float
    vapour_cap: float
    skin_drying: float
    skin_reserve: float
    door_drop_c: float
    door_recovery_min: float
    front_width_c: float
    dry_residue: float
    browning_energy_kj_mol: float
    browning_reference_c: float
    browning_onset_c: float
    browning_minutes: float
    browning_power: float

    @classmethod
    def read(cls, coefficient: Callable[[str], float]) -> OvenCoefficients:
        """Take every constant by its name, for example from `Knowledge.coefficient`.

        Raises:
            KeyError: the knowledge has no such coefficient.
        """
        return cls(**{field.name: coefficient(f"oven_{field.name}") for field in fields(cls)})
