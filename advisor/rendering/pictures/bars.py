"""Pictures made of bars: composition, water, leavening, and risks before and after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import number, percent
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.pictures.scene import (
    DARK,
    FAINT,
    INK,
    LIGHT,
    MIDDLE,
    PALE,
    PAPER,
    Pattern,
    Scene,
    text_width,
)

WIDTH = 900.0
_LEFT, _RIGHT = 150.0, 30.0
_LOOKS: tuple[tuple[str, Pattern], ...] = (
    (DARK, "plain"), (LIGHT, "plain"), (MIDDLE, "lines"), (PALE, "dots"), (MIDDLE, "plain"), (LIGHT, "cross"),
    (PALE, "plain"),
)  # fmt: skip
"""Fill and pattern of the parts of a bar, so that no two neighbours look alike in grey."""
_ON_DARK = {DARK: PAPER}


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of a bar."""

    name: str
    value: float


def composition_picture(found: Examination) -> Scene:
    """Water, protein, fat, net carbohydrate, fibre and the rest in 100 g of dough."""
    dough, net = found.workings.dough_state.dough, found.workings.net
    named = [
        ("water", dough.water), ("protein", dough.protein), ("fat", dough.fat), ("fibre", dough.fibre),
        ("net carbohydrate", max(net.net, 0.0)),
    ]  # fmt: skip
    rest = dough.total - sum(value for _, value in named)
    parts = [
        Part(name=n, value=100 * v / dough.total) for n, v in [*named, ("salts, polyols, the rest", rest)]
    ]
    parts = [part for part in parts if part.value >= 0.05]
    said = ", ".join(f"{part.name} {part.value:.1f} g" for part in parts)
    scene = Scene(
        id="composition", title="What is in 100 g of dough", says=said + ".", width=WIDTH, height=150
    )
    _heading(scene)
    _bar(scene, 48, 44, parts, 100.0, "g")
    return scene


def water_picture(found: Examination, knowledge: Knowledge) -> Scene:
    """Water that is there against water that binders take up and the baked loaf holds, grams of the whole dough."""
    water, lines = found.workings.dough_state.water, found.formula.lines
    there = _by_line(lines, [a + b for a, b in zip(water.from_water, water.from_solids, strict=True)])
    taken, held = _by_line(lines, water.taken_up), _by_line(lines, water.held_when_baked)
    widest = max(water.available, water.absorption, water.holding, 1.0)
    rows = (
        ("there is", there, water.available), ("dough takes up", taken, water.absorption),
        ("baked, it holds", held, water.holding),
    )  # fmt: skip
    says = "; ".join(f"{label} {total:.0f} g ({_listed(parts)})" for label, parts, total in rows)
    scene = Scene(id="water", title="The water and who holds it", says=says + ".", width=WIDTH, height=372)
    _heading(scene)
    y = 48.0
    for label, parts, total in rows:
        scene.words(_LEFT - 10, y + 20, label, anchor="end")
        scene.words(_LEFT - 10, y + 38, f"{total:.0f} g", anchor="end", bold=True)
        _bar(scene, y, 44, parts, widest, "g")
        y += 94
    across = (WIDTH - _LEFT - _RIGHT) / widest
    edge = _LEFT + across * water.available
    load = found.inference.judged.get("baked_water_load")
    if load is not None and load.low is not None and load.high is not None:
        low, high = load.low * water.holding, load.high * water.holding
        scene.says = f"{scene.says} It keeps {low:.0f} to {high:.0f} g well."
        a, b = _LEFT + across * low, _LEFT + across * high
        scene.stroke((a, 316), (b, 316), line=4)
        scene.words(a, 336, f"keeps {low:.0f} to {high:.0f} g well", size=14)
    scene.words(_LEFT, 360, "Dashed line: as far as the water that there is.", size=14, ink=FAINT)
    for top in (48.0, 48.0 + 94, 48.0 + 188):  # how far the water would reach, at every bar
        scene.stroke((edge, top - 6), (edge, top + 50), line=2, dash="dashed")
    return scene


def _by_line(lines: Sequence[object], values: Sequence[float]) -> list[Part]:
    sums: dict[str, float] = {}
    for line, value in zip(lines, values, strict=True):
        name = str(getattr(line, "ingredient").name)  # noqa: B009
        sums[name] = sums.get(name, 0.0) + value
    parts = sorted((Part(name=n, value=v) for n, v in sums.items() if v > 0.5), key=lambda p: -p.value)
    rest = sum(part.value for part in parts[5:])
    return parts[:5] + ([Part(name="others", value=rest)] if rest > 0 else [])


def _listed(parts: Sequence[Part]) -> str:
    return ", ".join(f"{part.name} {part.value:.0f}" for part in parts)


_STAGES = (
    ("co2_mix", "mixing"), ("co2_bench", "bench, proof"), ("co2_early_oven", "early oven"),
    ("co2_late_oven", "late oven"),
)  # fmt: skip


