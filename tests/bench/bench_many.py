"""A catalogue of many formulas through `check FOLDER --jobs 2 --jsonl`: python tests/bench/bench_many.py [COUNT].

Prints the memory of all its processes after each tenth of the way, and exits 1 where it grows, where a line is not
whole after Ctrl-C, where going on does not end with every formula once, where a closed pipe is told of, or where a
worker that is killed costs more than its formula. 20,000 are meant; below 2,000 the caches still fill,
which are full after some 800. The trials of ends take 40 each. Linux.
"""

from __future__ import annotations

import json
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from budget_table import Row, show

TOP = Path(__file__).parents[2]
FORMULAS = sorted((TOP / "knowledge" / "formulas").glob("*.txt"))
TENTHS, SETTLED = 10, 3
FEW = 40


def catalogue(folder: Path, count: int) -> Path:
    """Write formulas of the test kitchen with amounts of their own, so that no bake is in any cache."""
    folder.mkdir()
    chance = random.Random(20261130)
    for n in range(count):
        text = chance.choice(FORMULAS).read_text("utf-8")
        vary = lambda found: f"{float(found[1]) * chance.uniform(0.85, 1.15):.1f} g"  # noqa: E731 (one line says it)
        (folder / f"{n:05}.txt").write_text(re.sub(r"^(\d+(?:\.\d+)?) g\b", vary, text, flags=re.M), "utf-8")
    return folder


def batch(folder: Path, *words: str, **given: object) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-m", "advisor", "check", str(folder), "--jobs", "2", *words]
    environment = {**os.environ, "PYTHONPATH": str(TOP), "ADVISOR_RECORD": "/nonexistent/record"}
    return subprocess.Popen(command, env=environment, **{"stderr": subprocess.PIPE, **given})  # type: ignore[call-overload]


def family(pid: int) -> Iterator[int]:
    """Give a process and all that it started."""
    yield pid
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        for child in task.read_text().split():
            yield from family(int(child))


def memory_mb(pid: int) -> float:
    """Memory of a process and its workers that no other process has, MB."""
    whole = 0
    for one in family(pid):
        try:
            rollup = Path(f"/proc/{one}/smaps_rollup").read_text()
        except OSError:  # it has just ended
            continue
        whole += sum(int(kb) for kb in re.findall(r"^Private_(?:Clean|Dirty):\s+(\d+)", rollup, re.M))
    return whole / 1024


def whole_lines(path: Path) -> list[dict[str, object]]:
    raw = path.read_bytes()
    assert raw.endswith(b"\n") or not raw, "the last line is cut short"
    return [json.loads(line) for line in raw.splitlines()]


def runs_through(folder: Path, out: Path, count: int) -> bool:
    """Run the whole catalogue and watch its memory."""
    started, done, mb = time.monotonic(), 0, list[float]()
    with (
        out.open("wb") as stream,
        batch(folder, "--jsonl", stdout=stream, stderr=subprocess.DEVNULL) as running,
        out.open("rb") as written,
    ):
        while running.poll() is None:
            time.sleep(0.2)
            before, done = done, done + written.read().count(b"\n")
            if before * TENTHS // count < done * TENTHS // count < TENTHS:  # at the end the workers are gone
                mb.append(memory_mb(running.pid))
                print(
                    f"{done:6} of {count}: {mb[-1]:6.1f} MB, {done / (time.monotonic() - started):5.2f} a second"
                )
    lines, cut = 0, False
    with out.open("rb") as written:
        for line in written:
            lines, cut = lines + 1, not line.endswith(b"}\n")
    grown = mb[-1] - mb[SETTLED - 1] if len(mb) > SETTLED else 0.0
    print(f"{lines} lines, exit {running.returncode}")
    row = Row(what="batch, memory from the 3rd tenth to the 9th", value=grown)
    show([row])
    return lines == count and not cut and running.returncode in (0, 1) and row.kept


def interrupted_and_gone_on_with(folder: Path, log: Path) -> bool:
    """Press Ctrl-C on a terminal's whole group in the middle, then go on."""
    with batch(folder, "--resume", str(log), stdout=subprocess.DEVNULL, start_new_session=True) as first:
        while first.poll() is None and (not log.exists() or log.read_bytes().count(b"\n") < FEW // 4):
            time.sleep(0.01)
        os.killpg(first.pid, signal.SIGINT)
        _, said = first.communicate()
    kept = len(whole_lines(log))
    with batch(folder, "--resume", str(log), stdout=subprocess.DEVNULL) as second:
        second.communicate()
    names = [line["source"] for line in whole_lines(log)]
    print(
        f"Ctrl-C: {kept} whole lines, exit {first.returncode}, said {said.decode()[-120:]!r}; then {len(names)}"
    )
    return kept < FEW and names == sorted(set(names)) and len(names) == FEW and b"Traceback" not in said


def pipe_closed(folder: Path) -> bool:
    """Read one line and close the pipe, as `head -1` does."""
    with batch(folder, "--jsonl", stdout=subprocess.PIPE) as running:
        assert running.stdout is not None
        running.stdout.readline()
        running.stdout.close()
        said = running.stderr.read() if running.stderr else b""
        running.wait(120)
    print(f"closed pipe: exit {running.returncode}, said {said.decode()!r}")
    return said == b""


def worker_killed(folder: Path, out: Path) -> bool:
    """Kill one worker in the middle; every formula has its line all the same, at most one of them a fault."""
    with out.open("wb") as stream, batch(folder, "--jsonl", stdout=stream) as running:
        while running.poll() is None and len(workers := list(family(running.pid))) < 3:
            time.sleep(0.01)
        time.sleep(3)
        os.kill(workers[-1], signal.SIGKILL)
        running.communicate()
    faults = sum(line["exit"] == 3 for line in whole_lines(out))
    print(
        f"worker killed: {len(whole_lines(out))} lines, {faults} of them a fault, exit {running.returncode}"
    )
    return len(whole_lines(out)) == FEW and faults <= 1


def main(count: int) -> int:
    with tempfile.TemporaryDirectory() as place:
        top = Path(place)
        few = catalogue(top / "few", FEW)
        kept = [
            interrupted_and_gone_on_with(few, top / "log.jsonl"),
            pipe_closed(few),
            worker_killed(few, top / "killed.jsonl"),
            runs_through(catalogue(top / "many", count), top / "out.jsonl", count),
        ]
    print("all hold" if all(kept) else f"not all hold: {kept}")
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 20_000))
