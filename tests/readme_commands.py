"""What README.md shows: its set-up commands, and every `$ advisor ...` with its output and exit code.

Run as a script, it runs all that README shows with the `advisor` found on the PATH, and says what differs;
`set-up` makes it print the set-up commands.
"""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

README = Path(__file__).parents[1] / "README.md"
LEFT_OUT = "..."


@dataclass(frozen=True)
class Shown:
    """A command, the exit code that README names (0 where it names none), and the lines shown below it."""

    command: str
    exits: int
    lines: tuple[str, ...]

    @property
    def arguments(self) -> list[str]:
        """What follows the name of the program."""
        name, *rest = shlex.split(self.command)
        assert "advisor" == name, self.command
        return rest


def blocks(text: str, kind: str) -> list[str]:
    """Code blocks of one kind, in order."""
    return re.findall(rf"^```{kind}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def set_up_commands() -> list[str]:
    """The one-line commands for a fresh machine: to look at a formula, to open the page, and to run the tests."""
    return [block.strip() for block in blocks(README.read_text("utf-8"), "sh")]


def shown_commands() -> list[Shown]:
    """Every command in a console block."""
    found = []
    for block in blocks(README.read_text("utf-8"), "console"):
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            first, *lines = part.rstrip("\n").split("\n")
            command, _, exits = first.partition("  # exits ")
            found.append(Shown(command.strip(), int(exits or 0), tuple(lines)))
    return found


def difference(shown: Sequence[str], printed: str) -> str | None:
    """Say what README shows and the program does not print; `...` stands for any number of lines."""
    if not shown:
        return None
    lines, place, free = printed.rstrip("\n").split("\n"), 0, False
    for line in shown:
        if line == LEFT_OUT:
            free = True
            continue
        found = next((n for n in range(place, len(lines)) if lines[n] == line), None)
        if found is None or (found > place and not free):
            printed_there = "\n".join(lines[place : place + 3])
            return f"README shows:\n{line}\nprinted there:\n{printed_there}"
        place, free = found + 1, False
    return None if free or place == len(lines) else f"printed after what README shows:\n{lines[place]}"


def main(arguments: Sequence[str]) -> int:
    """Run every command; 1 when one differs. With `set-up`, print the set-up commands instead."""
    if "set-up" in arguments:
        print("\n".join(set_up_commands()))
        return 0
    worst = 0
    for shown in shown_commands():
        done = subprocess.run(
            ["advisor", *shown.arguments],
            capture_output=True,
            encoding="utf-8",
            check=False,
            stdin=subprocess.DEVNULL,
        )
        fault = difference(shown.lines, done.stdout)
        if shown.exits != done.returncode:
            fault = (
                f"exits {done.returncode}, README says {shown.exits}\n{done.stderr or done.stdout[-2000:]}"
            )
        print(f"{'differs' if fault else 'as shown'}: {shown.command}")
        if fault:
            print(fault)
            worst = 1
    return worst


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
