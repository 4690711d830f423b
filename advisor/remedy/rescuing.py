"""What can be done with the dough or the loaf at hand, where it can be saved and is safe."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.texts import Rescue


def rescues_for(
    found: Examination, knowledge: Knowledge, *, least: float, at_most: int = 3
) -> tuple[Rescue, ...]:
    """Rescues of the likeliest causes, for the dough before the bake and for the loaf after it.

    A cause counts from a probability of `least`; of the causes that a rescue serves the likeliest ranks it. None
    is given where the formula holds what makes it unsafe.
    """
    stage = "loaf" if found.after_bake else "dough"
    likely = {r.id: r.probability for r in found.diagnosis.causes if r.probability >= least}
    held = {trait for line in found.formula.lines for trait in line.all_traits}
    ranked = []
    for place, rescue in enumerate(knowledge.rescues.values()):
        weight = max((likely.get(cause, 0.0) for cause in rescue.for_), default=0.0)
        if rescue.stage == stage and weight > 0 and not held & set(rescue.not_with):
            ranked.append((-weight, place, rescue))
    return tuple(rescue for _, _, rescue in sorted(ranked, key=lambda item: item[:2])[:at_most])
