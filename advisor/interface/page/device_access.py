"""Who is let in: a link lets one device in, once, and gives it a session of its own."""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Begin:
    """What a page opens with: a formula's text, whose cups it means, and in which units it is answered (its own)."""

    text: str = ""
    region: str = "us"
    units: str = "written"


MOST_LINKS, MOST_SESSIONS = 16, 64
"""Links that wait to be used and devices that are in; the oldest goes where there are more."""


NOTHING = Begin()


def _token() -> str:
    return secrets.token_urlsafe(24)


@dataclass(slots=True)
class Doors:
    """Links and sessions of one run; each link has what its page opens with."""

    make: Callable[[], str] = _token
    owner: str = field(default_factory=_token)
    """What a second `advisor open` of the same user shows, to be told a link."""
    _links: dict[str, Begin] = field(default_factory=dict)
    _sessions: dict[str, Begin] = field(default_factory=dict)

    def link(self, begin: Begin = NOTHING) -> str:
        """Give the path of a link that lets one device in."""
        _drop_oldest(self._links, MOST_LINKS)
        key = self.make()
        self._links[key] = begin
        return f"/in?key={key}"

    def enter(self, key: str) -> str | None:
        """Use a link up and give a session; `None` where there is no such link, or it was used."""
        known = next((link for link in self._links if _same(link, key)), None)
        if known is None:
            return None
        _drop_oldest(self._sessions, MOST_SESSIONS)
        session = self.make()
        self._sessions[session] = self._links.pop(known)
        return session

    def is_in(self, session: str) -> bool:
        """Whether a session was given out by this run."""
        return any(_same(known, session) for known in self._sessions)

    def is_owner(self, key: str) -> bool:
        """Whether somebody knows what only files of this user tell."""
        return _same(self.owner, key)

    def begins_with(self, session: str) -> Begin:
        """What a session's page opens with."""
        return self._sessions.get(session, NOTHING)


def _same(known: str, given: str) -> bool:
    return hmac.compare_digest(known.encode(), given.encode("utf-8", "replace"))


def _drop_oldest(some: dict[str, Begin], most: int) -> None:
    while len(some) >= most:
        del some[next(iter(some))]
