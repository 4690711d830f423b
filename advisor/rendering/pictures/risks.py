"""The likeliest faults as bars with their word, against the limit from which an answer is no."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.thresholds import Thresholds
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.pictures.scene import DARK, FAINT, LIGHT, Scene

WIDTH, ROW = 900.0, 36.0
_LEFT, _RIGHT, _TOP = 250.0, 190.0, 44.0


def risks_picture(found: Examination, knowledge: Knowledge, most: int, limit: float) -> Scene:
    """Draw the `most` largest risks; `limit` (0..1) is the line that a bar should stay left of."""
    word = Thresholds.read(knowledge).likelihood
    risks = sorted(found.diagnosis.risks.values(), key=lambda r: (-r.risk, r.symptom))[:most]
    rows = [(knowledge.symptoms[r.symptom].name, r.risk, word(r.risk)) for r in risks]
    said = ", ".join(f"{name.lower()}: {how}" for name, _, how in rows)
    scene = Scene(
        id="risks", title="What may go wrong", says=said + ".", width=WIDTH, height=_TOP + ROW * len(rows) + 34
    )  # fmt: skip
    scene.words(6, 24, scene.title, size=18, bold=True)
    _bars(scene, rows, limit)
    return scene


def _bars(scene: Scene, rows: Sequence[tuple[str, float, str]], limit: float) -> None:
    across = WIDTH - _LEFT - _RIGHT
    y = _TOP
    for name, risk, how in rows:
        over = risk >= limit
        scene.words(_LEFT - 12, y + 19, name, anchor="end", bold=over)
        scene.box(_LEFT, y + 3, max(across * risk, 2), 22, fill=DARK if over else LIGHT, pattern="plain")
        scene.words(_LEFT + across + 12, y + 19, how, bold=over)
        y += ROW
    edge = _LEFT + across * limit
    scene.stroke((edge, _TOP - 4), (edge, y + 2), line=2, dash="dashed")
    scene.words(edge, y + 20, "from here on: watch out", size=14, anchor="middle", ink=FAINT)
