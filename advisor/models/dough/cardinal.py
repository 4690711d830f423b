"""How fast living things and enzymes work over temperature: the cardinal temperature model."""

from __future__ import annotations


def cardinal_rate(t_c: float, t_min: float, t_opt: float, t_max: float) -> float:
    """Rate relative to the optimum (0..1) at `t_c` degrees C.

    (T - Tmax)(T - Tmin)^2 / ((Topt - Tmin)[(Topt - Tmin)(T - Topt) - (Topt - Tmax)(Topt + Tmin - 2T)]),
    0 outside (Tmin, Tmax). Source: Rosso, Lobry, Flandrois 1993, J. Theor. Biol. 162, 447 (from memory).
    """
    if not t_min < t_c < t_max:
        return 0.0
    up = (t_c - t_max) * (t_c - t_min) ** 2
    down = (t_opt - t_min) * ((t_opt - t_min) * (t_c - t_opt) - (t_opt - t_max) * (t_opt + t_min - 2 * t_c))
    return min(max(up / down, 0.0), 1.0)
