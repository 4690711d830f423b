"""What stands before every request: who asks, from where, how much; and what a browser may do with the answer.

The page is on this machine, and so are other pages that the same browser has open. A name that was made to point here
(rebinding) is refused by its Host, a foreign page that posts by its Origin, and whoever has no session by the cookie.
"""

from __future__ import annotations

import os
from collections.abc import Collection
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from advisor.interface.page.device_access import Doors
from advisor.interface.page.plain_pages import plain_page

MOST_BYTES = 400_000
"""Of one request: a formula and what is asked of it; a formula alone may be 200,000 letters."""
MOST_HEADER_BYTES = 16_000
FREE = ("/in", "/link")
"""Paths without a session: the link that gives one, and the door of a second `advisor open`."""
SHUT = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""What a browser may load and run: files of this server, and pictures written into the page."""
_ALWAYS = {
    "cache-control": "no-store",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
}


class TooMuch(Exception):
    """When a request goes on beyond what is taken."""


class Guard:
    """Wraps the page; `hosts` are the names and ports under which it may be asked for."""

    def __init__(self, app: ASGIApp, doors: Doors, hosts: Collection[str], cookie: str) -> None:
        self.app, self.doors, self.hosts, self.cookie = app, doors, frozenset(hosts), cookie

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let one request through, or answer it with a plain page."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return  # there is nothing else here; the server closes what it does not know
        headers = Headers(scope=scope)
        sent = _Sent(send)
        refused = self._refused(scope, headers)
        if refused is not None:
            await plain_page(*refused)(scope, receive, sent)
            return
        scope["session"] = self._session(headers)
        try:
            await self.app(scope, _counted(receive), sent)
        except Exception:
            # It is answered by a plain page already, or the browser has gone: no traceback belongs on the terminal.
            if os.environ.get("ADVISOR_TRACEBACK"):
                raise

    def _refused(self, scope: Scope, headers: Headers) -> tuple[int, str, str] | None:
        """Status, title and reason where a request is not to be answered."""
        if sum(len(name) + len(value) for name, value in scope["headers"]) > MOST_HEADER_BYTES:
            return 431, "That is too much", "The request has more around it than is taken."
        host = headers.get("host", "")
        if host not in self.hosts:
            return (
                421,
                "Not under this name",
                "This page answers only under the address that 'advisor open' printed.",
            )
        changes = scope["method"] not in ("GET", "HEAD")
        if changes and headers.get("origin") != f"http://{host}":
            return 403, "Not from another page", "A page of another place asked for this. Nothing was done."
        if headers.get("sec-fetch-site", "none") == "cross-site" and scope["path"] not in FREE:
            return 403, "Not from another page", "A page of another place asked for this. Nothing was done."
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit():
            return 400, "Not understood", "The request does not say how long it is."
        if len(length) > 12 or int(length) > MOST_BYTES:
            return 413, "That is too much", TOO_MUCH
        if scope["path"] not in FREE and not self.doors.is_in(self._session(headers)):
            return 401, "A link is needed", _NEEDS_LINK
        return None

    def _session(self, headers: Headers) -> str:
        try:
            found = SimpleCookie(headers.get("cookie", "")).get(self.cookie)
        except CookieError:
            return ""
        return found.value if found else ""


TOO_MUCH = f"No more than {MOST_BYTES // 1000} kB are taken at once. Send one formula at a time."
_NEEDS_LINK = (
    "This page opens by the link that 'advisor open' prints, once for each device. Run 'advisor open' again on the "
    "machine that serves it: it gives a new link."
)


class _Sent:
    """Puts what every answer says to the browser onto it, whatever made the answer."""

    def __init__(self, send: Send) -> None:
        self._send = send

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _ALWAYS.items():
                headers[name] = value
            headers.setdefault("content-security-policy", SHUT)
        await self._send(message)


def _counted(receive: Receive) -> Receive:
    """Bytes as they come, since not every request says beforehand how long it is."""
    so_far = 0

    async def counted() -> Message:
        nonlocal so_far
        message = await receive()
        so_far += len(message.get("body", b""))
        if so_far > MOST_BYTES:
            raise TooMuch
        return message

    return counted
