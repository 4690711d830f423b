"""List the rules that no case makes fire: each wants a case, or has to go.

    python tests/bench/silent_rules.py

Cases: the demo formulas, tests/cases/sound, the injected and the told ones. Structure rules and cautions count too.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from case_files import CASES, demo, entries, sound_cases
from edited_texts import apply_edits, ground_text

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text


def fired() -> dict[str, int]:
    """Rule to the number of cases in which it fires."""
    knowledge, examiner = load_knowledge(), default_advisor().examiner
    count = dict.fromkeys(knowledge.rules, 0)

    def look(found) -> None:
        for firing in found.inference.firings:
            if firing.rule in count:
                count[firing.rule] += 1

    sound = {case.id: case.text for case in sound_cases()}
    for name in knowledge.formulas:
        look(examiner.examine(demo(name)))
    for text in sound.values():
        look(examiner.examine(read_formula_text(text, knowledge)))
    paths = [*sorted((CASES / "told").glob("*.yaml")), CASES / "injected.yaml", CASES / "injected_more.yaml"]
    for path in paths:
        for case in entries(path):
            ground = sound.get(case.get("formula")) or ground_text(case)
            formula = read_formula_text(apply_edits(ground, case.get("edits") or []), knowledge)
            saw, not_seen = tuple(case.get("saw") or ()), tuple(case.get("not_seen") or ())
            look(
                examiner.examine(
                    formula, saw=saw, not_seen=not_seen, answers=case.get("answers"), after_bake=True
                )
            )
    return count


if __name__ == "__main__":
    silent = sorted(name for name, times in fired().items() if not times)
    print("\n".join(silent))
    print(f"{len(silent)} of {len(load_knowledge().rules)} rules never fire")
