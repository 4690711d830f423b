"""What can be wrong with the knowledge, and the one error that says so."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Finding:
    """One fault in a knowledge or rule file: where it stands, which check found it, and what to do."""

    file: str
    line: int
    check: str
    message: str

    def __post_init__(self) -> None:
        """Keep the message on one line: it may quote a key that runs over several."""
        if not self.message.isprintable():
            plain = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in self.message)
            object.__setattr__(self, "message", plain)

    def __str__(self) -> str:
        """Give the linter's line: ``file:line check message``."""
        return f"{self.file}:{self.line} {self.check} {self.message}"


class KnowledgeFault(Exception):
    """Raised when rules/ or knowledge/ cannot be read as what they claim to be."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        self.findings = findings
        super().__init__(findings)

    def __str__(self) -> str:
        """Give one line a finding."""
        return "\n".join(str(f) for f in self.findings)


class InputFault(Exception):
    """Raised when what the user gave cannot be used; the message is complete."""
