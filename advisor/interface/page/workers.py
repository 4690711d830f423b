"""Processes that work things out beside the server, so that two tablets do not wait for each other.

Short work (a moved amount) has workers of its own, so that no plan stands in its way, and what takes seconds (a formula
that is searched for) has others again. Whatever is asked for again in the same place of the same page is dropped: while
it waits it never starts, and while a plan is under way its process is ended and another put in its place.
"""

from __future__ import annotations

import asyncio
import contextlib
import multiprocessing
import signal
from collections.abc import Callable, Coroutine, Mapping
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerContext, SpawnContext
from typing import Protocol

from advisor.interface.page.asked import Json, Lane

Place = tuple[str, str, str]
"""Session, tab, and the place on its page that the answer is for."""
MOST_WAITING = 24
LONGEST_S = 60.0
"""After so long a piece of work is given up, and its process ended; what is slow has more."""
_SLOW_TIMES = 4


class Dropped(Exception):
    """When something newer was asked for in the same place."""


class Busy(Exception):
    """When too much waits already."""


class WorkFault(Exception):
    """When a worker fails or takes too long, which no text of a baker should bring about."""


class Workers(Protocol):
    """Whatever works things out: processes, or a stand-in in tests."""

    async def run(self, lane: Lane, place: Place, name: str, asked: Mapping[str, Json]) -> Json:
        """Work one thing out.

        Raises:
            Dropped, Busy, WorkFault: it was not worked out.
            InputFault: what was asked cannot be read.
        """
        ...

    def close(self) -> None:
        """End whatever runs."""
        ...


@dataclass(slots=True, eq=False)
class _Job:
    """What is under way in one place; `dropped` is set once something newer is asked for there."""

    dropped: asyncio.Event = field(default_factory=asyncio.Event)


class _Process:
    """One process with the pipe to it."""

    def __init__(self) -> None:
        # Started by a process that has read the knowledge already, where the system can do that: in a few milliseconds.
        context: ForkServerContext | SpawnContext
        if "forkserver" in multiprocessing.get_all_start_methods():
            context = multiprocessing.get_context("forkserver")
            context.set_forkserver_preload(["advisor.interface.page.warm"])
        else:
            context = multiprocessing.get_context("spawn")
        self._pipe, theirs = context.Pipe()
        self.process = context.Process(target=serve, args=(theirs,), daemon=True)
        self.process.start()
        theirs.close()

    def call(self, name: str, asked: Mapping[str, Json]) -> Json:
        """Have one thing worked out; blocks until it is.

        Raises:
            InputFault, WorkFault: it was not.
        """
        from advisor.knowledge_base.faults import InputFault

        try:
            self._pipe.send((name, dict(asked)))
            kind, answer = self._pipe.recv()
        except (EOFError, OSError):
            raise WorkFault("the process that worked on it has ended") from None
        if kind == "input":
            raise InputFault(str(answer))
        if kind == "fault":
            raise WorkFault(str(answer))
        done: Json = answer
        return done

    def end(self) -> None:
        """End it, whatever it does; whoever waits for its answer is told."""
        self.process.kill()

    def release(self) -> None:
        """Give back what an ended one held, once nobody reads from its pipe any more."""
        self.process.join(5)
        self._pipe.close()
        if self.process.exitcode is not None:
            self.process.close()


