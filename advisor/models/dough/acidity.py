"""pH of the crumb: what acids and soda give against what protein and ash hold."""

from __future__ import annotations

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough_state import DoughState


def crumb_ph(dough_state: DoughState, fermented_g: float, knowledge: Knowledge) -> float | None:
    """pH at which the charges of a baked dough balance (-); `None` without anything that buffers.

    sum a_i / (1 + 10^(pK_i - pH)) - s / (1 + 10^(pH - pK_c)) = b (pH_0 - pH) per 100 g of dough, with a_i the meq of
    each acid (Henderson-Hasselbalch), s the meq of soda, pK_c where carbonate holds back, b the buffering of
    protein and ash [meq/pH] and pH_0 what that buffer stands at by itself. Yeast adds the acids of its own work.
    Buffering is calibrated on three wheat sourdoughs (tests/outside/test_acidity.py), and not checked on others.
    Validity: pH 2.5 to 10.5, to which the answer is held.
    """
    c, dough = knowledge.coefficient, dough_state.dough
    to_100g = 100 / dough.total if dough.total > 0 else 0.0
    holds = [
        (c("buffer_of_protein") * grams * to_100g, knowledge.protein_classes[name].own_ph.value)
        for name, grams in dough_state.frame.by_class.items()
    ]
    holds.append((c("buffer_of_ash") * dough.ash * to_100g, c("buffer_ash_ph")))
    buffer = sum(b for b, _ in holds)
    if buffer <= 0:
        return None
    rests_at = sum(b * ph for b, ph in holds) / buffer
    acids = [(a.meq * to_100g, a.acid.half_given_ph.value) for a in dough_state.soda.acids]
    acids.append((fermented_g * c("yeast_acid_meq_per_g") * to_100g, c("yeast_acid_half_ph")))
    soda = dough_state.soda.soda_meq * to_100g

    def surplus(ph: float) -> float:
        given = sum(meq / (1 + 10 ** (pk - ph)) for meq, pk in acids)
        taken = soda / (1 + 10 ** (ph - c("carbonate_half_ph")))
        return float(given - taken - buffer * (rests_at - ph))

    low, high = 2.5, 10.5
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (low, middle) if surplus(middle) > 0 else (middle, high)
    return (low + high) / 2
