"""Which of our names mean a slip that a case tells of: written down before any case had been seen.

A slip of an amount is `half_weighed:ingredient`, and as good as it is the cause that says the same of the dough (half
the salt is too little salt). Other slips are the slips and causes listed for their kind, by words of what went wrong.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from advisor import load_knowledge
from advisor.formula.formula import Formula

AMOUNT = {"weighed_half": "half_weighed", "weighed_double": "doubled", "left_out": "left_out"}

SAME_AS_LESS = {
    "water": "too_little_water", "salt": "too_little_salt", "yeast": "too_little_leavening",
    "leavening": "too_little_leavening", "binder": "too_little_binder", "gluten": "too_little_setting_protein",
    "egg": "too_little_setting_protein",
}  # fmt: skip
SAME_AS_MORE = {
    "water": "excess_water", "salt": "excess_salt", "yeast": "excess_yeast", "leavening": "excess_leavening",
    "binder": "excess_gum", "gluten": "excess_gluten", "egg": "excess_setting_protein", "fat": "excess_fat",
    "filler": "excess_filler", "soda": "excess_soda", "acid": "excess_acid", "sweetener": "excess_sweetener",
}  # fmt: skip
WORDS_OF = {
    "water": r"\bwater\b", "salt": r"\bsalt\b", "yeast": r"\byeast\b", "leavening": r"baking powder|\bsoda\b|bicarb",
    "binder": r"psyllium|xanthan|guar|gum|flax|chia|glucomannan|konjac|hpmc|methylcellulose", "gluten": r"gluten",
    "egg": r"\begg", "fat": r"\boil\b|butter|\bfat\b|lard|ghee",
    "filler": r"meal|almond|coconut|lupin|fibre|fiber|flour|seed",
    "soda": r"\bsoda\b|bicarb", "acid": r"vinegar|lemon|acid",
    "sweetener": r"sugar|erythritol|allulose|sweetener|honey",
}  # fmt: skip

BY_KIND: Mapping[str, tuple[tuple[str, tuple[str, ...]], ...]] = {
    "dead_leaven": (
        (r"yeast", ("dead_yeast", "inactive_yeast", "yeast_badly_woken")),
        (r"", ("dead_powder", "spent_leavening")),
    ),
    "oven_cool": ((r"", ("oven_low", "oven_too_cool", "oven_not_preheated")),),
    "oven_hot": ((r"", ("oven_high", "oven_too_hot")),),
    "opened_early": (
        (r"lid|steam", ("lid_lifted_early", "opened", "disturbed_before_set")),
        (r"", ("opened", "disturbed_before_set")),
    ),
    "cut_hot": ((r"", ("cut_hot", "sliced_hot")),),
    "cold_ingredients": ((r"", ("cold_liquid", "dough_too_cold")),),
    "under_proofed": (
        (r"soak|hydrat|swell|psyllium|gel", ("binder_not_hydrated", "short_proof", "underproofed")),
        (r"\brest", ("short_proof", "underproofed", "gluten_not_rested", "binder_not_hydrated")),
        (r"", ("short_proof", "underproofed")),
    ),
    "over_proofed": (
        (r"", ("long_proof", "overproofed", "over_rested", "early_gas_loss", "fast_powder_long_proof")),
    ),
    "wrong_pan": ((r"", ("overfilled_pan", "underfilled_pan", "rolled_too_thick")),),
    "wrong_order": (
        (r"psyllium|gum|xanthan|clump", ("gum_in_clumps", "binder_not_hydrated")),
        (r"vinegar|acid|soda|lemon", ("early_gas_loss", "over_rested", "acid_too_early")),
        (r"gluten", ("gluten_wetted_first", "fat_before_hydration")),
        (r"white", ("foam_lost", "whites_not_whipped")),
        (r"\bhot\b|boil|scald", ("egg_set_by_heat", "inactive_yeast", "dead_yeast", "yeast_badly_woken")),
        (r"oil|butter|fat", ("fat_before_hydration",)),
        (r"yeast", ("inactive_yeast", "dead_yeast", "yeast_badly_woken")),
        (r"", ("undermixed", "badly_mixed")),
    ),
    "other": (
        (r"cool(ed|ing)? in|left in (the|its) (pan|tin)", ("in_its_pan", "cooled_in_pan")),
        (r"whites?\b.*(stir|deflat|fold|stood|knock)", ("foam_lost",)),
        (r"whites?\b", ("whites_not_whipped", "foam_lost")),
        (r"over.?mix|over.?bea|too long in the mixer|mixed (far )?too (long|much)", ("overmixed",)),
        (r"under.?mix|not mixed|mixed (too )?(short|little)|streak|barely mixed|lump", ("undermixed", "badly_mixed")),
        (r"(hot|boiling|scald)[^.]*(water|liquid|milk)|(water|liquid|milk)[^.]*(hot|boiling|scald)",
         ("inactive_yeast", "dead_yeast", "yeast_badly_woken", "egg_set_by_heat", "dough_too_warm")),
        (r"preheat|cold oven", ("oven_not_preheated", "oven_low", "oven_too_cool")),
        (r"shelf|rack", ("wrong_shelf",)),
        (r"coarse|grind|ground", ("coarse_meal",)),
        (r"rancid|stale|old (meal|flax|nut)", ("stale_or_bitter_ingredient",)),
        (r"bag(ged)? (of )?(grated )?cheese|pre.?grated|anti.?cak", ("coated_cheese",)),
        (r"rolled|thick", ("rolled_too_thick",)),
        (r"wrap|bag|stored", ("stored_warm_and_moist", "in_its_pan", "cooled_in_pan")),
        (r"(out|taken|took|pulled)[^.]*(early|before|short)|under.?bak|timer|min(utes)? (early|short)",
         ("short_bake", "underbaked")),
        (r"(left|baked)[^.]*(too long|longer|extra)|forgot[^.]*oven", ("long_bake", "overbaked")),
        (r"rest|soak|swell|hydrat", ("binder_not_hydrated", "gluten_not_rested", "short_proof")),
        (r"door|moved|knock|bang|turned", ("opened", "disturbed_before_set")),
        (r"shap|pan(ned|ning)|drop|air", ("trapped_air_at_panning",)),
        (r"fan", ("oven_high", "oven_too_hot")),
    ),
}  # fmt: skip


def accepted(case: Mapping[str, Any], formula: Formula) -> frozenset[str]:
    """Give every name that means the slip of a case."""
    kind, what, slip = case["slip_kind"], str(case["what"]).lower(), str(case["slip"]).lower()
    if kind in AMOUNT:
        same = SAME_AS_MORE if kind == "weighed_double" else SAME_AS_LESS
        causes = {cause for sort, cause in same.items() if re.search(WORDS_OF[sort], what)}
        return frozenset({f"{AMOUNT[kind]}:{name}" for name in lines_meant(what, formula)} | causes)
    for words, names in BY_KIND.get(kind, ()):
        if re.search(words, f"{what} {slip}"):
            # A slip that is a cause of the graph means what the cause means.
            slips = {s.id for s in load_knowledge().hand_slips.values() if s.cause in names}
            return frozenset({*names, *slips})
    return frozenset()


def lines_meant(what: str, formula: Formula) -> set[str]:
    """Give the ingredients whose lines share most words with what is said to have been weighed wrongly."""
    wanted = _words(what)
    shared = {
        line.ingredient.id: len(wanted & (_words(line.ingredient.name) | _words(line.text)))
        for line in formula.lines
    }
    most = max(shared.values(), default=0)
    return {name for name, count in shared.items() if count == most} if most else set()


def _words(text: str) -> set[str]:
    return {w.rstrip("s") for w in re.findall(r"[a-z]+", text.lower()) if len(w) > 1 and w != "g"}
