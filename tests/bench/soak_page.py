"""The page under load for minutes: python tests/bench/soak_page.py [MINUTES] [calm].

Some clients move amounts, drop plans, ask for answers, lessons and reports, and send what cannot be read. `calm`: one
baker moves an amount every second, as in a kitchen, for as many hours as wished. At the end the page must still answer,
hold no more memory, processes or files than soon after the start, and have said nothing of a fault.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import threading
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from page_clients import Client, Moved, memory_mb, moves, open_files, processes_under  # noqa: E402
from page_rounds import EXCESS_WATER, another_link, really_served  # noqa: E402

LOAF = Moved.of("canteen-sandwich-loaf-excess-water")


@dataclass(frozen=True, slots=True, kw_only=True)
class Soaked:
    """What was answered by status, and memory [MB], processes and files from soon after the start to the end."""

    statuses: Counter[int]
    memory_mb: tuple[float, ...]
    processes: tuple[int, ...]
    files: tuple[int, ...]
    complained: str
    """What the server wrote beside its answers; nothing where all is well."""


_LOOKS_BACK = 16
"""How often memory is looked at."""


def soak(seconds: float, clients: int = 4, *, calm: bool = False) -> Soaked:
    """Load a page of its own for so long."""
    with really_served() as (_, process):
        tabs = [Client(another_link(process), f"tab-{n}") for n in range(clients)]
        for n, client in enumerate(tabs):
            client.come_in()
            _some(client, random.Random(n))  # each worker is there before anything is counted
        states = [_state(process.pid)]
        began = time.monotonic()
        on = _move_each_second if calm else _go_on
        threads = [
            threading.Thread(target=on, args=(client, n, began + seconds)) for n, client in enumerate(tabs)
        ]
        for thread in threads:
            thread.start()
        for n in range(1, _LOOKS_BACK):
            time.sleep(max(began + seconds * n / _LOOKS_BACK - time.monotonic(), 0))
            states.append(_state(process.pid))
        for thread in threads:
            thread.join()
        last = Client(another_link(process), "last")
        last.come_in()
        last.ask("look", {"text": EXCESS_WATER})
        states.append(_state(process.pid))
        statuses = Counter(status for client in (*tabs, last) for status in client.statuses)
        complained = _written(process)
    memory, processes, files = zip(*states, strict=True)
    return Soaked(
        statuses=statuses, memory_mb=memory, processes=processes, files=files,
        complained=complained,
    )  # fmt: skip


def _state(pid: int) -> tuple[float, int, int]:
    return memory_mb(pid), len(processes_under(pid)), open_files(pid)


def _written(process: subprocess.Popen[str]) -> str:
    assert process.stderr is not None
    os.set_blocking(process.stderr.fileno(), False)
    try:
        return os.read(process.stderr.fileno(), 100_000).decode(errors="replace")
    except BlockingIOError:  # nothing was written
        return ""


def _go_on(client: Client, seed: int, until: float) -> None:
    draw = random.Random(seed)
    while time.monotonic() < until:
        _some(client, draw)


def _move_each_second(client: Client, seed: int, until: float) -> None:
    """As page.js asks: a look at once, and a plan, which the next move drops if it is under way."""
    amounts, plan = moves(LOAF, seed), threading.Thread()
    while (began := time.monotonic()) < until:
        asked = next(amounts)
        client.ask("look", asked)
        time.sleep(0.35)
        plan = threading.Thread(target=client.ask, args=("plan", asked), daemon=True)
        plan.start()
        time.sleep(max(began + 1 - time.monotonic(), 0))
    plan.join()  # the server is not stopped before it has answered


def _some(client: Client, draw: random.Random) -> None:
    """What a baker does in a moment, and what nobody should."""
    asked = next(moves(LOAF, draw.randrange(10**9)))
    for _ in range(3):
        client.ask("look", asked)
    # A plan that is dropped for the next one, as where somebody types on.
    older = threading.Thread(target=client.ask, args=("plan", asked))
    older.start()
    time.sleep(draw.uniform(0, 0.1))
    client.ask("plan", next(moves(LOAF, draw.randrange(10**9))))
    older.join()
    kind = draw.choice(("question", "course", "essentials", "read", "rubbish"))
    if kind == "rubbish":
        client.ask("look", {"text": "\x00" * draw.randrange(1, 500), "moved": {"x": draw.random()}})
    else:
        client.ask(kind, {**asked, "saw": ["gummy_centre"], "topic": "own"})


def main() -> None:
    """Soak for as many minutes as named, and print what was held."""
    minutes = float(sys.argv[1]) if len(sys.argv) > 1 else 5.0
    calm = "calm" in sys.argv[2:]
    found = soak(60 * minutes, 1 if calm else 4, calm=calm)
    answered = ", ".join(f"{status}: {count}" for status, count in sorted(found.statuses.items()))
    print(f"answers by status: {answered}")
    for name, held in (
        ("memory, MB", found.memory_mb), ("processes", found.processes), ("files", found.files)
    ):  # fmt: skip
        print(f"{name}, from soon after the start to the end: {', '.join(f'{one:.0f}' for one in held)}")
    print(f"said beside the answers: {found.complained or 'nothing'}")


if __name__ == "__main__":
    main()
