"""The page's server: who is let in, what is refused, and that nothing of this machine leaves with an answer."""

from __future__ import annotations

import contextlib
import json
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from page_rounds import EXCESS_WATER, HOST, TOP, inside, outside, really_served, worked

from advisor.interface.commands.command_line import main
from advisor.interface.page import first_open, work
from advisor.interface.page.device_access import MOST_SESSIONS, Begin, Doors
from advisor.interface.page.guard import MOST_BYTES

HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(2)>"


# ---- the door


def test_nobody_comes_in_without_a_link() -> None:
    client = outside()
    for path in ("/", "/page.js", "/page.css", "/nothing", "/../../etc/passwd"):
        assert 401 == client.get(path).status_code, path
    assert 401 == client.post("/work/look", json={}, headers={"origin": f"http://{HOST}"}).status_code


def test_a_link_lets_one_device_in_once() -> None:
    doors = Doors()
    link = doors.link()
    first, second = outside(doors), outside(doors)
    assert 200 == first.get(link).status_code
    assert 200 == first.get("/").status_code
    assert 401 == second.get(link).status_code
    assert 401 == second.get("/").status_code


def test_the_cookie_is_shut_to_scripts_and_to_other_pages() -> None:
    doors = Doors()
    cookie = outside(doors).get(doors.link()).headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie


def test_a_wrong_key_or_cookie_opens_nothing() -> None:
    client = outside()
    assert 401 == client.get("/in?key=guess").status_code
    assert 401 == client.get("/in").status_code
    client.cookies.set("advisor-4711", "guess")
    assert 401 == client.get("/").status_code


def test_of_many_devices_the_oldest_has_to_come_in_anew() -> None:
    doors = Doors()
    sessions = [doors.enter(doors.link().partition("=")[2]) for _ in range(MOST_SESSIONS + 1)]
    assert not doors.is_in(sessions[0] or "")
    assert doors.is_in(sessions[-1] or "")


# ---- who asks, from where, how much


@pytest.mark.parametrize("host", ["evil.example", "evil.example:4711", "127.0.0.1", "127.0.0.1:80", ""])
def test_under_a_foreign_name_nothing_is_answered(host: str) -> None:
    answer = inside().get("/", headers={"host": host})
    assert 421 == answer.status_code


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "https://127.0.0.1:4711", "http://localhost:4711"]
)
def test_a_foreign_page_can_ask_for_nothing(origin: str) -> None:
    client = inside()
    assert (
        403 == client.post("/work/look", json={"text": EXCESS_WATER}, headers={"origin": origin}).status_code
    )


def test_a_request_without_an_origin_changes_nothing() -> None:
    client = inside()
    del client.headers["origin"]
    assert 403 == client.post("/work/read", json={"text": "x"}).status_code


def test_a_foreign_page_cannot_put_this_one_into_itself() -> None:
    answer = inside().get("/", headers={"sec-fetch-site": "cross-site"})
    assert 403 == answer.status_code


def test_too_much_is_refused_whether_its_length_is_told_or_not() -> None:
    client = inside()
    much = b"x" * (MOST_BYTES + 1)
    assert 413 == client.post("/work/read", content=much).status_code

    def untold():
        for _ in range(12):
            yield b"x" * (MOST_BYTES // 10)

    assert 413 == client.post("/work/read", content=untold()).status_code


def test_every_answer_tells_the_browser_what_it_may_do() -> None:
    client = inside()
    stranger = outside()
    for answer in (client.get("/"), client.get("/page.js"), client.get("/nothing"), stranger.get("/")):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "nosniff" == answer.headers["x-content-type-options"]
        assert "no-store" == answer.headers["cache-control"]
        assert "server" not in answer.headers


def test_the_page_has_no_script_or_style_of_its_own_and_reaches_nowhere() -> None:
    page = inside(Begin(text=EXCESS_WATER)).get("/").text
    page = page.replace('xmlns="http://www.w3.org/2000/svg"', "")  # a name, no place that is looked at
    scripts = re.findall(r'<script type="module" src="(/\w+\.js)"></script>', page)
    assert ["/page.js", "/design.js"] == scripts
    assert len(scripts) == page.count("<script")
    assert "<style" not in page
    assert " style=" not in page
    assert " on" not in {tag[:3] for tag in page.split("<")}
    assert "http://" not in page
    assert "https://" not in page


# ---- what is asked for


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[]", b"1", b"\xff", b'{"a":' * 300 + b"1" + b"}" * 300, b"[" * 100_000]
)
def test_what_is_no_plain_json_gets_a_line(body: bytes) -> None:
    answer = inside().post("/work/read", content=body)
    assert 400 == answer.status_code
    assert "JSON" in answer.json()["said"]


