"""Work mapped over many things by several processes: in order, a few at a time, and past a worker that dies."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from itertools import islice
from typing import TypeVar

T = TypeVar("T")
R = TypeVar("R")
_AHEAD = 4
"""Things handed out for each worker before the first answer is taken: enough that none waits, and not all at once."""


def in_order(
    work: Callable[[T], R], things: Iterable[T], jobs: int, killed: Callable[[T, BaseException], R]
) -> Iterator[R]:
    """Give `work` of each thing in the order of the things; with more than one job, from other processes.

    `work` and what it gives must be picklable. A worker that dies takes the things in its queue with it: each of
    them is tried once more by a worker of its own, and `killed` answers for the one that kills that one too.
    """
    if jobs == 1:
        yield from map(work, things)
        return
    coming = iter(things)
    while True:
        waiting: deque[tuple[T, Future[R]]] = deque()
        lost: list[T] = []
        with _pool(jobs) as pool:
            try:
                while True:
                    for thing in islice(coming, jobs * _AHEAD - len(waiting)):
                        waiting.append((thing, _handed_out(pool, work, thing)))
                    if not waiting:
                        return
                    thing, future = waiting[0]
                    try:
                        answer = future.result()
                    except BrokenProcessPool:
                        lost = [one for one, _ in waiting]
                        break
                    waiting.popleft()
                    yield answer
            finally:
                # Whoever stops listening (an interrupt, a closed pipe) waits for no more than what is being done.
                pool.shutdown(wait=True, cancel_futures=True)
        for thing in lost:
            yield _alone(work, thing, killed)


def _handed_out(pool: ProcessPoolExecutor, work: Callable[[T], R], thing: T) -> Future[R]:
    try:
        return pool.submit(work, thing)
    except BrokenProcessPool as broken:
        failed: Future[R] = Future()
        failed.set_exception(broken)
        return failed


def _alone(work: Callable[[T], R], thing: T, killed: Callable[[T, BaseException], R]) -> R:
    with _pool(1) as pool:
        try:
            return pool.submit(work, thing).result()
        except BrokenProcessPool as broken:
            return killed(thing, broken)


def _pool(jobs: int) -> ProcessPoolExecutor:
    return ProcessPoolExecutor(max_workers=jobs, initializer=_begin)


def _begin() -> None:
    """An interrupt is for the parent to answer; and no worker outlives it, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_leave_with_parent, daemon=True).start()


def _leave_with_parent() -> None:
    if (parent := multiprocessing.parent_process()) is not None:
        parent.join()
        os._exit(1)
