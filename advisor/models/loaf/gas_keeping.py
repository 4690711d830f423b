"""What beside its structure helps or hinders a dough in keeping gas: gums, filler, stiffness, whey, fat and enzyme."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Structure
from advisor.models.dough.cardinal import cardinal_rate
from advisor.models.dough.composition import dry_base
from advisor.models.dough.proteins import Framework, filler_g

GASTIGHT = ("kneaded_gluten", "gluten_egg")
"""Structures whose films are gluten's."""
WEAK_FILMS = ("starch_gel", "gum_bound")
"""Structures whose films are a gum's, with no network of their own before the oven."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gum:
    """One gum of the dough: grams as psyllium, and how good a film it makes in the proof and in the oven (0..1)."""

    grams: float
    in_proof: float
    in_oven: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmMakers:
    """What acts on the films between bubbles; per cent are of the dry base.

    `filler_weighed` is filler over the dry base (-), each kind by its weight; `gluten_fill` and `egg_fill` how full
    their films are; `improved` what knowledge/influences does to films. `whey_to_gluten` is native whey protein over
    gluten (g/g), `whey` the same over the dry base, `surfactant` free caseinate, `rivals` protein that goes to the
    bubble's surface in a gum's place, `heat_set` egg white protein, `added_fat` what is added as fat; `linked` the
    enzyme's dose on all protein (U/g), and `linking` that dose times minutes at its best.
    """

    gums: tuple[Gum, ...] = ()
    hydration: float | None = None
    filler_weighed: float = 0.0
    gluten_fill: float = 1.0
    egg_fill: float = 1.0
    improved: float = 1.0
    whey_to_gluten: float = 0.0
    whey: float = 0.0
    surfactant: float = 0.0
    rivals: float = 0.0
    heat_set: float = 0.0
    added_fat: float = 0.0
    linked: float = 0.0
    linking: float = 0.0


def film_makers(
    formula: Formula,
    frame: Framework,
    hydration: float | None,
    stages: tuple[tuple[float, float], ...],
    knowledge: Knowledge,
) -> FilmMakers:
    """Sort the lines of a formula by what they do to films; `stages` are (minutes, degrees C) before the oven."""
    c = knowledge.coefficient
    dry = dry_base(formula)
    # Gums of one quality act together, on however many lines they stand.
    gums: dict[tuple[float, float], float] = {}
    filler = whey = surfactant = rivals = fat = 0.0
    for line in formula.lines:
        item, traits = line.ingredient, line.all_traits
        protein = line.grams * item.per_100g.protein / 100
        if item.gum_equivalent is not None:
            proof, oven = item.film_in_proof, item.film_in_oven
            quality = (
                proof.value if proof else c("film_in_proof_usual"),
                oven.value if oven else c("film_in_oven_usual"),
            )
            gums[quality] = gums.get(quality, 0.0) + line.grams * item.gum_equivalent.value
        if "filler" in item.roles:
            filler += filler_g(line, knowledge) * (item.filler_weight.value if item.filler_weight else 1.0)
        dried = item.per_100g.water < c("dried_below_water") and "native_whey" not in traits
        native = c("native_whey_of_dried") if dried else 1.0
        whey += native * protein * item.protein_classes.get("whey", 0.0)
        if "surface_active" in traits:
            surfactant += protein
        rivals += protein * sum(
            s * c("surface_rival_" + n) for n, s in item.protein_classes.items() if n in _RIVALS
        )
        if "fat" in item.roles:
            fat += line.grams * item.per_100g.fat / 100
    gluten = frame.by_class.get("gluten", 0.0)
    corners = (c("crosslinker_min_c"), c("crosslinker_optimum_c"), c("crosslinker_max_c"))
    dose = frame.enzyme_units / frame.total if frame.total > 0 else 0.0
    return FilmMakers(
        gums=tuple(Gum(grams=g, in_proof=a, in_oven=b) for (a, b), g in gums.items()),
        hydration=hydration,
        filler_weighed=filler / dry if dry > 0 else 0.0,
        whey_to_gluten=whey / gluten if gluten > 0 else 0.0,
        whey=100 * whey / dry if dry > 0 else 0.0,
        surfactant=100 * surfactant / dry if dry > 0 else 0.0,
        rivals=100 * rivals / dry if dry > 0 else 0.0,
        heat_set=100 * frame.by_class.get("egg_white", 0.0) / dry if dry > 0 else 0.0,
        added_fat=100 * fat / dry if dry > 0 else 0.0,
        linked=dose,
        linking=dose * sum(minutes * cardinal_rate(t, *corners) for minutes, t in stages),
    )


_RIVALS = ("egg_white", "legume")


def gum_film(makers: FilmMakers, water_g: float, structure: Structure, knowledge: Knowledge) -> float:
    """Share of its retention that a structure keeps by the film that its gums make (0..1).

    1 where the structure needs none. Else bare + (1 - bare) (proof + oven) / 2: a gum thickens the film in the
    proof and holds it in the oven, each as well as its kind can and as far as there is enough of it; of several,
    the best in each counts. Cellulose ethers gel as they warm, others thin (Haque and Morris 1994). What is kept
    without gum falls as the batter gets thinner, since bubbles rise out of it.
    """
    if structure.needs_gum is None:
        return 1.0
    c = knowledge.coefficient
    wet = _thinness(makers.hydration, structure, knowledge)
    bare = wet * c("gas_kept_without_gum") + (1 - wet) * c("gas_kept_without_gum_stiff")
    if water_g <= 0:
        return bare
    best = [0.0, 0.0]
    for gum in makers.gums:
        fill = min(100 * gum.grams / water_g / structure.needs_gum.value, 1.0)
        best = [max(best[0], gum.in_proof * fill), max(best[1], gum.in_oven * fill)]
    return bare + (1 - bare) * (best[0] + best[1]) / 2


def _thinness(hydration: float | None, structure: Structure, knowledge: Knowledge) -> float:
    """How far a gumless batter is thinned to where all bubbles rise (0..1); 1 where nothing is known of it.

    It begins a little below `stiff_below` and is done at a share of the way on to `slack_above`.
    """
    if hydration is None or structure.stiff_below is None or structure.slack_above is None:
        return 1.0
    low, high = structure.stiff_below.value, structure.slack_above.value
    over = hydration - knowledge.coefficient("gumless_thins_from") * low
    return min(max(over / (knowledge.coefficient("gumless_thin_share") * (high - low)), 0.0), 1.0)


def consistency(makers: FilmMakers, structure: Structure, knowledge: Knowledge) -> float:
    """Share of the retention that is left by how stiff or slack the dough is (0.5..1).

    1 - cost d^2, with d how far the hydration lies below `stiff_below` or above `slack_above`, over that edge:
    a stiff dough holds its gas back, a slack one lets it go (Ren et al. 2020).
    """
    if makers.hydration is None or structure.stiff_below is None or structure.slack_above is None:
        return 1.0
    low, high = structure.stiff_below.value, structure.slack_above.value
    below = max(1 - makers.hydration / low, 0.0)
    above = max(makers.hydration / high - 1, 0.0)
    c = knowledge.coefficient
    return max(1 - c("stiffness_cost") * below**2 - c("slackness_cost") * above**2, 0.5)


def film_strength(makers: FilmMakers, weights: Mapping[str, float], knowledge: Knowledge) -> float:
    """How well films keep gas with what else is in the dough, over those of the structure alone (-).

    Helps and hindrances multiply; each acts as far as its structures are in play (`weights`, summing to 1).
    """
    gluten = sum(weights.get(s, 0.0) for s in GASTIGHT)
    kneaded = weights.get("kneaded_gluten", 0.0)
    weak = sum(weights.get(s, 0.0) for s in WEAK_FILMS)
    c = knowledge.coefficient
    # Native whey loosens gluten's own bonds (Soogund and Santchurn).
    whey = 1 / (1 + gluten * c("whey_costs_gluten") * makers.whey_to_gluten)
    # Caseinate goes to the bubble's surface and lines it.
    lined = 1 + (gluten + weak) * c("caseinate_helps") * (
        1 - math.exp(-makers.surfactant / c("caseinate_scale"))
    )
    lined += weak * c("whey_helps_weak") * (1 - math.exp(-makers.whey / c("caseinate_scale")))
    # Some solid fat lines bubbles in a kneaded dough; it peaks and goes (Moore and Hoseney 1986).
    part = makers.added_fat / c("fat_helps_most_at")
    fat = 1 + kneaded * c("fat_helps") * part * math.exp(1 - part)
    done = 1 - math.exp(-makers.linking / c("linking_scale"))
    over = max(makers.linked - c("linking_too_much_from"), 0.0)
    lost = min(c("linking_costs_weak") * over, c("linking_costs_weak_most"))
    tied = 1 + weak * (c("linking_helps_weak") * done - lost)
    strong = max(makers.linked - c("linking_costs_gluten_from"), 0.0)
    tight = 1 / (1 + gluten * c("linking_costs_gluten") * strong)
    return max(whey * lined * fat * tied * tight * _surface(makers, weak, knowledge), 0.3)


def _surface(makers: FilmMakers, weak: float, knowledge: Knowledge) -> float:
    """Protein against a heat-gelling gum for the bubble's surface, until there is enough to set walls of its own.

    Source: Crockett, Ie and Vodovotz 2011, Food Chem 129, 84 (from memory).
    """
    c = knowledge.coefficient
    gelling = max((g.in_oven for g in makers.gums if g.grams > 0), default=0.0) >= c("film_in_oven_gelling")
    rival = (
        c("surface_rivals_cost") * makers.rivals / (makers.rivals + c("surface_rivals_half"))
        if gelling
        else 0.0
    )
    walls = c("set_walls_help") * min(
        max(makers.heat_set - c("set_walls_from"), 0.0) / c("set_walls_scale"), 1.0
    )
    return 1 - weak * (rival - walls)


def gas_retention(
    makers: FilmMakers, weights: Mapping[str, float], water_g: float, knowledge: Knowledge
) -> float:
    """Share of the gas that a dough keeps (0..1): each structure's own, with its films, and blended by weight.

    r film consistency / (1 + c f), times the strength of the films: bran, fibre and meal pierce gluten, so keeping
    falls with the filler f, each kind by its own weight (fine pulse flour little). Gluten and egg count by how full
    their films are. No dough keeps more than all: near 1 the sum bends to it. All figures stand in knowledge/.
    """
    kept = 0.0
    for name, weight in weights.items():
        structure = knowledge.structures[name]
        cost = structure.filler_cost.value if structure.filler_cost else 0.0
        film = gum_film(makers, water_g, structure, knowledge) * consistency(makers, structure, knowledge)
        fill = makers.gluten_fill if name in GASTIGHT else makers.egg_fill if name == "egg_set" else 1.0
        kept += weight * film * fill * structure.retention.value / (1 + cost * makers.filler_weighed)
    kept *= film_strength(makers, weights, knowledge) * makers.improved
    bent: float = (1 + kept**6) ** (1 / 6)
    return kept / bent
