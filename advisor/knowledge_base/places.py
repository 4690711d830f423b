"""Where rules/ and knowledge/ are (beside the package, or inside it once installed), and the user's own file."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from advisor.knowledge_base.faults import Finding, KnowledgeFault

OVER = "ADVISOR_KNOWLEDGE"
"""Environment variable that names a folder of one's own, for this process and those that it starts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """The two folders that hold everything a baker can correct without Python."""

    knowledge: Path
    rules: Path
    over: Path | None = None
    """A folder of the user's own that is laid over both."""

    def show(self, path: Path) -> str:
        """Give a path as a message shows it: from the folder that holds both."""
        try:
            return path.relative_to(self.knowledge.parent).as_posix()
        except ValueError:
            return path.as_posix()


def own_ingredients_path() -> Path:
    """The user's own ingredients: $ADVISOR_INGREDIENTS, else dough-advisor/ingredients.yaml in the data folder.

    The data folder is $XDG_DATA_HOME, else ~/.local/share. The file need not be there.
    """
    if place := os.environ.get("ADVISOR_INGREDIENTS"):
        return Path(place)
    try:
        data = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    except RuntimeError:
        data = Path(os.devnull)  # a user without a home keeps nothing, and reads nothing
    return data / "dough-advisor" / "ingredients.yaml"


def find_places() -> Places:
    """Find rules/ and knowledge/; the checkout wins over the copy inside the wheel.

    Raises:
        KnowledgeFault: neither place holds them (a broken installation).
    """
    package = Path(__file__).resolve().parent.parent
    for top in (package.parent, package / "shipped"):
        if (top / "knowledge" / "causes.yaml").is_file() and (top / "rules").is_dir():
            over = os.environ.get(OVER)
            return Places(knowledge=top / "knowledge", rules=top / "rules", over=Path(over) if over else None)
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
