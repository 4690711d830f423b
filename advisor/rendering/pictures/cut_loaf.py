"""Small drawings of a cut loaf, one for each fault that can be seen: to be recognised beside its name, never alone.

A drawing is a slice (outline, crust, crumb) with what is wrong with it drawn in; what is tasted or smelt has a bitten
slice or one that smells.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import cos, pi, sin

from advisor.rendering.pictures.loaf_before_oven import (
    badly_toasted,
    day_old,
    fallen_foam,
    fallen_in_pan,
    unrisen,
    without_pocket,
)
from advisor.rendering.pictures.loaf_outside import (
    burst,
    crusted,
    flat,
    loose_top,
    over_the_pan,
    pale,
    sunk,
    tough,
    waisted,
    wet_base,
    wrinkled,
)
from advisor.rendering.pictures.loaf_parts import (
    BASE,
    CELLS,
    CRUMB,
    CRUST,
    HEIGHT,
    LEFT,
    RIGHT,
    WET,
    WIDTH,
    arrow,
    crumb,
    drops,
    outline,
    pore,
    slice_with,
    waves,
)
from advisor.rendering.pictures.loaf_shaping import (
    blisters,
    closed_ring,
    cuts,
    dough_tears,
    lopsided,
    lumps,
    peaked,
    pits,
    seam,
    soft_crust,
    spots,
    squashed,
    stringy,
    stuck,
    whole,
)
from advisor.rendering.pictures.scene import INK, LIGHT, Scene


def loaf_picture(symptom: str, name: str) -> Scene:
    """Draw a symptom; a good slice where it has no drawing of its own."""
    scene = Scene(
        id=f"loaf-{symptom}", title=name, says=f"A drawing of: {name.lower()}.", width=WIDTH, height=HEIGHT
    )
    DRAWINGS.get(symptom, whole)(scene)
    return scene


# ---- the drawings


def _gummy(scene: Scene, *, base: bool) -> None:
    slice_with(scene)
    crumb(
        scene,
        [c for c in CELLS if c[1] < 58] if base else [c for c in CELLS if abs(c[0] - 60) > 24 or c[1] < 36],
    )
    if base:
        scene.box(LEFT + 2, 60, RIGHT - LEFT - 4, 11, fill=WET, line=0.8)
    else:
        pore(scene, 60, 53, 21, tall=0.6, fill=WET)


def _sticky(scene: Scene) -> None:
    slice_with(scene)
    crumb(scene, [c for c in CELLS if c[0] < 58])
    scene.box(64, 8, 9, 70, fill="#e3e3e3")
    for y in (34, 46, 58):
        scene.stroke((73, y), (82, y + 5), (91, y), line=2)


def _crumbly(scene: Scene) -> None:
    points = [p for p in outline() if p[0] < 82]
    ragged = [
        (84.0, 26.0),
        (76.0, 34.0),
        (86.0, 42.0),
        (75.0, 50.0),
        (85.0, 58.0),
        (77.0, 66.0),
        (82.0, BASE),
    ]
    slice_with(scene, [*points, *ragged])
    crumb(scene, [c for c in CELLS if c[0] < 70])
    for x, y in ((92, 72), (99, 74), (106, 71), (90, 60), (98, 64), (110, 75)):
        pore(scene, x, y, 2.4, fill=CRUMB)


def _dry(scene: Scene) -> None:
    slice_with(scene)
    for points in (
        ((40, 70), (44, 58), (38, 48), (46, 36)),
        ((62, 70), (66, 54), (60, 42)),
        ((84, 70), (80, 56), (88, 46)),
    ):
        scene.stroke(*points, line=1.6)


def _dense(scene: Scene) -> None:
    slice_with(scene, outline(top=30, shoulder=42))
    crumb(scene, ((x, y, 0.9) for y in range(44, 72, 6) for x in range(24 + y % 4, 100, 7)))


def _coarse(scene: Scene) -> None:
    slice_with(scene)
    crumb(scene, ((36, 48, 8), (58, 36, 7), (80, 46, 9), (52, 60, 6), (72, 64, 5), (32, 64, 4), (92, 62, 5)))


def _cavity(scene: Scene) -> None:
    slice_with(scene)
    crumb(scene, below=56)
    pore(scene, 60, 36, 28, tall=0.42)


def _greasy(scene: Scene) -> None:
    slice_with(scene)
    crumb(scene, CELLS[::3])
    drops(scene, ((44, 48), (62, 38), (76, 56), (54, 64), (90, 50), (34, 60)))


def _rubbery(scene: Scene) -> None:
    points = [(18, 52), (30, 36), (60, 44), (90, 36), (102, 52), (90, 66), (60, 58), (30, 66)]
    slice_with(scene, [(float(x), float(y)) for x, y in points])
    arrow(scene, (22, 24), (4, 24))
    arrow(scene, (98, 24), (116, 24))


def _runny(scene: Scene) -> None:
    points = [(6, 72), (14, 64), (34, 58), (60, 54), (86, 58), (106, 64), (114, 72)]
    scene.stroke(*points, points[0], line=2, fill=CRUMB)
    arrow(scene, (40, 44), (14, 52))
    arrow(scene, (80, 44), (106, 52))


def _stiff(scene: Scene) -> None:
    points = [(26, 70), (22, 48), (36, 32), (56, 36), (72, 26), (94, 38), (98, 58), (88, 72), (26, 70)]
    scene.stroke(*points, line=2.5, fill=CRUMB)
    for crack in (((44, 36), (50, 48), (44, 58)), ((76, 34), (70, 46), (78, 54)), ((60, 70), (58, 60))):
        scene.stroke(*crack, line=1.8)


def _gritty(scene: Scene) -> None:
    slice_with(scene)
    for x, y, _ in CELLS:
        scene.box(x - 2, y - 2, 4, 4, fill=INK)


def _tinted(scene: Scene, fill: str) -> None:
    slice_with(scene, fill=fill)
    crumb(scene)


def _mouldy(scene: Scene) -> None:
    slice_with(scene)
    crumb(scene, below=52)
    for x, y in ((40, 30), (62, 24), (84, 34)):
        for n in range(8):
            scene.stroke((x, y), (x + 8 * cos(pi * n / 4), y + 8 * sin(pi * n / 4)), line=1.2)
        pore(scene, x, y, 4, fill="#9db38a")


def _bitten(scene: Scene) -> None:
    points = [p for p in outline() if p[0] < 84]
    bite = [
        (88.0, 26.0),
        (80.0, 34.0),
        (86.0, 42.0),
        (78.0, 50.0),
        (88.0, 56.0),
        (96.0, 60.0),
        (RIGHT, 62.0),
    ]
    slice_with(scene, [*points, *bite, (RIGHT, BASE)])
    crumb(scene, [c for c in CELLS if c[0] < 74])


def _smelling(scene: Scene) -> None:
    slice_with(scene, outline(top=32, shoulder=44))
    crumb(scene, below=50)
    waves(scene, (40, 60, 80), 26)


def _scentless(scene: Scene) -> None:
    slice_with(scene, outline(top=32, shoulder=44))
    crumb(scene, below=50)
    scene.stroke((46, 22), (50, 22), line=2)
    scene.stroke((58, 22), (62, 22), line=2)
    scene.stroke((70, 22), (74, 22), line=2)


def _shrinking(scene: Scene) -> None:
    scene.box(12, 50, 96, 16, fill="#ffffff", dash="dashed")
    scene.box(32, 44, 56, 22, fill=CRUMB, line=2)
    arrow(scene, (10, 34), (32, 34))
    arrow(scene, (110, 34), (88, 34))


def _torn(scene: Scene) -> None:
    scene.stroke((14, 66), (100, 66), (104, 60), (98, 54), (60, 52), line=2.5, ink=CRUST)
    scene.stroke((60, 52), (14, 50), line=2.5, ink=CRUST)
    scene.stroke((96, 48), (104, 54), (98, 60), (110, 64), (102, 70), line=2)


def _bending(scene: Scene) -> None:
    points = [(12 + 8 * n, 34 + 26 * sin(pi * n / 12) ** 2) for n in range(13)]
    scene.stroke(
        *points, *((x, y + 9) for x, y in reversed(points)), points[0], ink=CRUST, line=2.5, fill=LIGHT
    )
    arrow(scene, (60, 22), (60, 50))


DRAWINGS: Mapping[str, Callable[[Scene], None]] = {
    "flat_loaf": flat,
    "collapse_in_oven": lambda s: sunk(s, mark=True),
    "collapse_on_cooling": lambda s: sunk(s, mark=False),
    "gummy_centre": lambda s: _gummy(s, base=False),
    "gummy_base": lambda s: _gummy(s, base=True),
    "sticky_crumb": _sticky, "crumbly_slice": _crumbly, "dry_crumb": _dry, "dense_crumb": _dense,
    "coarse_holes": _coarse, "large_cavity": _cavity, "split_crust": burst, "shelled_top": loose_top,
    "wrinkled_top": wrinkled,
    "thick_crust": lambda s: crusted(s, line=8),
    "tough_crust": tough, "pale_crust": pale,
    "dark_crust": lambda s: crusted(s, line=6, ink="#2b1a0c"),
    "side_cave_in": waisted, "overflow": over_the_pan, "wet_base": wet_base, "greasy_crumb": _greasy,
    "rubbery_chew": _rubbery, "runny_dough": _runny, "stiff_dough": _stiff, "gritty_texture": _gritty,
    "purple_crumb": lambda s: _tinted(s, "#cbb0c6"),
    "green_crumb": lambda s: _tinted(s, "#b9cba6"),
    "grey_crumb": lambda s: _tinted(s, "#c4c4c2"),
    "early_mould": _mouldy, "springs_back": _shrinking, "tears_or_cracks": _torn, "not_crisp": _bending,
    "soapy_taste": _bitten, "too_salty": _bitten, "sour_taste": _bitten, "eggy_taste": _bitten, "bitter_taste": _bitten,
    "soft_crust": soft_crust, "dough_tears": dough_tears, "lumps_in_crumb": lumps, "stuck_to_pan": stuck,
    "spotted_crust": spots, "blistered_crust": blisters, "pocked_top": pits, "seam_opened": seam, "cuts_closed": cuts,
    "lopsided": lopsided, "peaked_top": peaked, "stringy_dough": stringy, "hole_closed": closed_ring,
    "weak_crumb": squashed, "foam_fell": fallen_foam, "slow_proof": unrisen, "fell_in_proof": fallen_in_pan,
    "no_pocket": without_pocket, "stales_fast": day_old, "toasts_badly": badly_toasted,
    "ingredient_taste": _bitten, "cooling_taste": _bitten,
    "yeasty_off_taste": _smelling, "ammonia_smell": _smelling, "weak_aroma": _scentless,
}  # fmt: skip
