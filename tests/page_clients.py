"""Clients of a page that is served: they come in by a link and ask, as page.js does, as fast as they are answered."""

from __future__ import annotations

import http.client
import json
import random
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from advisor import load_knowledge
from advisor.formula.files import formula_from_file
from advisor.interface.page.asked import Json

ALLOWED = (200, 409)
"""Answered, or dropped for something newer that the same tab asked for."""


@dataclass(slots=True)
class Client:
    """One tablet: its session, its tab, and how long each answer took [s]."""

    link: str
    tab: str
    took: list[float] = field(default_factory=list)
    statuses: list[int] = field(default_factory=list)
    _host: str = ""
    _cookie: str = ""

    def come_in(self) -> None:
        """Use the link."""
        self._host = self.link.split("/")[2]
        connection = http.client.HTTPConnection(self._host, timeout=60)
        connection.request("GET", self.link.partition(self._host)[2])
        answer = connection.getresponse()
        self._cookie = str(answer.getheader("set-cookie")).partition(";")[0]
        answer.read()
        connection.close()

    def ask(self, name: str, asked: dict[str, Json], *, place: str = "") -> Json:
        """Ask for one thing and wait for it."""
        connection = http.client.HTTPConnection(self._host, timeout=90)
        body = json.dumps({**asked, "tab": self.tab, "place": place or name})
        headers = {
            "cookie": self._cookie,
            "origin": f"http://{self._host}",
            "content-type": "application/json",
        }
        began = time.monotonic()
        connection.request("POST", f"/work/{name}", body, headers)
        answer = connection.getresponse()
        found: Json = json.loads(answer.read())
        self.took.append(time.monotonic() - began)
        self.statuses.append(answer.status)
        connection.close()
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A formula, and the place of the line that is moved, between two weights [g]."""

    name: str
    text: str
    place: int
    least: float
    most: float

    @classmethod
    def of(cls, demo: str) -> Moved:
        """A demo formula, and the line that weighs most in it."""
        knowledge = load_knowledge()
        path = knowledge.formulas[demo]
        grams = [line.grams for line in formula_from_file(path, knowledge).lines]
        place = grams.index(max(grams))
        return cls(
            name=demo,
            text=path.read_text("utf-8"),
            place=place,
            least=0.7 * max(grams),
            most=1.4 * max(grams),
        )


def moves(moved: Moved, seed: int) -> Iterator[dict[str, Json]]:
    """A baker who moves one line of a formula, never twice to the same amount."""
    draw = random.Random(seed)
    while True:
        yield {
            "text": moved.text,
            "moved": {str(moved.place): round(draw.uniform(moved.least, moved.most), 3)},
        }


def processes_under(pid: int) -> list[int]:
    """A process and all that it started, as far as they still run."""
    found, parents = [pid], {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        parents[int(stat.parent.name)] = int(fields[1])
    for child, parent in sorted(parents.items()):
        if parent in found:
            found.append(child)
    return found


def memory_mb(pid: int) -> float:
    """Memory that the page holds, MB: each process' own share of what several of them hold together."""
    total = 0.0
    for one in processes_under(pid):
        try:
            rollup = Path(f"/proc/{one}/smaps_rollup").read_text()
        except OSError:
            continue
        total += sum(int(line.split()[1]) for line in rollup.splitlines() if line.startswith("Pss:")) / 1024
    return total


def open_files(pid: int) -> int:
    """Files and sockets that the server itself holds."""
    return len(list(Path(f"/proc/{pid}/fd").iterdir()))