@pytest.mark.parametrize(
    "asked",
    [
        {"text": 3}, {"text": "x" * 200_001}, {"text": EXCESS_WATER, "units": "stone"},
        {"text": EXCESS_WATER, "region": "moon"},
        {"text": EXCESS_WATER, "moved": {"99": 1}}, {"text": EXCESS_WATER, "moved": {"0": -1}},
        {"text": EXCESS_WATER, "moved": {"0": 1e300}}, {"text": EXCESS_WATER, "moved": {"0": "1"}},
        {"text": EXCESS_WATER, "moved": {"0": True}}, {"text": EXCESS_WATER, "moved": [1]},
        {"text": EXCESS_WATER, "oven_c": 4000}, {"text": EXCESS_WATER, "bake_min": 0},
        {"text": EXCESS_WATER, "avoid": ["moon dust"]}, {"text": EXCESS_WATER, "avoid": "milk"},
        {"text": EXCESS_WATER, "net_carb_max": -1}, {"text": ""}, {"text": "\x00"}, {"text": "hello"},
        {"text": EXCESS_WATER, "moved": {str(place): 0 for place in range(14)}},
    ],
    ids=str,
)  # fmt: skip
def test_what_cannot_be_gets_one_clear_line(asked: dict[str, object]) -> None:
    for name in ("look", "plan"):
        answer = inside().post(f"/work/{name}", json=asked)
        assert 400 == answer.status_code
        said = answer.json()["said"]
        assert said
        assert len(said) <= 600
        assert "Traceback" not in said


def test_numbers_that_are_none_are_refused() -> None:
    body = json.dumps({"text": EXCESS_WATER, "moved": {"0": float("nan")}})
    assert 400 == inside().post("/work/look", content=body).status_code


@pytest.mark.parametrize("name", ["../app", "__init__", "work", "nothing", "look%00", "%2e%2e%2fetc"])
def test_only_what_is_named_can_be_asked_for(name: str) -> None:
    assert inside().post(f"/work/{name}", json={}).status_code in (404, 405)


def test_no_file_is_read_by_a_name_that_comes_from_the_network(tmp_path, monkeypatch) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("Secret loaf\n200 g water\n")
    client = inside()
    for name in (str(secret), f"file://{secret}", "../../pyproject.toml", "knowledge/bands.yaml"):
        for asked in ("demo",):
            answer = client.post(f"/work/{asked}", json={"name": name})
            assert 400 == answer.status_code
            assert "Secret" not in answer.text
    for path in ("/page.py", "/app.py", "/page.css/../app.py", "/%2e%2e/pyproject.toml", "/page.html"):
        assert 404 == client.get(path).status_code


def test_a_hostile_formula_stays_text_wherever_it_is_shown() -> None:
    formula = EXCESS_WATER.replace("Canteen sandwich loaf", f"title: {HOSTILE}") + f"\n{HOSTILE}\n"
    client = inside(Begin(text=f"{formula}\u202e</textarea>"))
    page = client.get("/").text
    assert page.count("<textarea") == page.count("</textarea>")
    found = worked(client, "read", text=formula) | worked(client, "plan", text=formula)
    as_text = {"name", "said"}  # what the page puts in as text and not as HTML
    for html in (page, *(v for k, v in found.items() if isinstance(v, str) and k not in as_text)):
        assert "<script>alert" not in html
        assert "<img" not in html
        assert "\u202e" not in html
    assert "&lt;script&gt;alert(1)" in found["answer"]


def test_a_fault_of_the_program_shows_neither_traceback_nor_path(monkeypatch) -> None:
    def broken(asked):
        raise RuntimeError(f"broken at {TOP}")

    monkeypatch.setattr(work, "WORK", {**work.WORK, "read": ("short", broken)})
    answer = inside().post("/work/read", json={"text": "x"})
    assert 500 == answer.status_code
    assert str(TOP) not in answer.text
    assert "fault in the program" in answer.json()["said"]


def test_a_page_that_is_not_there_is_a_plain_page() -> None:
    answer = inside().get("/nothing")
    assert 404 == answer.status_code
    assert "<h1>There is nothing here</h1>" in answer.text
    assert str(TOP) not in answer.text


