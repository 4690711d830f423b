"""What the oven model is told: one loaf as heat sees it, and the constants of oven and crumb."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Literal

from advisor.models.dough.thermal import Makeup
from advisor.models.heat.oven_programme import OvenProgramme

Pan = Literal["tin", "round", "free_standing", "rolls", "flat"]
_OTHER_WALLS = frozenset({"glass", "ceramic", "silicone", "cast iron"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The wall of a pan or tray: emissivity; from its outside to the dough W/(m2 K); heat held, J/(m2 K)."""

    emissivity: float
    contact: float
    heat: float


def pan_wall(material: str | None, coefficient: Callable[[str], float]) -> Wall:
    """Give the wall of a material by its name on a process line; metal in use where it is not known.

    Raises:
        KeyError: the knowledge has no such coefficient.
    """
    metal = {"shiny metal": "oven_wall_shiny_emissivity", "dark metal": "oven_emissivity_dark"}
    if material in _OTHER_WALLS:
        row = f"oven_wall_{material.replace(' ', '_')}"
        return Wall(
            emissivity=coefficient(f"{row}_emissivity"),
            contact=coefficient(f"{row}_contact"),
            heat=coefficient(f"{row}_heat"),
        )
    return Wall(
        emissivity=coefficient(metal.get(material or "", "oven_emissivity_shiny")),
        contact=coefficient("oven_pan_contact"),
        heat=coefficient("oven_pan_heat"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LoafHeat:
    """What the oven sees of one loaf: section in metres, mass fractions, kg/m3 after proof, C, metres.

    For `round` and `rolls` the width is the diameter. The height is that of the dough as it bakes. Without a
    `wall` the pan is of metal in use. `cold_c` is the temperature of an oven that is lit as the loaf goes in;
    the door is opened at `opened_at_min` for `opened_for_s`, and foil laid over at `tented_at_min`. Where the oven does
    more than hold one temperature its `programme` says what, in place of `oven_c`. A section with a length has two
    ends, which dry as its sides do; the core of a loaf is too far from them to feel them.
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
    wall: Wall | None = None
    cold_c: float | None = None
    opened_at_min: float | None = None
    opened_for_s: float = 0.0
    tented_at_min: float | None = None
    altitude_m: float = 0.0
    fibre_frac: float = 0.0
    water_activity: float = 1.0
    programme: OvenProgramme | None = None
    length_m: float | None = None

    @property
    def heats_c(self) -> tuple[float, ...]:
        """Every temperature that the dial stands at or the loaf meets, C."""
        if self.programme is None:
            return (self.oven_c,)
        at_loading = () if self.programme.preheat_c is None else (self.programme.preheat_c,)
        return (*at_loading, *(stage.air_c for stage in self.programme.stages))

    @property
    def makeup(self) -> Makeup:
        """What the dough is made of."""
        return Makeup(
            water=self.water_frac,
            protein=self.protein_frac,
            fat=self.fat_frac,
            carb=self.carb_frac,
            fibre=self.fibre_frac,
            ash=self.ash_frac,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class OvenCoefficients:
    """Constants of the oven and the crumb; each field is `oven_<field>` in knowledge/coefficients.yaml."""

    h_still: float
    h_fan: float
    emissivity_crust: float
    emissivity_shiny: float
    pan_contact: float
    pan_heat: float
    vapour_share: float
    vapour_cap: float
    skin_drying: float
    skin_reserve: float
    door_drop_c: float
    door_recovery_min: float
    door_falls_s: float
    warming_min: float
    tent_radiation: float
    lid_vapour: float
    lid_convection: float
    lid_radiation: float
    steam_vapour: float
    steam_min: float
    cooling_min: float
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


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatCoefficients:
    """Constants of plate, steam and drying; each field is `heat_<field>` in knowledge/coefficients.yaml."""

    griddle_contact: float
    pliable_water: float
    steam_condensing: float
    steam_below_boiling_c: float
    critical_water: float
    balance_water: float
    crisp_water: float

    @classmethod
    def read(cls, coefficient: Callable[[str], float]) -> HeatCoefficients:
        """Take every constant by its name, for example from `Knowledge.coefficient`.

        Raises:
            KeyError: the knowledge has no such coefficient.
        """
        return cls(**{field.name: coefficient(f"heat_{field.name}") for field in fields(cls)})
