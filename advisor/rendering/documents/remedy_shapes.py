"""The shapes of changes that help, of what to bake first, and of what can be done with the loaf at hand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field

from advisor.remedy.change import ChangeKind
from advisor.rendering.documents.shape import ChangeShape, Pair, RiskPair, Share, shape


@shape
class ProposalShape:
    """One change that helps, as it was tried on the models."""

    number: int
    """Its number on every page and in --apply."""
    lever: str
    """Id of what is turned."""
    cause: str
    """Id of the cause that it treats."""
    kind: ChangeKind
    """What sort of change it is."""
    says: str
    """The change in a few words."""
    because: str
    """Why it helps."""
    changes: Annotated[tuple[ChangeShape, ...], Field(min_length=1)]
    """What moves, from which amount to which."""
    measures: Mapping[str, Pair]
    """Measures that it moves, before and after."""
    risk: Mapping[str, RiskPair]
    """Symptoms whose risk it moves, before and after."""
    net_carb_per_slice: Pair
    """Net carbohydrate a slice, g, before and after."""
    side_effects: tuple[str, ...]
    """What comes with it."""
    relief: float
    """How much of the risk it takes away, severe faults counting more."""
    effort: Annotated[float, Field(gt=0)]
    """What it costs the baker; proposals are ranked by relief over effort."""


@shape
class JointPlanShape:
    """Several amounts changed at once."""

    changes: Annotated[tuple[ChangeShape, ...], Field(min_length=1)]
    """What moves, from which amount to which."""
    measures: Mapping[str, Pair]
    """Measures that it is solved for, before and after."""
    risk: Mapping[str, RiskPair]
    """Symptoms whose risk it moves, before and after."""
    net_carb_per_slice: Pair
    """Net carbohydrate a slice, g, before and after."""
    relief: float
    """How much of the risk it takes away, severe faults counting more."""
    unmet: tuple[str, ...]
    """Measures that stay outside their band."""
    relaxed: tuple[str, ...]
    """The smallest set of limits without which none would."""


@shape
class ExpectedShape:
    """What the next loaf shows if one cause is the true one."""

    cause: str
    """Id of the cause."""
    probability: Share
    """How likely it is now."""
    gone: Share
    """How likely the symptom is gone then."""


@shape
class FirstTrialShape:
    """The change to bake first, since its outcome tells most."""

    number: int
    """Number of the proposal."""
    lever: str
    """Id of what is turned."""
    symptom: str
    """The symptom to look for in the next loaf."""
    bits: Annotated[float, Field(ge=0)]
    """What the outcome is expected to tell about the causes, bits."""
    expect: tuple[ExpectedShape, ...]
    """What to expect under each cause that competes."""


@shape
class RescueShape:
    """What can still be done with the dough or the loaf at hand."""

    id: str
    """Id in knowledge/rescues.yaml."""
    says: str
    """What to do."""
    because: str
    """Why that helps."""
    caution: str
    """What to watch out for; empty where nothing."""


@shape
class HandSlipShape:
    """One way in which the loaf was perhaps not made as written."""

    id: str
    """Which slip: half_weighed, doubled, left_out, oven_low and so on."""
    line: int | None
    """The formula's line that it concerns, from 0; null where it concerns none."""
    probability: Share
    """How likely it is, beside the faults of the formula and the other slips."""
    says: str
    """What happened, in words."""
    asks: str
    """What would confirm it."""
    brings: tuple[str, ...]
    """Symptoms seen that it would bring."""


@shape
class ByHandShape:
    """Slips of the hand and the kitchen."""

    explained: bool
    """Whether the formula as written explains what was seen."""
    as_written: Share
    """How likely it is that the loaf was made as written."""
    slips: tuple[HandSlipShape, ...]
    """All that would bring something that was seen, the likeliest first."""


@shape
class SlipShape:
    """One line weighed a little off."""

    what: str
    """The ingredient."""
    off_g: float
    """By how much, g; below 0 it is too little."""
    symptom: str
    """The symptom whose risk rises most."""
    risk: RiskPair
    """That risk, before and after."""
    leaves: tuple[str, ...]
    """Measures that leave their band."""