# ---- links for other devices


def test_other_devices_get_links_only_where_the_house_is_let_in() -> None:
    here, house = inside(), inside(lan="http://192.168.1.5:4711")
    assert 400 == here.post("/link", json={}).status_code
    found = house.post("/link", json={}).json()
    assert found["link"].startswith("http://192.168.1.5:4711/in?key=")
    assert found["picture"].startswith("<svg")
    assert "style=" not in found["picture"]
    assert 401 == outside().post("/link", json={}, headers={"origin": f"http://{HOST}"}).status_code


def test_a_second_open_is_told_a_link_with_its_formula() -> None:
    doors = Doors()
    client = outside(doors)
    headers = {"origin": f"http://{HOST}", "x-owner": doors.owner}
    path = client.post("/link", json={"text": "Mine\n200 g water"}, headers=headers).json()["path"]
    client.get(path)
    assert "Mine\n200 g water" in client.get("/").text


# ---- bytes as they may come, to the page as it is really served

_BIG = "x" * 60_000
_POST = "POST /work/look HTTP/1.1\r\n{host}{cookie}{origin}"
RAW = {
    "no host": ("GET / HTTP/1.1\r\n{cookie}\r\n", 400),
    "two hosts": ("GET / HTTP/1.1\r\n{host}Host: evil.example\r\n{cookie}\r\n", 400),
    "foreign host": ("GET / HTTP/1.1\r\nHost: evil.example\r\n{cookie}\r\n", 421),
    "foreign address": ("GET http://evil.example/ HTTP/1.1\r\n{host}{cookie}\r\n", 404),
    "through here to elsewhere": ("CONNECT evil.example:443 HTTP/1.1\r\n{host}{cookie}{origin}\r\n", 404),
    "no bytes of a browser": ("\x16\x03\x01\x02\x00\x01\r\n\r\n", 400),
    "much around it": (f"GET / HTTP/1.1\r\n{{host}}{{cookie}}X-Big: {_BIG}\r\n\r\n", 431),
    "a long address": (f"GET /{_BIG} HTTP/1.1\r\n{{host}}{{cookie}}\r\n", 404),
    "a folder above": ("GET /../../etc/passwd HTTP/1.1\r\n{host}{cookie}\r\n", 404),
    "the same in disguise": ("GET /%2e%2e/%2e%2e/etc/passwd HTTP/1.1\r\n{host}{cookie}\r\n", 404),
    "a sheet from above": ("GET /sheet/handout/..%2f..%2fREADME HTTP/1.1\r\n{host}{cookie}\r\n", 404),
    "a line break in the address": ("GET /%0d%0aSet-Cookie:x=1 HTTP/1.1\r\n{host}{cookie}\r\n", 404),
    "no token": ("GET / HTTP/1.1\r\n{host}\r\n", 401),
    "a foreign page asks first": ("OPTIONS /work/look HTTP/1.1\r\n{host}{cookie}Origin: http://e.example\r\n\r\n", 403),
    "a foreign page": (
        "POST /work/look HTTP/1.1\r\n{host}{cookie}Origin: http://e.example\r\nContent-Length: 2\r\n\r\n{{}}", 403
    ),
    "a length below nothing": (f"{_POST}Content-Length: -2\r\n\r\n", 400),
    "two lengths": (f"{_POST}Content-Length: 2\r\nContent-Length: 9\r\n\r\n{{{{}}}}", 400),
    "too long a length": (f"{_POST}Content-Length: 99999999999\r\n\r\n", 413),
    "length and pieces": (f"{_POST}Content-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n", 400),
    "a large piece": (f"{_POST}Transfer-Encoding: chunked\r\n\r\n{500_000:x}\r\n{'x' * 500_000}\r\n0\r\n\r\n", 413),
    "a broken piece": (f"{_POST}Transfer-Encoding: chunked\r\n\r\nzz\r\n", 400),
    "deep": (f"{_POST}Content-Length: 200000\r\n\r\n{'[' * 200_000}", 400),
    "gone in the middle": (f"{_POST}Content-Length: 2000\r\n\r\n{{{{", 0),
}  # fmt: skip


