"""A second `advisor open` finds the first: where the running page is noted, for this user alone."""

from __future__ import annotations

import contextlib
import json
import os
from dataclasses import asdict
from http.client import HTTPConnection
from pathlib import Path

from advisor.interface.desk.own_places import running_page_path
from advisor.interface.page.device_access import Begin

_PATIENCE_S = 3.0


def note_running(port: int, owner: str) -> None:
    """Note the page of this process; where nothing can be written, a second `open` serves a page of its own."""
    path = running_page_path()
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.unlink(missing_ok=True)
        # Made anew with its mode, so that nobody else can read what lets one in.
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
            json.dump({"port": port, "owner": owner}, file)


def forget_running(owner: str) -> None:
    """Take the note away, unless it is of another page by now."""
    if (noted := _noted()) is not None and noted[1] == owner:
        with contextlib.suppress(OSError):
            running_page_path().unlink()


def link_of_running(begin: Begin) -> str | None:
    """Ask the page that runs already for a link that opens with a formula; `None` where none runs."""
    if (noted := _noted()) is None:
        return None
    port, owner = noted
    connection = HTTPConnection("127.0.0.1", port, timeout=_PATIENCE_S)
    try:
        body = json.dumps(asdict(begin))
        host = f"127.0.0.1:{port}"
        connection.request(
            "POST", "/link", body, {"x-owner": owner, "origin": f"http://{host}", "host": host}
        )
        answer = connection.getresponse()
        if answer.status != 200:
            return None
        path = json.loads(answer.read(10_000))["path"]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    finally:
        connection.close()
    return f"http://{host}{path}" if isinstance(path, str) and path.startswith("/in?key=") else None


def _noted() -> tuple[int, str] | None:
    try:
        path: Path = running_page_path()
        noted = json.loads(path.read_text("utf-8"))
        port, owner = noted["port"], noted["owner"]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return (port, owner) if isinstance(port, int) and 0 < port < 65536 and isinstance(owner, str) else None
