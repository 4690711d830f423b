"""A published core curve: a small wheat bread in a convection oven, minute by minute.

Zhang J, Datta AK, Mukherjee S (2005). Transport processes and large deformation during baking of bread. AIChE
Journal 51:2569-2580, doi:10.1002/aic.10518. The points are those of its figure, and size (radius 36 mm, height
35 mm before the bake), dough (about 290 kg/m3, 0.35 kg of water per kg) and oven (190 C, constant) those that
doi:10.14311/TPFM.2025.015 gives for the same experiment in its data files. Assumed here: the composition of a
lean wheat dough, a tray beneath, no fall of the oven's air, and the size at the start throughout. The model gives
the coldest point wherever it lies, the paper a probe in the middle, which is a little ahead of it early on.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries
from advisor.models.heat.oven import LoafHeat, OvenCoefficients, bake

FILE = Path(__file__).parents[2] / "knowledge" / "coefficients.yaml"
VALUES = {entry.id: entry.value for entry, _ in read_entries(FILE, FILE.name, Coefficient)}
OVEN = replace(OvenCoefficients.read(VALUES.__getitem__), door_drop_c=0.0)
BREAD = LoafHeat(
    width_m=0.072,
    height_m=0.035,
    water_frac=0.35,
    protein_frac=0.08,
    fat_frac=0.03,
    carb_frac=0.52,
    ash_frac=0.02,
    density_kg_m3=290,
    start_c=23.7,
    oven_c=190,
    pan="rolls",
)
MINUTES = np.arange(14.0)
MEASURED_C = np.array([23.7, 24.6, 28.3, 35.9, 45.8, 57.9, 68.8, 79.8, 88.0, 93.1, 95.4, 96.4, 97.0, 97.3])


@pytest.fixture(scope="module")
def curves():
    return bake(BREAD, OVEN, 14, 75, target_c=97)


@pytest.mark.parametrize(("core_c", "within_min"), [(50, 1.4), (60, 1.1), (70, 0.8), (80, 0.6), (90, 1.3)])
def test_core_passes_each_temperature_when_the_paper_says(core_c, within_min, curves):
    assert curves.core_reaches(core_c) == pytest.approx(
        np.interp(core_c, MEASURED_C, MINUTES), abs=within_min
    )


def test_core_ends_on_the_plateau_below_boiling(curves):
    assert curves.core_at(13) == pytest.approx(MEASURED_C[-1], abs=2.5)
