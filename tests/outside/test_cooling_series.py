"""One-term cooling against the whole series of the slab and the cylinder.

Carslaw and Jaeger 1959, 3.11 (slab), 7.7 (cylinder), 5.6 (products).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from advisor.models.heat.cooling import cylinder_root, middle_decay, slab_root


def bessel(order, z):
    """Bessel's integral (Abramowitz and Stegun 1964, 9.1.21), by the trapezium rule, which is exact for it."""
    angle = np.linspace(0, np.pi, 401)
    return float(np.trapezoid(np.cos(order * angle - z * np.sin(angle)), angle) / np.pi)


def roots(balance, count):
    """The first roots of an increasing z-times-ratio balance, found by its changes of sign on a fine grid."""
    found, step, z = [], 0.01, 1e-6
    while len(found) < count:
        if balance(z) * balance(z + step) < 0:
            low, high = z, z + step
            for _ in range(50):
                middle = (low + high) / 2
                low, high = (low, middle) if balance(low) * balance(middle) <= 0 else (middle, high)
            found.append(low)
        z += step
    return found


def slab_middle(biot, fourier):
    found = roots(lambda z: z * math.sin(z) - biot * math.cos(z), 6)
    return sum(4 * math.sin(z) / (2 * z + math.sin(2 * z)) * math.exp(-z * z * fourier) for z in found)


def cylinder_axis(biot, fourier):
    total = 0.0
    for z in roots(lambda z: z * bessel(1, z) - biot * bessel(0, z), 4):
        j0, j1 = bessel(0, z), bessel(1, z)
        total += 2 * j1 / (z * (j0 * j0 + j1 * j1)) * math.exp(-z * z * fourier)
    return total


@pytest.mark.parametrize("biot", [0.2, 1.0, 4.0])
@pytest.mark.parametrize("fourier", [0.3, 0.6, 1.5])
@pytest.mark.parametrize(("first", "series"), [(slab_root, slab_middle), (cylinder_root, cylinder_axis)])
def test_first_term_is_the_series_from_a_fourier_number_on(biot, fourier, first, series):
    root, amplitude = first(biot)
    assert amplitude * math.exp(-root * root * fourier) == pytest.approx(series(biot, fourier), abs=0.005)


@pytest.mark.parametrize("biot", [0.01, 0.3, 2.0, 10.0, 60.0])
def test_roots_meet_their_equations(biot):
    z, _ = slab_root(biot)
    assert z * math.tan(z) == pytest.approx(biot, rel=1e-6)
    z, _ = cylinder_root(biot)
    assert z * bessel(1, z) / bessel(0, z) == pytest.approx(biot, rel=1e-6)


def test_square_bar_is_two_slabs():
    half, h, conductivity, capacity, seconds = 0.05, 12.0, 0.4, 1.4e6, 6000.0
    decay = middle_decay((half, half, 1e3), False, h, conductivity, capacity)
    slab = slab_middle(h * half / conductivity, conductivity / capacity * seconds / half**2)
    # the third pair of sides lies a kilometre off
    far = slab_root(h * 1e3 / conductivity)[1]
    assert decay.amplitude / far * math.exp(-decay.rate * seconds) == pytest.approx(slab**2, abs=0.005)


def test_short_cylinder_is_a_cylinder_and_a_slab():
    radius, half, h, conductivity, capacity, seconds = 0.1, 0.04, 12.0, 0.4, 1.4e6, 7200.0
    decay = middle_decay((radius, half, 1.0), True, h, conductivity, capacity)
    diffusivity = conductivity / capacity
    expected = cylinder_axis(h * radius / conductivity, diffusivity * seconds / radius**2) * slab_middle(
        h * half / conductivity, diffusivity * seconds / half**2
    )
    assert decay.amplitude * math.exp(-decay.rate * seconds) == pytest.approx(expected, abs=0.01)
