"""A changed formula and what is known of it so far: each thing worked out once, however many levers lead to it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from advisor.diagnosis.pipeline import Examination, Examiner, Measured
from advisor.formula.formula import Formula
from advisor.inference.situation import Judged
from advisor.models.measuring import DoughState, Workings, dough_state_of, measure
from advisor.remedy.levers.effect import unseen_priors


class Candidate:
    """One changed formula; what it gives is worked out when first asked for."""

    def __init__(self, formula: Formula, examiner: Examiner, *, after_bake: bool) -> None:
        self.formula = formula
        self._examiner = examiner
        self._after_bake = after_bake

    @cached_property
    def dough_state(self) -> DoughState:
        """The dough at rest."""
        return dough_state_of(self.formula, self._examiner.knowledge)

    @cached_property
    def structures(self) -> Mapping[str, float]:
        """Weights of the structures in play."""
        return self._examiner.structure_of(self.dough_state)

    @cached_property
    def judged_at_rest(self) -> Mapping[str, Judged]:
        """The measures of the dough at rest, laid against the bands of its own structures."""
        known = self._examiner.knowledge.measures
        values = {n: v for n, v in self.dough_state.values.items() if v is not None and known[n].allows(v)}
        return self._examiner.kinds.of(self.dough_state).bands.judge(self.structures, values)

    @cached_property
    def workings(self) -> Workings:
        """All its measures."""
        return measure(self.dough_state, self._examiner.knowledge)

    @cached_property
    def examination(self) -> Examination:
        """The whole look at it."""
        known = Measured(workings=self.workings, structures=self.structures)
        return self._examiner.examine(self.formula, after_bake=self._after_bake, measured=known, ranked=False)


class Candidates:
    """The changed formulas of one assessment; equal ones are one."""

    def __init__(self, examiner: Examiner, *, after_bake: bool) -> None:
        self._examiner = examiner
        self._after_bake = after_bake
        self._met: list[Candidate] = []
        self._unseen: Mapping[str, float] | None = None

    def of(self, formula: Formula) -> Candidate:
        """Give what is known of a formula; one that differs in nothing was met before."""
        # A formula has no quick hash, and there are some twenty: comparing them takes microseconds.
        for candidate in self._met:
            if candidate.formula == formula:
                return candidate
        self._met.append(Candidate(formula, self._examiner, after_bake=self._after_bake))
        return self._met[-1]

    def unseen_of(self, before: Examination) -> Mapping[str, float]:
        """Give the priors of the formula before any change, without what was seen; asked for by every lever."""
        if self._unseen is None:
            self._unseen = unseen_priors(self._examiner, before)
        return self._unseen
