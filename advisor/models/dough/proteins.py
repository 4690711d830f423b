"""What can carry the loaf: protein by class, setting protein, fillers, fat and gum against it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.hydration import WaterBudget


@dataclass(frozen=True, slots=True, kw_only=True)
class Framework:
    """Grams of what sets, binds and burdens the loaf."""

    by_class: dict[str, float]
    cheese_casein: float
    setting: float
    gum: float
    binder: float
    filler: float
    fat: float
    """Fat that can coat and shorten: all that is added, and the part that a meal lets go of."""
    reactive: float
    enzyme_units: float
    water_for_protein: float
    melting_casein: float = 0.0
    """Casein of cheese that melts in the oven and firms on cooling, as far as it makes one mass."""

    @property
    def total(self) -> float:
        """All protein, g."""
        return sum(self.by_class.values())

    @property
    def carrying(self) -> float:
        """Protein that could carry a loaf: gluten, egg, whey, casein and the setting part of legumes, g."""
        return sum(self.by_class.get(c, 0.0) for c in ("gluten", "egg_white", "yolk", "whey", "casein"))


def framework(formula: Formula, water: WaterBudget, knowledge: Knowledge) -> Framework:
    """Add up protein by class and what it has to carry [g].

    Setting protein = sum of protein x share that heat sets (knowledge/protein_classes.yaml) + the part of
    stretching cheese's casein that makes one mass and firms on cooling. Gum is in grams of psyllium; it binds
    `gum_binds` grams of setting protein's worth each. Water for protein is what no other absorber takes up.
    """
    by_class: dict[str, float] = {}
    other_casein = 0.0
    cheese_casein = gum = filler = fat = reactive = units = 0.0
    other_uptake = 0.0
    for line, uptake in zip(formula.lines, water.taken_up, strict=True):
        ingredient = line.ingredient
        protein = line.grams * ingredient.per_100g.protein / 100
        setting_here = 0.0
        for name, share in ingredient.protein_classes.items():
            by_class[name] = by_class.get(name, 0.0) + protein * share
            reactive += protein * share * knowledge.protein_classes[name].crosslinks_share
            setting_here += protein * share * knowledge.protein_classes[name].sets_share
        melts = "stretching_cheese" in line.all_traits
        if melts:
            cheese_casein += protein * ingredient.protein_classes.get("casein", 0.0)
        elif "melting_cheese" in line.all_traits:
            other_casein += protein * ingredient.protein_classes.get("casein", 0.0)
        if ingredient.gum_equivalent is not None:
            gum += line.grams * ingredient.gum_equivalent.value
        if "filler" in ingredient.roles:
            filler += filler_g(line, knowledge)
        in_cells = "meal" in ingredient.roles and "fat" not in ingredient.roles
        fat += (
            line.grams
            * ingredient.per_100g.fat
            / 100
            * (knowledge.coefficient("meal_fat_free_share") if in_cells else 1.0)
        )
        if ingredient.enzyme_u_per_g is not None:
            units += line.grams * ingredient.enzyme_u_per_g.value
        # Gluten's uptake is its protein's own water; that of a flour is split by what its protein could hold.
        # Water in caseinate is still to be set: the powder thickens it and stays liquid in the oven.
        flows = (
            protein * ingredient.protein_classes.get("casein", 0.0) if "casein" in ingredient.roles else 0.0
        )
        own = (setting_here + flows) * knowledge.coefficient("protein_own_uptake")
        other_uptake += max(uptake - own, 0.0)
    melting = cheese_casein * knowledge.coefficient("cheese_casein_network_share")
    melting += other_casein * knowledge.coefficient("melting_casein_network_share")
    setting = sum(g * knowledge.protein_classes[c].sets_share for c, g in by_class.items()) + melting
    return Framework(
        by_class=by_class,
        cheese_casein=cheese_casein,
        setting=setting,
        gum=gum,
        binder=setting + gum * knowledge.coefficient("gum_binds"),
        filler=filler,
        fat=fat,
        reactive=reactive,
        enzyme_units=units,
        water_for_protein=max(water.available - other_uptake, 0.0),
        melting_casein=melting,
    )


def filler_g(line: Line, knowledge: Knowledge) -> float:
    """Give a filler in grams of dry meal: pulp counts by its solids, and in part what lies in pieces."""
    c = knowledge.coefficient
    solids = min((100 - line.ingredient.per_100g.water) / c("filler_solids_pct"), 1.0)
    return line.grams * solids * (c("filler_in_pieces") if "in_pieces" in line.all_traits else 1.0)


def setting_protein_pct(frame: Framework, available_water: float, least_free_share: float) -> float | None:
    """100 x setting protein / (setting protein + water that no absorber holds) [%].

    A custard of one egg to 250 mL milk sets softly near 2.4 % egg protein; a boiled egg is near 14 %.
    `None` without both, and where absorbers leave the protein less than `least_free_share` of the water: what is
    left is then a small difference of large numbers.
    """
    whole = frame.setting + frame.water_for_protein
    if whole <= 0 or frame.water_for_protein < least_free_share * available_water:
        return None
    return 100 * frame.setting / whole


def share(part: float, whole: float) -> float | None:
    """part / whole (-), or `None` where there is no whole."""
    return part / whole if whole > 0 else None
