"""One answer to a formula, as every face tells it: what is said, in which order and under which number.

`explanation/answering.py` makes it; pages, reports, lessons and documents only read it. `shown` says from which
depth on a part stands on a page: `brief` is the first part alone, `usual` the page, `full` everything.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from advisor.explanation.blocks import Runs, Timeline
from advisor.remedy.proposal import Proposal

Depth = Literal["brief", "usual", "full"]
DEPTHS: tuple[Depth, ...] = ("brief", "usual", "full")


def stands(shown: Depth, depth: Depth) -> bool:
    """Whether what is shown from one depth on stands on a page of another."""
    return DEPTHS.index(shown) <= DEPTHS.index(depth)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dough:
    """What the formula makes: grams, pieces, what holds it, and what a slice has."""

    dough_g: float
    pieces: int
    piece: Literal["slice", "piece"]
    piece_g: float
    held_by: str
    close_to: tuple[str, ...]
    net_carb_g: float | None
    energy_kcal: float | None
    cost: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidBake:
    """The kind of bake: how likely (0..1) and by what it was chosen; `other` is what to write if it is not.

    `told` says whether it is judged otherwise than a loaf, so that a page says which it is.
    """

    id: str
    name: str
    likelihood: float
    by: str
    other: str
    told: bool
    unknown: str
    """What the baker wrote as kind and is not known; empty where nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidRisk:
    """The risk (0..1) of one fault: now, and after a change where there is one."""

    symptom: str
    name: str
    says: str
    before: float
    after: float | None = None
    word: str = ""
    word_after: str = ""
    """The same two in words: what pages print, since no probability here is calibrated on cases made by others."""
    shown: Depth = "full"


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidCause:
    """One cause: probability (0..1) with its word, what speaks for and against it, and how it leads to the fault."""

    id: str
    name: str
    probability: float
    likelihood: str
    says: Runs
    speaks_for: tuple[Runs, ...]
    against: tuple[Runs, ...]
    explains: tuple[str, ...]
    unexplained: tuple[str, ...]
    would_bring: tuple[str, ...]
    """Names of faults: seen and explained, seen and not explained, looked for and not there."""
    chains: tuple[tuple[str, ...], ...]
    """Names from the cause to the fault, the strongest chain first."""
    shown: Depth


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidChange:
    """One change under its number, which is the same on every face and in `--apply`."""

    number: int
    proposal: Proposal
    says: str
    what: tuple[Runs, ...]
    """Each amount or time as an instruction, from and to."""
    in_short: Runs
    """The same in one phrase; where several amounts change, the steps alone."""
    because: Runs
    falls: tuple[SaidRisk, ...]
    rises: tuple[SaidRisk, ...]
    reaches: Runs
    """The measure that it is solved for, from and to; empty for a change of handling."""
    beside: tuple[Runs, ...]
    shown: Depth


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidNumber:
    """One measure: value, unit, the band it should lie in, where it lies in words, and what it means."""

    id: str
    name: str
    value: float
    decimals: int
    unit: str
    low: float | None
    high: float | None
    state: str
    out: bool
    far: bool
    """So far out, and a sign of a cause at work, that a check says no by it alone."""
    meaning: Runs
    shown: Depth
    ends: tuple[float, float] | None = None
    """Between which it lies in 8 of 10 draws; `None` where that was not worked out."""
    in_words: str = ""
    """What follows the figure of a ratio in a sentence; empty where the unit says it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """Something that decides and was not stated, or that only the baker knows: the question, and what was taken."""

    id: str
    asks: Runs
    took: Runs
    write: str = ""
    """The line of a formula that answers it, as an example; empty where it is no line."""
    first: bool = False
    """Whether the verdict hangs on it, so that it stands above the verdict."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What the next loaf shows if one cause is the true one: the chance (0..1) that the fault is gone."""

    cause: str
    gone: float
    goes: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BakeFirst:
    """The change, by its number, whose outcome tells most about the causes that compete, and what to look for."""

    number: int
    symptom: str
    look: Runs
    outcomes: tuple[Outcome, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Several amounts changed at once: what, what falls and rises, and what stays outside its band."""

    what: tuple[Runs, ...]
    falls: tuple[SaidRisk, ...]
    rises: tuple[SaidRisk, ...]
    net_carb_g: tuple[float, float]
    unmet: tuple[str, ...]
    relaxed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidRescue:
    """What can still be done with the dough or the loaf at hand, and the caution that goes with it."""

    id: str
    says: Runs
    because: Runs
    caution: Runs


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidCaution:
    """One caution in short and in full, who decides, and where it comes from."""

    id: str
    short: Runs
    text: Runs
    decides: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidSlip:
    """One line weighed a little off (grams, with its sign), and what that does."""

    what: str
    off_g: float
    risk: SaidRisk
    leaves: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slips:
    """Slips of the scales: the share by which each line was weighed off, and those that matter."""

    share: float
    worst: tuple[SaidSlip, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidHandSlip:
    """A way in which it was perhaps not made as written: probability (0..1), what to look at, what it would bring."""

    id: str
    probability: float
    likelihood: str
    says: Runs
    asks: Runs
    brings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """Slips of the hand that are worth a look, and whether the formula as written explains what was seen."""

    explained: bool
    slips: tuple[SaidHandSlip, ...]

    @property
    def leads(self) -> bool:
        """Whether how it was made is to be looked at first: the formula explains nothing, and a slip may."""
        return bool(self.slips) and not self.explained


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What is wrong or that nothing is, how sure that is, and what to change first."""

    wrong: bool
    problem: Runs
    first: Runs
    """What to change first; empty where nothing is wrong and nothing helps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidSure:
    """One fault, whether its risk is at or over the limit, and the share of draws (0..1) that say the same."""

    name: str
    over: bool
    agree: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Everything that is told of one formula, before the bake (`check`) or after it (`diagnosis`)."""

    kind: Literal["check", "diagnosis"]
    name: str
    dough: Dough
    seen: tuple[str, ...]
    """Names of the faults that the loaf showed."""
    verdict: Verdict
    risks: tuple[SaidRisk, ...]
    """Faults at or over the limit, largest first."""
    asked: tuple[Question, ...]
    causes: tuple[SaidCause, ...]
    changes: tuple[SaidChange, ...]
    bake_first: BakeFirst | None
    look_for: tuple[Runs, ...]
    """What to look for in the next loaf, where no change tells one cause from another."""
    together: Together | None
    rescues: tuple[SaidRescue, ...]
    allergens: tuple[str, ...]
    cautions: tuple[SaidCaution, ...]
    reminders: tuple[Runs, ...]
    numbers: tuple[SaidNumber, ...]
    oven: tuple[Runs, ...]
    timeline: Timeline | None
    slips: Slips | None
    assumed: tuple[Runs, ...]
    not_read: tuple[Runs, ...]
    by_hand: ByHand | None = None
    bake: SaidBake | None = None
    sure: tuple[SaidSure, ...] = ()
    """How many draws agree with what is said of each of the largest risks."""
    not_judged: tuple[Runs, ...] = ()
    """What nothing here can judge, each in a sentence."""
