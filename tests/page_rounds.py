"""What the tests of the page share: the page without a network, and the page as it is really served."""

from __future__ import annotations

import contextlib
import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import urllib.request
from collections.abc import Iterator, Mapping
from pathlib import Path

from starlette.testclient import TestClient

from advisor.interface.page.app import Served, page_app
from advisor.interface.page.asked import Json, Lane
from advisor.interface.page.device_access import Begin, Doors
from advisor.interface.page.work import work_out
from advisor.interface.page.workers import Place, WorkFault
from advisor.knowledge_base.faults import InputFault

TOP = Path(__file__).parents[1]
HOST = "127.0.0.1:4711"
SOUND = (TOP / "knowledge/formulas/canteen-sandwich-loaf.txt").read_text("utf-8")
EXCESS_WATER = (TOP / "knowledge/formulas/canteen-sandwich-loaf-excess-water.txt").read_text("utf-8")


class Inline:
    """Works everything out at once, in this process."""

    async def run(self, lane: Lane, place: Place, name: str, asked: Mapping[str, Json]) -> Json:
        kind, answer = work_out(name, asked)
        if "input" == kind:
            raise InputFault(str(answer))
        if "fault" == kind:
            raise WorkFault(str(answer))
        return answer

    def close(self) -> None:
        pass


def outside(doors: Doors | None = None, *, lan: str = "", raises: bool = True) -> TestClient:
    """A browser that was not let in yet."""
    served = Served(hosts={HOST, "localhost:4711"}, cookie="advisor-4711", lan=lan)
    app = page_app(doors or Doors(), Inline(), served)
    return TestClient(app, base_url=f"http://{HOST}", raise_server_exceptions=raises)


def inside(begin: Begin | None = None, **how: object) -> TestClient:
    """A browser that came in by its link."""
    doors = Doors()
    client = outside(doors, **how)  # type: ignore[arg-type]
    assert 200 == client.get(doors.link(begin or Begin())).status_code
    client.headers["origin"] = f"http://{HOST}"
    return client


def worked(client: TestClient, name: str, /, **asked: Json) -> dict[str, str]:
    """What the page is told."""
    answer = client.post(f"/work/{name}", json=asked)
    assert 200 == answer.status_code, answer.text
    found: dict[str, str] = answer.json()
    return found


def another_link(process: subprocess.Popen[str]) -> str:
    """A new link to a page that is served, as a second `advisor open` is told it."""
    told = Path(f"/proc/{process.pid}/environ").read_bytes().split(b"\0")
    noted = json.loads(
        Path(dict(pair.partition(b"=")[::2] for pair in told)[b"ADVISOR_PAGE"].decode()).read_text()
    )
    base = f"http://127.0.0.1:{noted['port']}"
    asked = urllib.request.Request(f"{base}/link", b"{}", {"x-owner": noted["owner"], "origin": base})
    with urllib.request.urlopen(asked, timeout=20) as answer:
        return base + str(json.loads(answer.read())["path"])


@contextlib.contextmanager
def really_served(*words: str) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """The command itself in a process of its own: the link that it prints, and the process."""
    own = tempfile.mkdtemp(prefix="dough-advisor-tests-")
    told = {
        "ADVISOR_PAGE": str(Path(own) / "page.json"), "ADVISOR_RECORD": str(Path(own) / "record.sqlite3"),
        "PYTHONPATH": str(TOP),
    }  # fmt: skip
    command = [sys.executable, "-m", "advisor", "open", "--no-browser", *words]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**os.environ, **told}, cwd=TOP,
        start_new_session=True,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        try:
            found = re.search(r"http://\S+", process.stdout.readline())
            assert found is not None
            yield found.group(), process
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGINT)
                try:
                    process.wait(10)
                except subprocess.TimeoutExpired:
                    process.kill()
