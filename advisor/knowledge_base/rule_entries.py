"""The shape of a rule: conditions, conclusions, and the sentence that explains it.

A condition names exactly one subject. `is` reads the band of a measure; `above` and `below` read its value, or the
amount of a trait in g per 100 g dough, or a number of the process. `not` denies one condition.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Graded, Id, Share, Text, Words

BandState = Literal["low", "in", "high", "not_low", "not_high"]
SUPPORTING = ("weak", "moderate", "strong", "told")
"""Words of evidence for a cause, by what they are worth; `told`: the baker names the fault itself."""
Evidence = Literal["weak", "moderate", "strong", "told", "against", "rules_out"]
SUBJECTS = ("measure", "structure", "trait", "process", "symptom", "state", "answer", "suspect")


class Condition(Entry):
    """One thing that must hold."""

    measure: Id | None = None
    structure: Id | None = None
    trait: Id | None = None
    process: Id | None = None
    symptom: Id | None = None
    state: Id | None = None
    answer: Id | None = None
    suspect: Id | None = None
    is_: Annotated[str | None, Field(alias="is")] = None
    above: float | None = None
    below: float | None = None
    over: Annotated[float, Field(gt=0)] | None = None
    stated: bool | None = None
    seen: bool | None = None

    @cached_property
    def subject(self) -> str:
        """The kind of fact that the condition reads."""
        return next(s for s in SUBJECTS if getattr(self, s) is not None)

    @cached_property
    def name(self) -> str:
        """The id of the fact that the condition reads."""
        return str(getattr(self, self.subject))

    @model_validator(mode="after")
    def _one_subject_with_its_own_words(self) -> Condition:
        named = [s for s in SUBJECTS if getattr(self, s) is not None]
        if len(named) != 1:
            raise ValueError(f"a condition names exactly one of {', '.join(SUBJECTS)}")
        subject = named[0]
        numeric = self.above is not None or self.below is not None
        if subject == "measure":
            if (self.is_ is None) == (not numeric):
                raise ValueError(
                    "a measure is read either by 'is' (low, in, high, not_low, not_high) or by above/below"
                )
            if self.is_ is not None and self.is_ not in BandState.__args__:  # type: ignore[attr-defined]
                raise ValueError(
                    f"'{self.is_}' is no state of a band: use low, in, high, not_low or not_high"
                )
        if subject == "answer" and self.is_ is None:
            raise ValueError("an answer is read by 'is'")
        if numeric and subject not in ("measure", "trait", "process"):
            raise ValueError(f"above and below do not go with {subject}")
        if self.is_ is not None and subject not in ("measure", "process", "answer"):
            raise ValueError(f"'is' does not go with {subject}")
        if self.over is not None and not numeric:
            raise ValueError("over (the distance past the edge that counts as one) goes with above or below")
        if self.seen is not None and subject != "symptom":
            raise ValueError("'seen' goes with symptom")
        if self.stated is not None and subject != "process":
            raise ValueError("'stated' goes with process")
        return self


class Denial(Entry):
    """A condition that must not hold."""

    not_: Annotated[Condition, Field(alias="not")]


class Conclusion(Entry):
    """One thing that follows."""

    suspect: Id | None = None
    evidence: Evidence | None = None
    evidence_group: Id | None = None
    structure: Id | None = None
    state: Id | None = None
    caution: Id | None = None
    reminder: Text | None = None
    ask: Id | None = None

    @model_validator(mode="after")
    def _one_kind(self) -> Conclusion:
        named = [
            k for k in ("suspect", "structure", "state", "caution", "reminder", "ask") if getattr(self, k)
        ]
        if len(named) != 1:
            raise ValueError(
                "a conclusion is exactly one of suspect, structure, state, caution, reminder, ask"
            )
        if (self.suspect is None) != (self.evidence is None):
            raise ValueError(
                "a suspect needs evidence (weak, moderate, strong, told, against, rules_out), and only a suspect"
            )
        return self


class Rule(Graded):
    """One rule of rules/<theme>/<family>.yaml."""

    id: Id
    when: Annotated[tuple[Condition | Denial, ...], Field(min_length=1, max_length=12)]
    then: Annotated[tuple[Conclusion, ...], Field(min_length=1, max_length=4)]
    because: Text
    blind_spots: Text | None = None


class RetiredRule(Entry):
    """The grave of a rule: its id is never used again."""

    id: Id
    retired: Text


class LeverTurn(Entry):
    """What a lever changes: an amount, a line of the process, or what the baker does."""

    ingredient_role: Id | None = None
    but_not_role: Id | None = None
    """Beside a role: what has this one too is left as it is."""
    ingredient: Id | None = None
    trait: Id | None = None
    process: Id | None = None
    add: Id | None = None
    replace: tuple[Id, Id] | None = None
    do: Text | None = None
    becomes: Id | None = None
    """Beside `do`: the ingredient that takes the place of the one it is about, gram for gram."""
    undoes: Id | None = None
    """Beside `do`: the state in which a formula writes the fault, which the change takes out of it."""


class LeverTarget(Entry):
    """When to stop turning: a measure inside its band, or past a stated edge."""

    measure: Id
    into: Literal["band"] | None = None
    above: float | None = None
    below: float | None = None


class LeverLimits(Entry):
    """How far a lever may go."""

    at_least_fraction: float | None = None
    at_most_fraction: float | None = None
    at_least: float | None = None
    at_most: float | None = None


class Lever(Graded):
    """One way to treat one cause, solved on the models where it has a target."""

    id: Id
    for_: Annotated[Id, Field(alias="for")]
    turn: LeverTurn
    until: LeverTarget | None = None
    limits: LeverLimits = Field(default_factory=LeverLimits)
    direction: Literal["up", "down"] | None = None
    structures: tuple[Id, ...] = ()
    pan_kinds: tuple[Id, ...] = ()
    kinds: tuple[Id, ...] = ()
    """Kinds of bake that it is for; where none is named, all."""
    works_round: bool = False
    """It mends the fault by something else than what is at fault: it stands behind what changes that."""
    outright: bool = False
    """What is stated is itself the fault: set right at once, however far, whatever then needs its turn beside it."""
    at_least_told: Mapping[Id, Mapping[Id, float]] = Field(default_factory=dict)
    """Question to answer to the least that the number is multiplied by: what the baker measured outweighs a model."""
    small_step: Share | None = None
    """How far it goes, over what is there, where no number asks for it and the loaf does; else as far as all do."""
    efficacy: Share | None = None
    stated_by: Mapping[Id, tuple[Id, ...]] = Field(default_factory=dict)
    """Question to the answers by which the baker says himself that this is what went wrong."""
    denied_by: Mapping[Id, tuple[Id, ...]] = Field(default_factory=dict)
    """Question to the answers with which the lever has nothing to do."""
    only_without: Id | None = None
    """A lever that says the same with an amount: where that one is proposed, this one is not."""
    effort: Literal["tiny", "small", "medium", "large"]
    says: Words
    because: Text

    @model_validator(mode="after")
    def _target_or_efficacy(self) -> Lever:
        if (self.until is None) == (self.efficacy is None):
            raise ValueError("a lever has either a target (until) or, for handling, an efficacy")
        if self.until is not None and self.turn.do is not None:
            raise ValueError("a lever that says what to do has an efficacy, not a target")
        if self.turn.undoes is not None and self.turn.do is None:
            raise ValueError("what undoes a stated fault says what to do")
        return self
