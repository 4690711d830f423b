"""Where the checks write down what they find, each with the place of its entry and the nearest spelling."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from advisor.knowledge_base.faults import Finding
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.places import Places

ProcessFields = Mapping[str, frozenset[str] | None]
"""Process field to the words it may hold; `None` for a number, an empty set for any word."""


@dataclass(slots=True, kw_only=True)
class Report:
    """What is checked, and the findings so far."""

    knowledge: Knowledge
    places: Places
    process: ProcessFields | None = None
    """`None` where the caller does not know the process; its names are then not checked."""
    read_by_code: frozenset[str] | None = None
    """Words of the program, among them traits and coefficients that models read; `None` where not known."""
    traits_of_words: frozenset[str] | None = None
    """Traits that words of a formula ("melted", "grated") set on an ingredient; `None` where not known."""
    findings: list[Finding] = field(default_factory=list)

    def add(self, kind: str, name: str, check: str, message: str) -> None:
        """Write down a finding on one entry."""
        file, line = self.knowledge.origin.get((kind, name), ("?", 0))
        self.findings.append(Finding(file=file, line=line, check=check, message=f"{name}: {message}"))

    def refer(self, kind: str, name: str, what: str, target: str, known: Collection[str]) -> bool:
        """Say whether `target` is known; where it is not, write that down with the nearest spelling."""
        if target in known:
            return True
        near = nearest(target, sorted(known), 1)
        hint = f"; did you mean '{near[0]}'?" if near else ""
        self.add(kind, name, "reference", f"no {what} '{target}'{hint}")
        return False
