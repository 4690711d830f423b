"""How many questions find the cause: simulated bakers, the questions as chosen, in fixed order, and by look-ahead.

Run: python tests/bench/interview_bakers.py [--loaves N] [--look-ahead-every N] [--kind KIND]. The look-ahead takes
about a second a question and is held where questions matter: on loaves whose cause is not first once the symptoms are
ticked. Intervals are Wilson's 95 %. `needed` is the mean number of questions, rounds being cut after so many, at which
the share that the look-ahead reaches in the end is reached.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from collections.abc import Sequence
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from edited_texts import wilson  # noqa: E402
from interview_rounds import (  # noqa: E402
    AT_MOST,
    Round,
    Way,
    as_chosen,
    found_after,
    hold_round,
    in_fixed_order,
    looking_ahead,
    mean_questions,
    needed_for,
)
from simulated_bakers import KINDS, Loaf, bakers, drawn, loaves  # noqa: E402

from advisor import default_advisor  # noqa: E402
from advisor.diagnosis.answers import AnswerRatios  # noqa: E402
from advisor.diagnosis.asking import QuestionChooser  # noqa: E402
from advisor.diagnosis.pipeline import Examination  # noqa: E402

EXAMINER = default_advisor().examiner
RATIOS = AnswerRatios(EXAMINER)
CHOOSER = QuestionChooser(EXAMINER)


def held(kind: str, way: Way, some: Sequence[Loaf]) -> list[Round]:
    """One round for each loaf."""
    return [hold_round(baker, way, EXAMINER) for baker in bakers(kind, EXAMINER, RATIOS, some)]


def share(rounds: Sequence[Round], questions: int, among: int) -> str:
    """A share of rounds in percent with its interval."""
    hits = found_after(rounds, questions, among)
    low, high = wilson(hits, len(rounds))
    return f"{100 * hits / len(rounds):3.0f} ({100 * max(low, 0):.0f} to {100 * high:.0f})"


def row(label: str, rounds: Sequence[Round]) -> str:
    """Questions, seconds, found at the start and in the end."""
    seconds = statistics.mean(r.seconds for r in rounds)
    cells = [share(rounds, questions, among) for among in (1, 3) for questions in (0, AT_MOST)]
    return f"{label:36} {len(rounds):4} {mean_questions(rounds):5.2f} {seconds:5.1f}  " + "  ".join(
        f"{cell:14}" for cell in cells
    )


def head(title: str) -> str:
    """The head of a table."""
    names = ("first, start %", "first, end %", "in three, start", "in three, end")
    return f"\n{title}\n{'':36} {'n':>4} {'asked':>5} {'s':>5}  " + "  ".join(f"{name:14}" for name in names)


def groups(some: Sequence[Loaf]) -> dict[str, set[str]]:
    """Ids of loaves by where they come from, and by whether the formula can show the cause."""
    out: dict[str, set[str]] = {}
    causes = EXAMINER.knowledge.causes
    for loaf in some:
        by_hand = all(causes[cause].handling for cause in loaf.causes)
        names = [loaf.source, "only the baker knows" if by_hand else "the formula shows"]
        for name in names + ["kept out of tuning"] * loaf.heldout:
            out.setdefault(name, set()).add(loaf.id)
    return out


def needed(label: str, rounds: Sequence[Round], beside: Sequence[Round]) -> str:
    """Questions at which as much is found as beside in the end, in the first place and among three."""
    cells = []
    for among in (1, 3):
        goal = found_after(beside, AT_MOST, among) / len(beside)
        at, other = needed_for(rounds, goal, among), needed_for(beside, goal, among)
        shown = "never" if at is None else f"{at:.2f}"
        cells.append(
            f"{100 * goal:.0f} % {'first' if among == 1 else 'in three'}: {shown} (look-ahead {other:.2f})"
        )
    return f"{label:36} needed for " + "; ".join(cells)


def timed(way: Way, took: list[float]) -> Way:
    """Note what each choice takes on a core, ms."""

    def noting(found: Examination, skipped: Sequence[str], asked: int) -> tuple[str, str] | None:
        start = time.process_time()
        chosen = way(found, skipped, asked)
        took.append(1000 * (time.process_time() - start))
        return chosen

    return noting  # type: ignore[return-value]


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--loaves", type=int, default=len(loaves()), help="hold rounds on so many loaves")
    parser.add_argument(
        "--look-ahead-every", type=int, default=1, help="the look-ahead on every n-th of those not first"
    )
    parser.add_argument("--kind", choices=KINDS, action="append", help="bakers of this kind alone")
    wanted = parser.parse_args()
    some = drawn(wanted.loaves)
    took: list[float] = []
    for kind in wanted.kind or KINDS:
        chosen = held(kind, timed(as_chosen(CHOOSER), took), some)
        fixed = held(kind, in_fixed_order(EXAMINER), some)
        print(head(f"{kind} baker"))
        print(row("as chosen", chosen))
        print(row("fixed order of the list", fixed))
        for name, ids in sorted(groups(some).items()):
            print(row(f"  as chosen: {name}", [r for r in chosen if r.loaf in ids]))
            print(row(f"  fixed order: {name}", [r for r in fixed if r.loaf in ids]))
        later = {r.loaf for r in chosen if r.places[0] > 1}
        subset = [loaf for loaf in some if loaf.id in later][:: wanted.look_ahead_every]
        ids = {loaf.id for loaf in subset}
        print(head(f"{kind} baker, cause not first once the symptoms are ticked"))
        ahead = held(kind, looking_ahead(CHOOSER, EXAMINER), subset)
        print(row("look-ahead", ahead))
        for label, rounds in (("as chosen", chosen), ("fixed order", fixed)):
            same = [r for r in rounds if r.loaf in ids]
            print(row(label, same))
            print(needed(label, same, ahead), flush=True)
    took.sort()
    most = took[len(took) * 19 // 20]
    print(f"\nnext question: median {statistics.median(took):.0f} ms, 95 of 100 within {most:.0f} ms")


if __name__ == "__main__":
    main()
