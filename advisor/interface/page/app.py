"""The server's paths: the page, its files, the link that lets a device in, and the work that the page asks for."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp

from advisor.interface.page.asked import Asked
from advisor.interface.page.asked_formula import REGIONS, UNITS
from advisor.interface.page.device_access import NOTHING, Begin, Doors
from advisor.interface.page.guard import SHUT, TOO_MUCH, Guard, TooMuch
from advisor.interface.page.plain_pages import plain_page
from advisor.interface.page.shell import shell
from advisor.interface.page.work import WORK
from advisor.interface.page.workers import Busy, Dropped, Workers, WorkFault
from advisor.knowledge_base.faults import InputFault

_HERE = Path(__file__).parent
_FILES = {"/page.css": "text/css", "/page.js": "text/javascript", "/design.js": "text/javascript"}
"""The only files that are served, each by a path of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """Names with port under which the page answers, the name of its cookie, and whether other devices may in."""

    hosts: Collection[str]
    cookie: str
    lan: str = ""
    """The address under which other devices of the house reach it; empty where they may not."""


def page_app(doors: Doors, workers: Workers, served: Served) -> ASGIApp:
    """Put the page together, with its guard in front."""
    pages = _Pages(doors, workers, served)
    app = Starlette(
        routes=[
            Route("/", pages.page),
            Route("/in", pages.come_in),
            Route("/link", pages.link, methods=["POST"]),
            Route("/work/{name}", pages.work, methods=["POST"]),
            Route("/sheet/{sheet}/{topic}", pages.sheet),
            *(Route(path, _file) for path in _FILES),
        ],
        exception_handlers={HTTPException: _no_such, TooMuch: _too_much, Exception: _own_fault},
    )
    return Guard(app, doors, served.hosts, served.cookie)


class _Pages:
    def __init__(self, doors: Doors, workers: Workers, served: Served) -> None:
        self.doors, self.workers, self.served = doors, workers, served

    async def page(self, request: Request) -> Response:
        return HTMLResponse(
            shell(self.doors.begins_with(request.scope["session"]), lan=bool(self.served.lan))
        )

    async def come_in(self, request: Request) -> Response:
        """Let a device in by its link. It goes on by itself, so that the strict cookie goes with it."""
        session = self.doors.enter(request.query_params.get("key", "")[:200])
        if session is None:
            return plain_page(401, "This link is used up", _USED_UP)
        answer = plain_page(200, "Come in", "The page opens by itself.", onward="/")
        answer.set_cookie(self.served.cookie, session, path="/", httponly=True, samesite="strict")
        return answer

    async def link(self, request: Request) -> Response:
        """Give a new link: to a second `advisor open` of the same user, or to a device that is in, for another one."""
        owner = self.doors.is_owner(request.headers.get("x-owner", ""))
        if not owner and not self.doors.is_in(_session_of(request, self.served.cookie)):
            return JSONResponse({"said": "not without a session"}, 401)
        if not owner and not self.served.lan:
            return JSONResponse({"said": "other devices are let in by 'advisor open --lan'"}, 400)
        try:
            asked = Asked.read(await request.body())
            path = self.doors.link(_begin(asked) if owner else NOTHING)
        except InputFault as fault:
            return JSONResponse({"said": str(fault)}, 400)
        return JSONResponse({"path": path} if owner else self._shown_link(path))

    def _shown_link(self, path: str) -> dict[str, str]:
        """A link for another device, and a picture of it for the camera of that device."""
        import segno

        link = f"{self.served.lan}{path}"
        return {
            "link": link,
            "picture": segno.make(link, error="m").svg_inline(scale=5, light="#ffffff", border=3),
        }

    async def work(self, request: Request) -> Response:
        """Have one thing worked out; what was dropped for something newer says so, and is no error."""
        name = request.path_params["name"]
        if name not in WORK:
            raise HTTPException(404)
        try:
            asked = Asked.read(await request.body())
            place = (request.scope["session"], asked.text("tab", most=40), asked.text("place", name, 40))
            answer = await self.workers.run(WORK[name][0], place, name, asked.data)
        except InputFault as fault:
            return JSONResponse({"said": str(fault)}, 400)
        except Dropped:
            return JSONResponse({"dropped": True}, 409)
        except Busy:
            return JSONResponse({"said": "too much is being asked at once; wait a moment and try again"}, 503)
        except WorkFault:
            return JSONResponse({"said": "this is a fault in the program, not in your formula"}, 500)
        return JSONResponse(answer)

    async def sheet(self, request: Request) -> Response:
        """A handout, a key or a lesson to be printed: a page of its own, its style inside it and known by its sum."""
        asked = {name: str(request.path_params[name])[:100] for name in ("sheet", "topic")}
        place = (request.scope["session"], "", f"sheet-{asked['sheet']}")
        try:
            found = await self.workers.run("long", place, "sheet", asked)
        except (InputFault, Dropped, Busy, WorkFault):
            return plain_page(404, "There is no such sheet", "Open it from the class view, by its link.")
        html = str(found["html"]) if isinstance(found, dict) else ""
        return HTMLResponse(html, headers={"content-security-policy": _shut_but_for_style(html)})


_USED_UP = (
    "Every link lets one device in, once. Run 'advisor open' again on the machine that serves the page: it gives a new "
    "link."
)


def _begin(asked: Asked) -> Begin:
    return Begin(
        text=asked.text("text"), region=asked.choice("region", REGIONS), units=asked.choice("units", UNITS)
    )


def _session_of(request: Request, cookie: str) -> str:
    return request.cookies.get(cookie, "")


def _shut_but_for_style(html: str) -> str:
    """What a browser may do with a page that has its style inside: nothing but to use that style."""
    style = html.partition("<style>")[2].partition("</style>")[0]
    total = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return SHUT.replace("script-src 'self'", "script-src 'none'").replace(
        "style-src 'self'", f"style-src 'sha256-{total}'"
    )


@cache
def _read(name: str) -> bytes:
    return (_HERE / name).read_bytes()


async def _file(request: Request) -> Response:
    path = request.url.path
    return Response(_read(path[1:]), media_type=_FILES[path])


async def _no_such(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    return plain_page(status, "There is nothing here", "The page has one address; go back to it.", onward="")


async def _too_much(request: Request, error: Exception) -> Response:
    return plain_page(413, "That is too much", TOO_MUCH)


async def _own_fault(request: Request, error: Exception) -> Response:
    return plain_page(500, "A fault of the program", "This is a fault in the program, not in your formula.")
