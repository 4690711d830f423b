"""How long a moved amount takes on the page, with one client and with two: python tests/bench/bench_page.py.

One bake, no plan, an amount that was never looked at before. The budget is for the median; what a browser needs to
draw comes on top and is measured by hand.
"""

from __future__ import annotations

import statistics
import sys
import threading
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from budget_table import Row, show  # noqa: E402
from page_clients import Client, memory_mb, moves  # noqa: E402
from page_rounds import EXCESS_WATER, another_link, really_served  # noqa: E402

ROUNDS = 60


def main() -> None:
    """Measure, and print a line for each number of clients."""
    rows = []
    with really_served() as (link, process):
        for count in (1, 2):
            links = [link if n == 0 and count == 1 else another_link(process) for n in range(count)]
            clients = [Client(one, f"tab-{n}") for n, one in enumerate(links)]
            threads = [threading.Thread(target=_move, args=(c, n)) for n, c in enumerate(clients)]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
            took = sorted(1000 * t for client in clients for t in client.took[5:])
            which = f"{count} client{'s' if count > 1 else ''}"
            note = f"median; nine of ten under {took[int(0.9 * len(took))]:.0f} ms ({len(took)} moves)"
            middle = statistics.median(took)
            rows.append(Row(what="a moved amount on the page", which=which, value=middle, note=note))
        show(rows)
        print(f"memory of the server and its processes: {memory_mb(process.pid):.0f} MB")


def _move(client: Client, seed: int) -> None:
    client.come_in()
    for _, asked in zip(range(ROUNDS + 5), moves(EXCESS_WATER, seed), strict=False):
        client.ask("look", asked)


if __name__ == "__main__":
    main()