def test_whatever_bytes_come_get_a_plain_refusal_and_leave_no_trace() -> None:
    with really_served() as (link, process):
        port, path = int(link.split(":")[2].partition("/")[0]), "/" + link.split("/", 3)[3]
        host = f"Host: 127.0.0.1:{port}\r\nConnection: close\r\n"
        came_in = _sent(port, f"GET {path} HTTP/1.1\r\n{host}\r\n")
        cookie = f"Cookie: {came_in.partition('set-cookie: ')[2].partition(';')[0]}\r\n"
        around = {"host": host, "cookie": cookie, "origin": f"Origin: http://127.0.0.1:{port}\r\n"}
        for name, (raw, status) in RAW.items():
            answer = _sent(port, raw.format(**around), gone=not status)
            if status:
                assert f" {status} " in answer.partition("\r\n")[0], (name, answer[:200])
            assert "Traceback" not in answer, name
            assert str(TOP) not in answer, name
            assert "root:" not in answer, name
            assert "set-cookie" not in answer.lower().partition("\r\n\r\n")[0], name
        assert " 200 " in _sent(port, f"GET / HTTP/1.1\r\n{host}{cookie}\r\n").partition("\r\n")[0]
        process.send_signal(signal.SIGINT)
        assert "" == process.communicate(timeout=20)[1]


def _sent(port: int, raw: str, *, gone: bool = False) -> str:
    """What comes back for these bytes; `gone`: whoever sent them does not wait."""
    with socket.create_connection(("127.0.0.1", port), timeout=20) as line:
        found = b""
        with contextlib.suppress(ConnectionError):  # what is refused half-read is cut off
            line.sendall(raw.encode("latin-1"))
            while not gone and (some := line.recv(65_536)):
                found += some
    return found.decode("latin-1")


# ---- the command itself


def test_it_serves_stops_by_ctrl_c_and_a_second_open_finds_the_first() -> None:
    with really_served("canteen-sandwich-loaf") as (link, process):
        base = link.partition("/in")[0]
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        assert b"Come in" in opener.open(link, timeout=20).read()
        assert b"170 g vital wheat gluten" in opener.open(f"{base}/", timeout=20).read()
        asked = urllib.request.Request(
            f"{base}/work/read", json.dumps({"text": EXCESS_WATER}).encode(), {"origin": base}
        )
        assert json.loads(opener.open(asked, timeout=60).read())["ok"]
        with pytest.raises(urllib.error.HTTPError):
            urllib.request.urlopen(base, timeout=20)

        noted = _page_file(process.pid)
        assert 0o600 == noted.stat().st_mode & 0o777
        again = subprocess.run(
            [sys.executable, "-m", "advisor", "open", "--no-browser", "almond-egg-loaf"],
            env={**os.environ, "ADVISOR_PAGE": str(noted), "PYTHONPATH": str(TOP)}, cwd=TOP, capture_output=True,
            text=True, timeout=60, check=True,
        )  # fmt: skip
        assert again.stdout.startswith("The page runs already")
        second = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        second.open(again.stdout.split()[-1], timeout=20).read()
        assert b"almond flour" in second.open(f"{base}/", timeout=20).read()

        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=20)
        assert 0 == process.returncode
        assert "stopped" in out
        assert "" == err
        assert not noted.exists()


def _page_file(pid: int) -> Path:
    told = Path(f"/proc/{pid}/environ").read_bytes().split(b"\0")
    return Path(dict(pair.partition(b"=")[::2] for pair in told)[b"ADVISOR_PAGE"].decode())


def test_a_port_that_is_taken_is_said_in_a_line(capsys) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert 2 == main(["open", "--no-browser", "--port", str(port)])
    assert f"port {port} cannot be used" in capsys.readouterr().err


def test_a_note_of_a_page_that_is_gone_keeps_nobody_from_opening(tmp_path, monkeypatch) -> None:
    note = tmp_path / "page.json"
    monkeypatch.setenv("ADVISOR_PAGE", str(note))
    for text in ("", "{}", "[]", '{"port": 1, "owner": "x"}', '{"port": "x", "owner": 1}', "\x00"):
        note.write_text(text)
        assert first_open.link_of_running(Begin()) is None


def test_a_formula_that_cannot_be_read_is_said_before_anything_is_served(tmp_path, capsys) -> None:
    bad = tmp_path / "bad.txt"
    bad.write_text("200 g moon dust of the finest sort\n")
    assert 2 == main(["open", str(bad), "--no-browser"])
    assert "moon dust" in capsys.readouterr().err
