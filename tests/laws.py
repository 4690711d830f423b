"""How many examples a law is held against: few in every run, three times as many with `--hypothesis-profile many`."""

from __future__ import annotations

from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis.internal.conjecture import providers

_USUAL = 100


def register_profiles() -> None:
    """Make the profiles known and take up the usual one, which every test inherits.

    It draws the same examples in every run, so that a failure is a finding and not a chance, and keeps none on disk.
    `many` draws more of them, `fresh` others each time.
    """
    settings.register_profile(
        "same", max_examples=_USUAL, derandomize=True, database=None, deadline=None, report_multiple_bugs=False,
        suppress_health_check=[HealthCheck.too_slow],
    )  # fmt: skip
    same = settings.get_profile("same")
    settings.register_profile("many", same, max_examples=3 * _USUAL)
    settings.register_profile("fresh", same, derandomize=False)
    settings.load_profile("same")
    _draw_alike_whatever_is_loaded()


def _draw_alike_whatever_is_loaded() -> None:
    """Keep hypothesis from drawing the numbers and words that stand in the code of this project.

    It takes them from whatever modules are loaded, so that each law would meet other examples in a run of one folder
    than in a run of all, and others again after any change of a number; and it reads 500 files for them.
    """
    local = providers.is_local_module_file
    providers.is_local_module_file = lambda path: not settings.default.derandomize and local(path)


def examples(few: int, **more: Any) -> settings:
    """So many examples in a usual run, in proportion with another profile; `more` is what else differs from it."""
    return settings(max_examples=few * settings.default.max_examples // _USUAL, **more)
