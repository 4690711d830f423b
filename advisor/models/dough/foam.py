"""Whipped egg white: how much of the dough is foam, and how much air a dough holds after mixing."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.proteins import Framework


def white_share(frame: Framework, dough_g: float, knowledge: Knowledge) -> float:
    """Egg white over the dough (-), by its protein as liquid white: that of whole egg and powder counts too."""
    white = frame.by_class.get("egg_white", 0.0) / knowledge.coefficient("liquid_white_protein")
    return white / dough_g if dough_g > 0 else 0.0


def is_foam(formula: Formula, frame: Framework, dough_g: float, knowledge: Knowledge) -> bool:
    """A batter that is mostly whipped white has no consistency at mixing that water could set."""
    whipped = bool(formula.process.whites_whipped)
    return whipped and white_share(frame, dough_g, knowledge) > knowledge.coefficient("foam_from_white_share")


def air_share(
    formula: Formula, frame: Framework, dough_g: float, weights: Mapping[str, float], knowledge: Knowledge
) -> float:
    """Air in the dough after mixing, by volume (0..1).

    A kneaded dough takes in little, a beaten batter more; whipped white most, in the measure of how much white
    there is to whip. Figures stand in knowledge/coefficients.yaml.
    """
    c = knowledge.coefficient
    if formula.process.whites_whipped:
        most = min(white_share(frame, dough_g, knowledge) / c("white_share_for_full_foam"), 1.0)
        return most * c("air_whipped") + (1 - most) * c("air_batter")
    kneaded = weights.get("kneaded_gluten", 0.0)
    return kneaded * c("air_kneaded") + (1 - kneaded) * c("air_batter")
