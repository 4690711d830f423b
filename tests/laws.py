"""How many examples a law is held against: few in every run, eight times as many with `--hypothesis-profile many`."""

from __future__ import annotations

from typing import Any

from hypothesis import HealthCheck, settings

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
    settings.register_profile("many", same, max_examples=8 * _USUAL)
    settings.register_profile("fresh", same, derandomize=False)
    settings.load_profile("same")


def examples(few: int, **more: Any) -> settings:
    """So many examples in a usual run, in proportion with another profile; `more` is what else differs from it."""
    return settings(max_examples=few * settings.default.max_examples // _USUAL, **more)
