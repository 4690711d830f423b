"""A knowledge of a dozen entries that is clean, to be broken in one place by each test."""

from __future__ import annotations

from pathlib import Path

from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.knowledge import read_knowledge
from advisor.knowledge_base.places import Places
from advisor.linting.checking import lint_knowledge

SMALL = Path(__file__).parent / "linting" / "small"
PROCESS = {"rest_min": None, "oven_fan": frozenset({"true", "false"}), "pan_material": frozenset[str]()}
CODE = frozenset({"energy_eu_", "cut"})


class Kitchen:
    """A copy of the small knowledge that a test may spoil."""

    def __init__(self, top: Path) -> None:
        self.top = top
        self.places = Places(knowledge=top / "knowledge", rules=top / "rules")

    def change(self, file: str, old: str, new: str) -> None:
        """Replace a text that stands in a file exactly once."""
        path = self.top / file
        text = path.read_text("utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file}"
        path.write_text(text.replace(old, new), "utf-8")

    def add(self, file: str, text: str) -> int:
        """Write an entry at the end of a file; give its line."""
        path = self.top / file
        before = path.read_text("utf-8")
        path.write_text(before + text + "\n", "utf-8")
        return before.count("\n") + 1

    def findings(self) -> tuple[Finding, ...]:
        """What the reader or, where it reads, the checks find."""
        try:
            knowledge = read_knowledge(self.places)
        except KnowledgeFault as fault:
            return fault.findings
        return lint_knowledge(knowledge, self.places, process=PROCESS, read_by_code=CODE)

    def lines(self, check: str) -> list[str]:
        """Findings of one check as the linter prints them."""
        return [str(f) for f in self.findings() if f.check == check]
