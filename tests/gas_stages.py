"""A dough taken through bowl, rest, proof and a plain oven, for the tests of gas."""

from __future__ import annotations

from advisor.models.heat.warming import even_warming
from advisor.models.leavening.acid_release import ReleaseRates
from advisor.models.leavening.fermentation import (
    Food,
    Progress,
    Step,
    YeastGas,
    ferment,
    relative_rate,
    yeast_gas,
    yeast_in,
)
from advisor.models.leavening.neutralisation import ChemicalGas, Standing, chemical_gas, soda_and_acids

HELD_MIN = 20


def oven(start_c=27.0, per_min=2.0, to_c=95.0, hold_min=HELD_MIN):
    """A loaf that warms alike all through."""
    return even_warming(start_c, per_min, to_c, float(hold_min))


def soda_gas(
    formula, knowledge, *, mix_min=5.0, after=((5.0, 24.0),), warming=None, set_c=80.0
) -> ChemicalGas:
    """Chemical gas of a formula by stage."""
    standing = Standing(
        mix_min=mix_min, last_min=knowledge.coefficient("acid_last_mix_min"), dough_c=24.0, after=tuple(after)
    )
    heat = warming or oven()
    return chemical_gas(
        soda_and_acids(formula, knowledge), standing, heat, set_c, ReleaseRates.read(knowledge)
    )


def fermented_gas(
    formula, around, knowledge, *, dough_c=30.0, rest_min=0.0, proof_min=68.0, proof_c=30.0
) -> YeastGas:
    """Gas of yeast at even temperatures, without an oven."""
    yeast = yeast_in(formula, around, dough_c, knowledge)
    start = Progress(minutes=0, made=0, could=0, food=yeast.food if yeast else Food())
    if yeast is None:
        return yeast_gas(None, start, start, start, knowledge)

    def steps(minutes, t_c):
        n = max(round(minutes), 1)
        return [Step(minutes=minutes / n, relative=relative_rate(t_c, knowledge), amylase=1.0)] * n

    rest = ferment(yeast, start, steps(rest_min, dough_c), knowledge)[-1]
    proof = ferment(yeast, rest, steps(proof_min, proof_c), knowledge)[-1]
    return yeast_gas(yeast, rest, proof, proof, knowledge)
