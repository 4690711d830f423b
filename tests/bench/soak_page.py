"""The page under load for minutes: python tests/bench/soak_page.py [MINUTES].

Some clients move amounts, drop plans, ask for answers, lessons and reports, and send what cannot be read. At the end it
must still answer, and hold no more memory, processes or files than soon after the start.
"""

from __future__ import annotations

import random
import sys
import threading
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from page_clients import Client, memory_mb, moves, open_files, processes_under  # noqa: E402
from page_rounds import EXCESS_WATER, another_link, really_served  # noqa: E402


@dataclass(frozen=True, slots=True, kw_only=True)
class Soaked:
    """What was answered by status, and memory [MB], processes and files soon after the start and at the end."""

    statuses: Counter[int]
    memory_mb: tuple[float, float]
    processes: tuple[int, int]
    files: tuple[int, int]


def soak(seconds: float, clients: int = 4) -> Soaked:
    """Load a page of its own for so long."""
    with really_served() as (_, process):
        tabs = [Client(another_link(process), f"tab-{n}") for n in range(clients)]
        for n, client in enumerate(tabs):
            client.come_in()
            _some(client, random.Random(n))  # each worker is there before anything is counted
        before = _state(process.pid)
        until = time.monotonic() + seconds
        threads = [threading.Thread(target=_go_on, args=(client, n, until)) for n, client in enumerate(tabs)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        last = Client(another_link(process), "last")
        last.come_in()
        last.ask("look", {"text": EXCESS_WATER})
        after = _state(process.pid)
        statuses = Counter(status for client in (*tabs, last) for status in client.statuses)
    return Soaked(
        statuses=statuses,
        memory_mb=(before[0], after[0]), processes=(before[1], after[1]), files=(before[2], after[2]),
    )  # fmt: skip


def _state(pid: int) -> tuple[float, int, int]:
    return memory_mb(pid), len(processes_under(pid)), open_files(pid)


def _go_on(client: Client, seed: int, until: float) -> None:
    draw = random.Random(seed)
    while time.monotonic() < until:
        _some(client, draw)


def _some(client: Client, draw: random.Random) -> None:
    """What a baker does in a moment, and what nobody should."""
    asked = next(moves(EXCESS_WATER, draw.randrange(10**9)))
    for _ in range(3):
        client.ask("look", asked)
    # A plan that is dropped for the next one, as where somebody types on.
    older = threading.Thread(target=client.ask, args=("plan", asked))
    older.start()
    time.sleep(draw.uniform(0, 0.1))
    client.ask("plan", next(moves(EXCESS_WATER, draw.randrange(10**9))))
    older.join()
    kind = draw.choice(("question", "course", "essentials", "read", "rubbish"))
    if kind == "rubbish":
        client.ask("look", {"text": "\x00" * draw.randrange(1, 500), "moved": {"x": draw.random()}})
    else:
        client.ask(kind, {**asked, "saw": ["gummy_centre"], "topic": "own"})


def main() -> None:
    """Soak for as many minutes as named, and print what was held."""
    minutes = float(sys.argv[1]) if len(sys.argv) > 1 else 5.0
    found = soak(60 * minutes)
    answered = ", ".join(f"{status}: {count}" for status, count in sorted(found.statuses.items()))
    print(f"answers by status: {answered}")
    for name, (before, after) in (
        ("memory, MB", found.memory_mb), ("processes", found.processes), ("files", found.files)
    ):  # fmt: skip
        print(f"{name}: {before:.0f} soon after the start, {after:.0f} at the end")


if __name__ == "__main__":
    main()
