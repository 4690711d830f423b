"""Threads, processes and a cluster engine give what one thread gives, and nobody can change what was given."""

from __future__ import annotations

import dataclasses
import json
import multiprocessing
import pickle
import subprocess
import sys
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from functools import partial
from pathlib import Path

import pydantic
import pytest

import advisor
from advisor import check, check_text, diagnose, load_knowledge
from advisor.remedy.assessing import Assessment
from advisor.rendering.checked import Checked

TOP = Path(__file__).parents[1]
TEXTS = [path.read_text("utf-8") for path in list(load_knowledge().formulas.values())[::8]] + [
    "100 g no such thing"
]
"""An eighth of the demo formulas, and one text that cannot be read."""
FAULTY = load_knowledge().formulas["canteen-sandwich-loaf-excess-water"].read_text("utf-8")
IN_FULL = partial(check_text, in_full=True)


@pytest.fixture(scope="module")
def alone() -> list[Checked]:
    found = [check_text(text, in_full=True) for text in TEXTS]
    assert {0, 1, 2} == {one.exit for one in found}
    return found


def test_threads_give_what_one_thread_gives(alone: list[Checked]) -> None:
    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(IN_FULL, TEXTS * 3))
    assert alone * 3 == found


def test_threads_diagnose_as_one_does() -> None:
    seen = [["gummy_centre"], ["dense_crumb", "pale_crust"], ["collapse_on_cooling"], ["crumbly_slice"]]

    def causes(saw: list[str]) -> list[tuple[str, float]]:
        found = diagnose(FAULTY, saw=saw)
        return [(c.id, c.probability) for c in found.examination.diagnosis.causes]

    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(causes, seen * 3))
    assert [causes(saw) for saw in seen] * 3 == found


@pytest.mark.filterwarnings("ignore:.*use of fork.*:DeprecationWarning")
@pytest.mark.parametrize("start", ["fork", "spawn"])
def test_processes_give_what_one_thread_gives(start: str, alone: list[Checked]) -> None:
    """A process begun anew reads the knowledge for itself; a forked one goes on with engines that have run."""
    with ProcessPoolExecutor(2, mp_context=multiprocessing.get_context(start)) as pool:
        assert alone == list(pool.map(IN_FULL, TEXTS))


def test_threads_that_come_first_all_at_once_agree() -> None:
    """In a new process nothing is read, compiled or imported yet when many threads ask."""
    script = """
import sys, threading
from concurrent.futures import ThreadPoolExecutor
from advisor import check_text
text, gate = sys.stdin.read(), threading.Barrier(8)
def ask(_):
    gate.wait()
    return check_text(text)
with ThreadPoolExecutor(8) as pool:
    one, *others = pool.map(ask, range(8))
assert all(other == one for other in others)
print(one.exit, one.symptom, one.cause)
"""
    ran = subprocess.run(
        [sys.executable, "-c", script], input=FAULTY, capture_output=True, text=True, check=False, cwd=TOP
    )
    assert ("1 gummy_centre excess_water\n", "") == (ran.stdout, ran.stderr)


# The library's own warnings are not ours to mend.
@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("scheduler", ["threads", "processes"])
def test_a_cluster_engine_maps_the_same_function(scheduler: str, alone: list[Checked]) -> None:
    bag = pytest.importorskip("dask.bag", reason="the extra 'cluster' is not installed")
    catalogue = bag.from_sequence(TEXTS, npartitions=3)
    found = catalogue.map(check_text, in_full=True).compute(scheduler=scheduler, num_workers=2)
    assert alone == found
    at_risk = catalogue.map(check_text).filter(_at_risk).map(_cause).frequencies()
    expected: dict[str, int] = {}
    for one in alone:
        if one.exit == 1 and one.cause is not None:
            expected[one.cause] = expected.get(one.cause, 0) + 1
    assert expected == dict(at_risk.compute(scheduler=scheduler, num_workers=2))


def _at_risk(checked: Checked) -> bool:
    return checked.exit == 1


def _cause(checked: Checked) -> str | None:
    return checked.cause


# ---- frozen, typed, and able to travel


def parts(thing: object, path: str = "answer", seen: set[int] | None = None) -> Iterator[tuple[str, object]]:
    """Every dataclass and entry that an answer holds, with the way to it."""
    seen = set() if seen is None else seen
    if id(thing) in seen:
        return
    seen.add(id(thing))
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        yield path, thing
        for field in dataclasses.fields(thing):
            yield from parts(getattr(thing, field.name), f"{path}.{field.name}", seen)
    elif isinstance(thing, pydantic.BaseModel):
        yield path, thing
        for name in type(thing).model_fields:
            yield from parts(getattr(thing, name), f"{path}.{name}", seen)
    elif isinstance(thing, Mapping):
        for key, value in thing.items():
            yield from parts(value, f"{path}[{key}]", seen)
    elif isinstance(thing, tuple):
        for value in thing:
            yield from parts(value, f"{path}[]", seen)


def test_nothing_in_an_answer_can_be_set_anew() -> None:
    found = [*parts(check(FAULTY)), *parts(check_text(FAULTY), "checked")]
    assert isinstance(found[0][1], Assessment)
    assert {"Examination", "Formula", "Proposal", "Ingredient", "Checked"} <= {
        type(part).__name__ for _, part in found
    }
    for path, part in found:
        name = next(
            iter(type(part).model_fields)
            if isinstance(part, pydantic.BaseModel)
            else (f.name for f in dataclasses.fields(part))  # type: ignore[arg-type]  # parts gives instances
        )
        with pytest.raises((dataclasses.FrozenInstanceError, pydantic.ValidationError)):
            setattr(part, name, None)
            pytest.fail(f"{path}.{name} can be set")


def test_no_answer_holds_a_list_that_could_be_added_to() -> None:
    lists = [
        f"{path}.{field.name}"
        for path, part in parts(check(FAULTY))
        if dataclasses.is_dataclass(part)
        for field in dataclasses.fields(part)
        if isinstance(getattr(part, field.name), list | set)
    ]
    assert [] == lists


def test_answers_travel_and_come_back_the_same() -> None:
    answer = check(FAULTY)
    back = pickle.loads(pickle.dumps(answer))
    assert answer.plans == back.plans
    assert answer.examination.diagnosis == back.examination.diagnosis
    assert answer.examination.inference == back.examination.inference
    checked = check_text(FAULTY, in_full=True)
    assert checked == pickle.loads(pickle.dumps(checked))
    assert json.loads(checked.document)["formula"]["name"] == answer.examination.formula.name


NEVER_RAISE = ("check_text", "glossary", "ingredients", "lessons", "lint", "report", "sources", "symptoms")


def test_everything_public_says_what_it_is_and_what_it_raises() -> None:
    for name in advisor.__all__:
        public = getattr(advisor, name)
        said = public.__doc__ or ""
        assert len(said) > (15 if isinstance(public, type) else 40), name
        assert "Raises:" in said or name in NEVER_RAISE or isinstance(public, type), name
    with pytest.raises(AttributeError):
        _ = advisor.no_such_thing  # type: ignore[attr-defined]
