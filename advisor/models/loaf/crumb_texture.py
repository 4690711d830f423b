"""How a cool crumb bites: firmness, chew, how a slice holds together and springs back, and the size of its cells."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.loaf.films import Films
from advisor.models.loaf.influences import Influences


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolCrumb:
    """A cool crumb: specific volume of the loaf [mL/g], and its water over what it can hold (-).

    `gas_over_dough` is the gas of the loaf over the dough without gas, `whole` the share of its bubbles that have not
    run together, `mixing_hydration` that of the dough (-).
    """

    volume_ml_g: float
    water_load: float
    gas_over_dough: float
    mixing_hydration: float | None
    whole: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Texture:
    """All over those of an ordinary white tin loaf, whose crumb is 1 in each (-)."""

    firmness: float
    cohesion: float
    springiness: float
    chew: float
    cell_size: float


def crumb_moisture_pct(water_g: float, dough_g: float, loss: float, knowledge: Knowledge) -> float:
    """Water in the crumb [%]: the dough's, less what little of the bake's loss comes out of the crumb.

    `loss` is over the dough's mass. A crumb inside the front keeps its water (Zanoni, Peri and Pierucci 1993), so
    only a share of the loss counts, which is a figure of knowledge/coefficients.yaml.
    """
    lost = loss * dough_g * knowledge.coefficient("crumb_share_of_loss")
    return 100 * (water_g - lost) / (dough_g - lost)


def dough_stiffness(
    hydration: float | None, films: Films, acting: Influences, knowledge: Knowledge
) -> float | None:
    """How stiff a dough handles, over one with just the water that it takes up (-); `None` without a hydration.

    h^-n x what acts on it: a farinograph reads some 20 of 500 units more for each per cent of the flour less in water
    (n about 2.5, from memory). What is not mixed to its best, or past it, is slack.
    """
    if hydration is None or hydration <= 0:
        return None
    stiff: float = hydration ** -knowledge.coefficient("stiffness_water_power")
    return stiff * films.mixed * acting.factor("stiffness")


def texture_of(crumb: CoolCrumb, films: Films, acting: Influences, knowledge: Knowledge) -> Texture:
    """Firmness, cohesion, springiness, chew and cells of a crumb over those of an ordinary white tin loaf (-).

    firmness = (rho / rho_ref)^n (w / w_ref)^-k x what acts on the walls: the modulus of an open cellular solid goes
    with the square of its density (Gibson and Ashby 1997, from memory), and walls are the softer the
    more of the water that they can hold they have. chew = firmness x cohesion x springiness, as texture profile
    analysis has it. Validity: leavened crumbs.
    """
    c = knowledge.coefficient
    denser = 1 / crumb.volume_ml_g / c("firm_reference_density")
    moister = math.log(crumb.water_load / c("firm_reference_load"))
    firmness = denser ** c("firm_density_power") * math.exp(-c("firm_water_softens") * moister)
    firmness *= acting.factor("firmness")
    holds = sum(share * knowledge.structures[s].holds_slice.value for s, share in films.shares.items())
    cohesion = holds * math.exp(c("slice_water_helps") * moister) * acting.factor("cohesion")
    springiness = (
        acting.factor("springiness") * holds ** c("spring_of_network") * denser ** -c("spring_density_power")
    )
    wetter = (crumb.mixing_hydration or 1.0) ** c("cells_water_power")
    wetter *= films.mixed ** -c("cells_coarse_unmixed")
    cells = (crumb.gas_over_dough / c("cells_reference_gas")) ** c("cells_gas_power") * wetter
    cells *= max(crumb.whole, 0.1) ** -c("cells_run_together")
    return Texture(
        firmness=firmness,
        cohesion=cohesion,
        springiness=springiness,
        chew=firmness * cohesion * springiness,
        cell_size=cells * acting.factor("cells"),
    )
