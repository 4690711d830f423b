"""Where rules/ and knowledge/ are: beside the package in a checkout, inside it once installed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from advisor.knowledge_base.faults import Finding, KnowledgeFault


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """The two folders that hold everything a baker can correct without Python."""

    knowledge: Path
    rules: Path

    def show(self, path: Path) -> str:
        """Give a path as a message shows it: from the folder that holds both."""
        try:
            return path.relative_to(self.knowledge.parent).as_posix()
        except ValueError:
            return path.as_posix()


def find_places() -> Places:
    """Find rules/ and knowledge/; the checkout wins over the copy inside the wheel.

    Raises:
        KnowledgeFault: neither place holds them (a broken installation).
    """
    package = Path(__file__).resolve().parent.parent
    for top in (package.parent, package / "shipped"):
        if (top / "knowledge" / "causes.yaml").is_file() and (top / "rules").is_dir():
            return Places(knowledge=top / "knowledge", rules=top / "rules")
    raise KnowledgeFault(
        (
            Finding(
                file=str(package),
                line=0,
                check="places",
                message="rules/ and knowledge/ are missing: install again",
            ),
        )
    )
