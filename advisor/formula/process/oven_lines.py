"""Process lines of the oven: how hot and how long, from cold, opened, tented, and an oven that is off its dial."""

from __future__ import annotations

from advisor.formula.process.process_values import Fields, Value, Words

OVEN = (
    "a temperature and a time: oven: 175 C for 70 min (fan, if it has one; from cold, if it is not preheated)"
)
OPENED = "one time in the oven, and how long if known: opened at: 40 min for 30 s"
RUNS = "how far the oven is off its dial: oven runs: 15 C cool, or oven runs: 10 C hot"
_LONGEST_OPEN_S = 600.0
MOST_OVEN_C = 350.0
_MOST_OFF_K = 60.0


def read_oven(words: Words) -> Fields:
    """Read "175 C for 70 min, fan, from cold"."""
    found: dict[str, Value] = {}
    if (value := words.take_temperature(60, MOST_OVEN_C)) is not None:
        found["oven_c"] = value
    if (value := words.take_time()) is not None:
        found["bake_min"] = value
    if "oven_c" not in found and (value := words.take_bare_heat()) is not None:
        found["oven_c"] = value
    if words.take("no fan", "without fan", "conventional", "static", "top and bottom heat"):
        found["oven_fan"] = False
    elif words.take("with fan", "fan assisted", "fan", "convection"):
        found["oven_fan"] = True
    if words.take(
        "from a cold oven", "from cold oven", "from a cold start", "from cold start", "from cold", "cold oven",
        "cold start", "start cold", "starting cold", "started cold", "not preheated", "without preheating",
        "no preheating", "no preheat",
    ):  # fmt: skip
        found["cold_start"] = True
    elif words.take("preheated", "pre heated", "hot oven"):
        found["cold_start"] = False
    if not found:
        raise words.fault()
    return found


def read_opened(words: Words) -> Fields:
    """Read "40 min for 30 s"."""
    if (at := words.take_time()) is None:
        raise words.fault()
    found: dict[str, Value] = {"opened_at_min": at}
    if (long := words.take_time()) is not None:
        seconds = round(long * 60, 6)
        if not 1 <= seconds <= _LONGEST_OPEN_S:
            raise words.fault(f"an oven open for {seconds:g} s is not between 1 and {_LONGEST_OPEN_S:g} s")
        found["opened_for_s"] = seconds
    return found


def read_runs(words: Words) -> Fields:
    """Read "15 C cool", "25 F hot", "-15 C"; "true" is an oven that keeps to its dial."""
    if words.take("true", "right", "exact", "as dialled"):
        return {"oven_offset_c": 0.0}
    cool = words.take("cooler", "cool", "colder", "cold", "low", "slow", "below", "under")
    hot = None if cool else words.take("hotter", "hot", "warmer", "warm", "high", "fast", "above", "over")
    signed = words.left.lstrip().startswith(("-", "−", "+"))
    if (value := words.take_difference(_MOST_OFF_K)) is None:
        raise words.fault()
    if signed and (cool or hot):
        raise words.fault("a sign and a word for hot or cool are once too many")
    if value and not (signed or cool or hot):
        raise words.fault("hot or cool is not said")
    words.take("than its dial", "than it says", "its dial", "than the dial", "the dial")
    return {"oven_offset_c": -value if cool else value}
