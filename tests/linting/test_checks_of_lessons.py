"""What the linter finds in a lesson: names that do not exist, chains that do not, questions without edges."""

from __future__ import annotations

import pytest
from spoiling import Kitchen

LESSON = """- id: first
  title: Water
  says: "Water weak."
  formula: plain
  cause: unrested
  symptom: gummy_centre
  questions:
    - ask: "Water weak?"
      reads: {measure: baked_water_load}
      choices:
        - {says: water, below: 1}
        - {says: weak, at_least: 1}
      right: a
      because: "{baked_water_load:.1f} water."
    - ask: "Water weak?"
      reads: {first: cause}
      choices:
        - {says: water, is: unrested}
        - {says: weak, is: unrested}
      right: a
      because: "Water."
  remember: "Water weak."
"""
FILE = "knowledge/lessons/one.yaml"


@pytest.fixture
def lessons(kitchen: Kitchen) -> Kitchen:
    """The small knowledge with one sound lesson."""
    for folder in ("lessons", "formulas"):
        (kitchen.top / "knowledge" / folder).mkdir()
    (kitchen.top / "knowledge" / "formulas" / "plain.txt").write_text("Plain\n100 g water\n")
    (kitchen.top / FILE).write_text(LESSON)
    return kitchen


def test_a_sound_lesson_is_clean(lessons: Kitchen) -> None:
    assert [] == [str(f) for f in lessons.findings()]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("formula: plain", "formula: plan", "no demo formula 'plan'; did you mean 'plain'?"),
        ("  cause: unrested", "  cause: unrestd", "no cause 'unrestd'; did you mean 'unrested'?"),
        ("symptom: gummy_centre", "symptom: gummy", "no symptom 'gummy'"),
        ("measure: baked_water_load", "measure: baked_water", "no measure 'baked_water'"),
        ("{baked_water_load:.1f}", "{baked:.1f}", "no measure 'baked'"),
        ("{baked_water_load:.1f}", "{baked_water_load:.1f", "cannot be filled: a brace stands without"),
        ("{says: water, below: 1}", "{says: water, is: unrested}", "needs edges, by at_least and below"),
        ("{says: water, is: unrested}", "{says: water, below: 1}", "needs an id, by 'is'"),
        ("{says: water, is: unrested}", "{says: water, is: resting}", "no cause 'resting'"),
        ("right: a\n      because: \"{", "right: c\n      because: \"{", "there are only 2 choices"),
        ("{first: cause}", "{first: cause, risk: gummy_centre}", "reads exactly one of"),
    ],
)  # fmt: skip
def test_a_spoilt_lesson(lessons: Kitchen, old: str, new: str, said: str) -> None:
    lessons.change(FILE, old, new)
    found = [str(f) for f in lessons.findings()]
    assert any(said in line for line in found), found
    assert all(line.startswith(FILE) for line in found)


def test_a_chain_that_no_link_makes(lessons: Kitchen) -> None:
    links = lessons.top / "knowledge" / "links.yaml"
    before = links.read_text()
    assert "to: gummy_centre" in before
    lessons.change(FILE, "cause: unrested\n  symptom", "cause: unrested\n  saw: []\n  symptom")
    links.write_text("\n".join(x for x in before.splitlines() if "from: unrested" not in x) + "\n")
    assert any("no links lead from unrested to gummy_centre" in str(f) for f in lessons.findings())
