"""How far a formula may go: the kind `tolerance`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from advisor.formula_design.one_moved import Reach, Slip, Tolerance
from advisor.formula_design.tolerance import ToleranceAnswer
from advisor.rendering.documents.shape import Document, RiskPair, Share, shape


@shape
class ReachShape:
    """How far one thing may go one way."""

    kept: float
    """The furthest value that is still good."""
    kept_risk: Share
    """The largest risk there."""
    lost: float | None
    """The nearest value that is not; null where nothing was found to go wrong."""
    lost_risk: Share
    """The largest risk there; 0 where there is none."""
    symptom: str
    """Id of the symptom that reaches the limit there; empty for another reason, or none."""
    why: str
    """The other reason; empty for a symptom."""


@shape
class ToleranceShape:
    """One line or value of the process."""

    what: str
    """The ingredient or the step of the process."""
    field: str
    """Field of the process; empty for an ingredient."""
    unit: str
    """Unit of all its values."""
    now: Annotated[float, Field(gt=0)]
    """What it is."""
    down: ReachShape
    """How far down it may go."""
    up: ReachShape
    """How far up it may go."""
    room: float | None
    """The nearer end as a share of what it is; null where no end was found."""


@shape
class SlipShape:
    """One error of a kitchen."""

    what: str
    """The ingredient or the step of the process."""
    unit: str
    """Unit of the error."""
    off: float
    """By how much it is off; below 0 for too little."""
    symptom: str
    """Id of the symptom whose risk rises most."""
    risk: RiskPair
    """Its risk before and after."""
    over: bool
    """Whether a risk is at the limit then."""


@shape
class ToolShape:
    """A tool that is off."""

    id: str
    """Which tool."""
    says: str
    """What is wrong with it."""
    worst: SlipShape | None
    """The worst it does; null where nothing is measured with it."""
    over: tuple[str, ...]
    """What it brings to the limit."""


@shape
class ToleranceDocument(Document):
    """What `tolerance` gives."""

    kind: Literal["tolerance"] = "tolerance"
    """How far a formula may go."""
    name: str
    """Title of the formula."""
    limit: Share
    """The risk up to which it is told."""
    lifted: bool
    """Whether that is above the limit of a check, since the formula is there already."""
    lines: tuple[ToleranceShape, ...]
    """Each line and value, the narrowest first."""
    tools: tuple[ToolShape, ...]
    """What tools that are off do."""
    matter_most: tuple[SlipShape, ...]
    """The errors of a usual kitchen that matter most."""


def tolerance_document(answer: ToleranceAnswer) -> ToleranceDocument:
    """Give what `tolerance` found."""
    return ToleranceDocument(
        name=answer.formula.name,
        limit=answer.limit,
        lifted=answer.lifted,
        lines=tuple(_tolerance(t) for t in answer.lines),
        tools=tuple(
            ToolShape(id=t.name, says=t.says, worst=_slip(t.worst) if t.worst else None, over=t.over)
            for t in answer.tools
        ),
        matter_most=tuple(_slip(s) for s in answer.matter_most),
    )


def _tolerance(t: Tolerance) -> ToleranceShape:
    room = None if t.room == float("inf") else t.room
    return ToleranceShape(
        what=t.what, field=t.field, unit=t.unit, now=t.now, down=_reach(t.down), up=_reach(t.up), room=room
    )


def _reach(r: Reach) -> ReachShape:
    return ReachShape(
        kept=r.kept, kept_risk=r.kept_risk, lost=r.lost, lost_risk=r.lost_risk, symptom=r.symptom, why=r.why
    )


def _slip(s: Slip) -> SlipShape:
    return SlipShape(what=s.what, unit=s.unit, off=s.off, symptom=s.symptom, risk=s.risk, over=s.over)
