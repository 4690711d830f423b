"""How long a moved amount takes on the page, with one client and with two: python tests/bench/bench_page.py.

The demo formula whose look takes the processor longest; one bake, no plan, an amount that was never looked at before.
First as the server answers, then as a browser has drawn it: from the moment in which a slider moves to the picture with
the new numbers. The budgets are for the median and, with two clients, for 19 of 20.
"""

from __future__ import annotations

import os
import shutil
import statistics
import sys
import threading
import time
from collections.abc import Sequence
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from budget_table import Row, show  # noqa: E402
from page_clients import Client, Moved, memory_mb, moves  # noqa: E402
from page_rounds import another_link, really_served  # noqa: E402

ROUNDS, WARMING = 60, 5
WAIT_MS = 120_000
MOVE_AND_WAIT = """async ([place, least, most, rounds]) => {
  const slider = document.querySelector(`#amounts input[type=range][data-place='${place}']`);
  slider.step = "any";
  const took = [];
  for (let n = 0; n < rounds; n += 1) {
    const value = least + (most - least) * ((n * 0.618034) % 1);
    await new Promise((drawn) => {
      const numbers = new MutationObserver(() => {
        numbers.disconnect();
        requestAnimationFrame(() => setTimeout(() => { took.push(performance.now() - began); drawn(); }, 0));
      });
      numbers.observe(document.getElementById("numbers"), {childList: true});
      const began = performance.now();
      slider.value = value;
      slider.dispatchEvent(new Event("input", {bubbles: true}));
    });
    await new Promise((rested) => setTimeout(rested, 100));
  }
  window.took = took;
}"""
"""Moves a slider, waits for the picture in which the numbers have changed, and rests for a moment, as a hand does."""


def main() -> None:
    """Measure, and print a line for each number of clients, answered and drawn."""
    moved = heaviest()
    rows = []
    with really_served() as (_, process):
        for count in (1, 2):
            took = _answered([another_link(process) for _ in range(count)], moved)
            rows.append(_row(took, f"answered, {count} client{'s' if count > 1 else ''}"))
        if (browser := shutil.which("chromium")) is not None:
            took = _drawn([another_link(process) for _ in range(2)], moved, browser)
            rows.append(_row(took, "drawn by a browser, 2 clients"))
        show(rows)
        print(
            f"formula: {moved.name}; memory of the server and its processes: {memory_mb(process.pid):.0f} MB"
        )
        print(
            f"processes that waited for a core meanwhile, on average: {os.getloadavg()[0]:.1f} of {os.cpu_count()}"
        )


def heaviest() -> Moved:
    """The demo formula whose look takes the processor longest, with the line that weighs most."""
    from advisor import load_knowledge
    from advisor.interface.page.work import work_out

    def cost(moved: Moved) -> float:
        work_out("look", {"text": moved.text})
        asked = moves(moved, 0)
        took = []
        for _ in range(3):
            began = time.process_time()
            work_out("look", next(asked))
            took.append(time.process_time() - began)
        return min(took)

    return max((Moved.of(name) for name in load_knowledge().formulas), key=cost)


def _row(took: Sequence[float], which: str) -> Row:
    some = sorted(took)
    late = some[int(0.95 * len(some))]
    note = f"median; 19 of 20 under {late:.0f} ms, the budget of two clients is 300 ({len(some)} moves)"
    return Row(what="a moved amount on the page", which=which, value=statistics.median(some), note=note)


def _answered(links: Sequence[str], moved: Moved) -> list[float]:
    clients = [Client(link, f"tab-{n}") for n, link in enumerate(links)]
    threads = [threading.Thread(target=_move, args=(c, n, moved)) for n, c in enumerate(clients)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return [1000 * t for client in clients for t in client.took[WARMING:]]


def _move(client: Client, seed: int, moved: Moved) -> None:
    client.come_in()
    for _, asked in zip(range(ROUNDS + WARMING), moves(moved, seed), strict=False):
        client.ask("look", asked)


def _drawn(links: Sequence[str], moved: Moved, browser: str) -> list[float]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=browser, args=["--no-sandbox", "--disable-gpu"])
        pages = [started.new_context(viewport={"width": 820, "height": 1180}).new_page() for _ in links]
        for page, link in zip(pages, links, strict=True):
            page.set_default_timeout(WAIT_MS)
            page.goto(link)
            page.fill("#text", moved.text)
            page.locator("#read-said", has_text="All read").wait_for()
            page.click("header nav a[href='#before']")
            page.locator("#answer section").first.wait_for()
        for n, page in enumerate(pages):
            least, most = moved.least * (1 + 0.003 * n), moved.most
            asked = [moved.place, least, most, ROUNDS + WARMING]
            page.evaluate(f"asked => {{ ({MOVE_AND_WAIT})(asked) }}", asked)
        took = []
        for page in pages:
            # The page lets no words be run as a program, so that it is asked from here whether it is done.
            while (found := page.evaluate("window.took")) is None:
                page.wait_for_timeout(500)
            took.append(found[WARMING:])
        started.close()
    return [float(ms) for one in took for ms in one]


if __name__ == "__main__":
    main()