class ProcessWorkers:
    """Workers for short and for long work, made when they are first needed."""

    def __init__(self, short: int = 2, long: int = 2, slow: int = 2) -> None:
        self._idle: dict[Lane, asyncio.LifoQueue[_Process | None]] = {
            "short": _empty(short), "long": _empty(long), "slow": _empty(slow)
        }  # fmt: skip
        self._all: set[_Process] = set()
        self._under_way: dict[Place, _Job] = {}
        self._waiting = 0

    async def run(self, lane: Lane, place: Place, name: str, asked: Mapping[str, Json]) -> Json:
        """Work one thing out in a process.

        Raises:
            Dropped, Busy, WorkFault, InputFault: see `Workers`.
        """
        if (older := self._under_way.get(place)) is not None:
            older.dropped.set()
        if self._waiting >= MOST_WAITING:
            raise Busy
        job = self._under_way[place] = _Job()
        try:
            worker = await self._worker(lane, job)
            return await self._work(lane, worker, job, name, asked)
        finally:
            if self._under_way.get(place) is job:
                del self._under_way[place]

    async def _worker(self, lane: Lane, job: _Job) -> _Process:
        self._waiting += 1
        try:
            free = await _unless(job.dropped, self._idle[lane].get(), on_late=self._idle[lane].put_nowait)
        finally:
            self._waiting -= 1
        if free is None or not free.process.is_alive():
            free = await asyncio.to_thread(_Process)
            self._all.add(free)
        return free

    async def _work(
        self, lane: Lane, worker: _Process, job: _Job, name: str, asked: Mapping[str, Json]
    ) -> Json:
        under_way = asyncio.create_task(asyncio.to_thread(worker.call, name, asked))
        dropped = asyncio.create_task(job.dropped.wait())
        # What is short is let come to its end: to end its process would cost more than it does.
        stops = (under_way,) if lane == "short" else (under_way, dropped)
        longest = LONGEST_S * (_SLOW_TIMES if lane == "slow" else 1)
        await asyncio.wait(stops, timeout=longest, return_when=asyncio.FIRST_COMPLETED)
        dropped.cancel()
        if under_way.done():
            failed = isinstance(under_way.exception(), WorkFault)
            if failed:
                self._end(worker)
                await asyncio.to_thread(worker.release)
            self._idle[lane].put_nowait(None if failed else worker)
            if job.dropped.is_set():
                raise Dropped
            return under_way.result()
        self._end(worker)
        self._idle[lane].put_nowait(None)
        with contextlib.suppress(Exception):
            await under_way
        await asyncio.to_thread(worker.release)
        if job.dropped.is_set():
            raise Dropped
        raise WorkFault(f"it took longer than {longest:.0f} s")

    async def warm(self) -> None:
        """Have a worker ready before the first baker asks, but for what takes seconds anyway."""
        lanes: tuple[Lane, ...] = ("short", "long")
        for lane in lanes:
            with contextlib.suppress(Dropped, Busy, WorkFault):
                await self.run(lane, ("", "", lane), "warm", {})

    def _end(self, worker: _Process) -> None:
        worker.end()
        self._all.discard(worker)

    def close(self) -> None:
        """End all processes."""
        for worker in tuple(self._all):
            self._end(worker)


def _empty(count: int) -> asyncio.LifoQueue[_Process | None]:
    """Room for some workers, none of which is there yet."""
    queue: asyncio.LifoQueue[_Process | None] = asyncio.LifoQueue()
    for _ in range(count):
        queue.put_nowait(None)
    return queue


async def _unless(
    dropped: asyncio.Event,
    wanted: Coroutine[None, None, _Process | None],
    on_late: Callable[[_Process | None], None],
) -> _Process | None:
    """Wait for a worker, unless the work is dropped first; one that comes at the same moment is given back."""
    waits, gives_up = asyncio.create_task(wanted), asyncio.create_task(dropped.wait())
    await asyncio.wait((waits, gives_up), return_when=asyncio.FIRST_COMPLETED)
    gives_up.cancel()
    if not dropped.is_set():
        return waits.result()
    if waits.done():
        on_late(waits.result())
    else:
        waits.cancel()
    raise Dropped


def serve(pipe: Connection) -> None:
    """What a process does: take a piece of work from the pipe, give back its answer, until the pipe is shut."""
    from advisor.interface.page.work import work_out

    # Ctrl-C reaches every process of a terminal; the server ends these itself.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    while True:
        try:
            name, asked = pipe.recv()
        except (EOFError, OSError):
            return
        with contextlib.suppress(OSError):
            pipe.send(work_out(name, asked))
