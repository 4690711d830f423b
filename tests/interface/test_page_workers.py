"""Processes beside the server: two lanes, what is dropped for something newer, what is ended, and what comes back."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Iterator

import pytest
from page_rounds import EXCESS_WATER

from advisor.interface.page import workers as module
from advisor.interface.page.workers import Busy, Dropped, ProcessWorkers, WorkFault
from advisor.knowledge_base.faults import InputFault

ASKED = {"text": EXCESS_WATER}


@pytest.fixture
def workers() -> Iterator[ProcessWorkers]:
    some = ProcessWorkers(short=1, long=1)
    yield some
    some.close()


def place(name: str = "answer", tab: str = "one") -> tuple[str, str, str]:
    return ("session", tab, name)


def test_work_comes_back_and_faults_as_faults(workers: ProcessWorkers) -> None:
    async def round_() -> None:
        found = await workers.run("short", place(), "look", ASKED)
        assert isinstance(found, dict)
        assert "gummy middle" in str(found["said"])
        with pytest.raises(InputFault, match="moon dust"):
            await workers.run("short", place(), "look", {"text": "Loaf\n200 g moon dust\n100 g water"})
        with pytest.raises(WorkFault):
            await workers.run("short", place(), "nothing of that name", ASKED)
        assert isinstance(await workers.run("short", place(), "look", ASKED), dict)

    asyncio.run(round_())


def test_a_plan_under_way_is_ended_when_something_newer_is_asked_for(workers: ProcessWorkers) -> None:
    async def round_() -> None:
        await workers.run("long", place(), "warm", {})
        (first,) = workers._all
        older = asyncio.create_task(workers.run("long", place(), "plan", ASKED))
        await asyncio.sleep(0.05)
        newer = asyncio.create_task(workers.run("long", place(), "plan", ASKED))
        with pytest.raises(Dropped):
            await older
        assert isinstance(await newer, dict)
        assert first not in workers._all
        with pytest.raises(ValueError, match="closed"):
            first.process.is_alive()

    asyncio.run(round_())


def test_what_waits_never_starts_once_something_newer_came(workers: ProcessWorkers) -> None:
    async def round_() -> None:
        tasks = [asyncio.create_task(workers.run("short", place(), "look", ASKED)) for _ in range(8)]
        done = await asyncio.gather(*tasks, return_exceptions=True)
        assert isinstance(done[-1], dict)
        assert all(isinstance(one, Dropped) for one in done[:-1])
        assert 0 == workers._waiting
        assert {} == workers._under_way

    asyncio.run(round_())


def test_another_tab_and_another_place_drop_nothing(workers: ProcessWorkers) -> None:
    async def round_() -> None:
        places = [place(), place(tab="two"), place("other")]
        done = await asyncio.gather(*(workers.run("short", p, "look", ASKED) for p in places))
        assert all(isinstance(one, dict) for one in done)

    asyncio.run(round_())


def test_a_look_does_not_wait_for_plans(workers: ProcessWorkers) -> None:
    async def round_() -> None:
        await workers.run("short", place(), "look", ASKED)
        plans = [asyncio.create_task(workers.run("long", place(tab=str(n)), "plan", ASKED)) for n in range(4)]
        await asyncio.sleep(0.05)
        await workers.run("short", place("look"), "look", ASKED)
        assert not all(plan.done() for plan in plans)
        await asyncio.gather(*plans)

    asyncio.run(round_())


def test_a_process_that_dies_costs_one_answer(workers: ProcessWorkers) -> None:
    async def round_() -> None:
        await workers.run("long", place(), "warm", {})
        (process,) = workers._all
        under_way = asyncio.create_task(workers.run("long", place(), "plan", ASKED))
        await asyncio.sleep(0.03)
        process.process.kill()
        with pytest.raises(WorkFault):
            await under_way
        assert isinstance(await workers.run("long", place(), "plan", ASKED), dict)

    asyncio.run(round_())


def test_what_takes_too_long_is_given_up(workers: ProcessWorkers, monkeypatch: pytest.MonkeyPatch) -> None:
    async def round_() -> None:
        await workers.run("long", place(), "warm", {})
        monkeypatch.setattr(module, "LONGEST_S", 0.01)
        began = time.monotonic()
        with pytest.raises(WorkFault, match="longer"):
            await workers.run("long", place(), "plan", ASKED)
        assert time.monotonic() - began < 5

    asyncio.run(round_())


def test_where_too_much_waits_more_is_refused(
    workers: ProcessWorkers, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "MOST_WAITING", 2)

    async def round_() -> None:
        asked = [
            asyncio.create_task(workers.run("short", place(tab=str(n)), "look", ASKED)) for n in range(6)
        ]
        done = await asyncio.gather(*asked, return_exceptions=True)
        assert any(isinstance(one, Busy) for one in done)
        assert any(isinstance(one, dict) for one in done)

    asyncio.run(round_())
