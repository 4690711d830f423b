"""Says fields of a process to people, rounded, in the form of a process line: "176.7 C for 40 min, fan"."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.formula.process.process_values import Value
from advisor.formula.process.steps import OvenStep, Rise

_UNITS = (("_min", "min"), ("_cm", "cm"), ("_c", "C"), ("_g", "g"), ("_m", "m"), ("_s", "s"))


def said(field: str, value: Value) -> str:
    """Say one field with its unit, which stands at the end of its name."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        unit = next((u for end, u in _UNITS if field.endswith(end)), "")
        return f"{value:.4g} {unit}".strip()
    if isinstance(value, tuple):
        return ", then ".join(_step(step) for step in value)
    return str(value).replace("_", "-")


def _step(step: OvenStep | Rise | float) -> str:
    if isinstance(step, float | int):
        return f"{step:.4g} min"
    words = []
    if isinstance(step, OvenStep):
        words += [f"{step.celsius:.4g} C"] if step.celsius is not None else []
        words += [f"for {step.minutes:.4g} min"] if step.minutes is not None else []
        words += [] if step.lid is None else ["with lid" if step.lid else "without lid"]
        words += ["with steam"] if step.steam else []
    else:
        words += [f"{step.minutes:.4g} min"] if step.minutes is not None else []
        words += [f"at {step.celsius:.4g} C"] if step.celsius is not None else []
        words += [f"in the {step.place}"] if step.place else []
        words += [step.until if step.until == "overnight" else f"until {step.until}"] if step.until else []
    return " ".join(words)


def said_pan(fields: Mapping[str, Value]) -> str:
    """Say the kind and the sizes of a pan."""
    kind = str(fields.get("pan_kind", "tin")).replace("_", "-")
    cups = fields.get("pan_cups")
    kind = f"muffin tin {cups}" if cups else kind
    names = ("pan_length_cm", "pan_width_cm", "pan_height_cm")
    sizes = [f"{v:.4g}" for name in names if isinstance(v := fields.get(name), int | float)]
    sizes = sizes[1:] if kind == "round" else sizes
    whole = f"{' x '.join(sizes)} cm" if sizes else ""
    return whole if kind == "tin" and whole else f"{kind} {whole}".strip()


def said_oven(steps: tuple[OvenStep, ...], *, fan: bool | None) -> str:
    """Say what the oven does, step by step."""
    written = ", then ".join(_step(step) for step in steps)
    return written if fan is None else f"{written}, {'fan' if fan else 'no fan'}".lstrip(", ")