def leavening_picture(found: Examination, knowledge: Knowledge) -> Scene:
    """Gas by stage, mL of carbon dioxide in 100 g of dough, and what is left of soda or acid."""
    values = [(label, found.situation.measures.get(name, 0.0)) for name, label in _STAGES]
    soda = found.situation.measures.get("residual_soda_meq", 0.0)
    acid = found.situation.measures.get("residual_acid_meq", 0.0)
    left = f"soda left over {soda:.1f} meq, acid left over {acid:.1f} meq in 100 g"
    said = ", ".join(f"{label} {value:.0f}" for label, value in values)
    scene = Scene(
        id="leavening", title="When the gas comes (mL in 100 g of dough)", says=f"{said}; {left}.",
        width=WIDTH, height=270,
    )  # fmt: skip
    _heading(scene)
    most = max([value for _, value in values] + [1.0])
    y = 44.0
    for label, value in values:
        scene.words(_LEFT - 10, y + 23, label, anchor="end")
        width = (WIDTH - _LEFT - _RIGHT - 70) * value / most
        late = label in ("early oven", "late oven")
        scene.box(
            _LEFT, y, max(width, 1), 34, fill=MIDDLE if late else LIGHT, pattern="lines" if late else "plain"
        )
        scene.words(_LEFT + width + 8, y + 23, f"{value:.0f}", bold=True)
        y += 46
    scene.words(
        _LEFT, y + 18, left[0].upper() + left[1:] + ". Ruled bars: gas in the oven.", size=14, ink=FAINT
    )
    return scene


def before_after_picture(risk: Mapping[str, tuple[float, float]], knowledge: Knowledge, what: str) -> Scene:
    """Risks before a change (hollow) and after it (filled), those that move most first."""
    rows = sorted(risk.items(), key=lambda item: (-abs(item[1][0] - item[1][1]), item[0]))[
        : Thresholds.read(knowledge).pictured_moves
    ]
    said = ", ".join(
        f"{knowledge.symptoms[s].name.lower()} {percent(a)} to {percent(b)}" for s, (a, b) in rows
    )
    scene = Scene(
        id="before-after", title=f"Before and after: {what}", says=said + ".", width=WIDTH, height=104 + 34 * len(rows)
    )  # fmt: skip
    _heading(scene)
    left, right = 210.0, WIDTH - 130
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        x = left + (right - left) * share
        scene.stroke((x, 46), (x, 54 + 34 * len(rows)), ink="#c9c9c9", line=1)
        scene.words(x, 74 + 34 * len(rows), f"{100 * share:.0f} %", size=13, anchor="middle", ink=FAINT)
    y = 66.0
    for symptom, (a, b) in rows:
        xa, xb = left + (right - left) * a, left + (right - left) * b
        scene.words(left - 14, y + 5, knowledge.symptoms[symptom].name.lower(), anchor="end")
        if abs(xa - xb) > 14:
            scene.stroke((xa, y), (xb + (9 if xb < xa else -9), y), line=2.4, arrow=True)
        scene.box(xa - 6, y - 6, 12, 12, line=2)
        scene.box(xb - 6, y - 6, 12, 12, fill=INK)
        scene.words(right + 14, y + 5, f"{percent(a)} to {percent(b)}", size=14)
        y += 34
    scene.words(left, y + 32, "Hollow: before. Filled: after.", size=14, ink=FAINT)
    return scene


def _heading(scene: Scene) -> None:
    scene.words(6, 24, scene.title, size=18, bold=True)


def _bar(scene: Scene, y: float, height: float, parts: Sequence[Part], whole: float, unit: str) -> None:
    """A bar of parts; what is too narrow for its name is named below, beside a sample of its look."""
    x, room = _LEFT, WIDTH - _LEFT - _RIGHT
    below: list[tuple[str, tuple[str, Pattern]]] = []
    for place, part in enumerate(parts):
        look = _LOOKS[place % len(_LOOKS)]
        fill, pattern = look
        width = room * part.value / whole
        scene.box(x, y, width, height, fill=fill, pattern=pattern)
        value = f"{number(part.value, 0 if part.value >= 10 else 1)} {unit}"
        if pattern == "plain" and width > max(text_width(part.name, 14), text_width(value, 14)) + 12:
            ink = _ON_DARK.get(fill, INK)
            scene.words(x + width / 2, y + height / 2 - 3, part.name, size=14, anchor="middle", ink=ink)
            scene.words(x + width / 2, y + height / 2 + 15, value, size=14, anchor="middle", ink=ink)
        else:
            below.append((f"{part.name} {value}", look))
        x += width
    _named_below(scene, y + height + 18, below)


def _named_below(scene: Scene, y: float, named: Sequence[tuple[str, tuple[str, Pattern]]]) -> None:
    x = _LEFT
    for text, (fill, pattern) in named:
        wide = 22 + text_width(text, 13) + 16
        if x + wide > WIDTH and x > _LEFT:
            x, y = _LEFT, y + 19
        scene.box(x, y - 11, 16, 13, fill=fill, pattern=pattern)
        scene.words(x + 22, y, text, size=13)
        x += wide
