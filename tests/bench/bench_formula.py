"""Reading formulas: how many of 12 lines a second, how long one name takes, how fast 10,000 lines are refused.

Run: python tests/bench/bench_formula.py. One process, processor time, warm. `new lines` draws every amount with
two decimals, so that hardly a line was seen before; `a kitchen's lines` draws whole grams, as cards do.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2])]

from advisor import load_knowledge  # noqa: E402
from advisor.formula.faults import FormulaFault  # noqa: E402
from advisor.formula.reading import read_formula_text, reader_for  # noqa: E402

FORMULAS = 600
ROUNDS = 5


def made_up(rng: random.Random, decimals: int) -> str:
    def grams(low: float, high: float) -> str:
        return f"{rng.uniform(low, high):.{decimals}f}"

    return f"""Trial loaf {rng.randint(1, 9999)}
{grams(100, 200)} g vital wheat gluten
{grams(20, 80)} g oat fibre
1/2 cup ground flaxseed ({grams(40, 70)} g)
{rng.randint(2, 7)} large eggs
{grams(100, 400)} g low-moisture mozzarella, grated
{grams(100, 300)} ml warm water
{rng.randint(1, 4)} tsp baking powder
1 tbsp + {rng.randint(1, 2)} tsp cider vinegar
{grams(10, 60)} g butter or ghee, melted
slices: {rng.randint(8, 20)}
oven: {rng.randint(150, 200)} C for {rng.randint(20, 90)} min
"""


def a_second(texts: list[str]) -> float:
    knowledge = load_knowledge()
    start = time.process_time()
    for text in texts:
        read_formula_text(text, knowledge)
    return len(texts) / (time.process_time() - start)


def main() -> None:
    rng = random.Random(12)
    knowledge = load_knowledge()
    a_second([made_up(rng, 0) for _ in range(50)])
    for label, decimals in (("new lines", 2), ("a kitchen's lines", 0)):
        found = [a_second([made_up(rng, decimals) for _ in range(FORMULAS)]) for _ in range(ROUNDS)]
        print(
            f"formulas of 12 lines, {label:18} {statistics.median(found):8.0f} a second (best {max(found):.0f})"
        )
    names = reader_for(knowledge).names
    words = [name for entry in knowledge.ingredients.values() for name in (entry.name, *entry.also)]
    words = [w for name in words for w in (name, f"finely ground {name}, sifted", f"{name} unheard of")]
    names.match.cache_clear()
    times = []
    for word in words:
        start = time.process_time()
        try:
            names.match(word)
        except Exception as fault:  # a name of two ingredients is asked, and takes its time too
            assert "can be" in str(fault)
        times.append((time.process_time() - start) * 1000)
    times.sort()
    print(f"one name against {len(knowledge.ingredients)} ingredients: median {statistics.median(times):.4f} ms, "
          f"99 of 100 below {times[len(times) * 99 // 100]:.3f} ms, longest {times[-1]:.3f} ms")  # fmt: skip
    for label, line in (("ingredient", "100 g water"), ("remark", "# remark"), ("nonsense", "x y z " * 12)):
        start = time.perf_counter()
        try:
            read_formula_text(f"{line}\n" * 10_000, knowledge)
        except FormulaFault as fault:
            print(
                f"10,000 lines ({label}): {(time.perf_counter() - start) * 1000:6.1f} ms, {fault.problems[0].what}"
            )
    worst = "\n".join(f"{n} unheard of thing {n} and {n} others or more (2 or 3 {n})" for n in range(1, 201))
    start = time.perf_counter()
    try:
        read_formula_text(worst, knowledge)
    except FormulaFault as fault:
        print(f"200 lines none of which is known: {(time.perf_counter() - start) * 1000:6.1f} ms, "
              f"{len(fault.problems)} problems")  # fmt: skip


if __name__ == "__main__":
    main()
