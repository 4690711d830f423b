"""What bakers do and what comes out well raises no alarm, and the same formula with a gross error in it does.

All formulas are demo formulas of the Brindlemoor canteen's test kitchen.
"""

from __future__ import annotations

import pytest

from advisor import default_advisor, load_knowledge, read_formula

LIMIT = load_knowledge().coefficient("risk_limit")


def alarm(text: str) -> bool:
    """Whether a check says no to a formula."""
    found = default_advisor().examiner.examine(read_formula(text), after_bake=False, ranked=False)
    return bool(found.far_out) or max(r.risk for r in found.diagnosis.risks.values()) >= LIMIT


def kind(text: str) -> str:
    """The kind of bake that a text is taken for."""
    return default_advisor().examiner.measured(read_formula(text)).workings.dough_state.with_defaults.kind


GLUTEN_COB = """Gluten cob
175 g vital wheat gluten
55 g oat fibre
45 g almond flour
7 g salt
7 g instant yeast
6 g sugar
1 egg
265 g water
15 g olive oil
pan: free-standing
mix: 4 min
rest: 10 min
proof: 55 min at 28 C
oven: 200 C for 42 min
"""

PLUM_LOAF = """Plum loaf
240 g almond flour
100 g erythritol
10 g baking powder
3 g salt
4 eggs
80 g butter, melted
150 g plums
pan: 21 x 11 x 7 cm
oven: 170 C for 60 min
"""

SEED_LOAF = """Seed and almond loaf
150 g sunflower seeds
90 g pumpkin seeds
90 g whole linseed
60 g almonds
28 g psyllium husk
7 g salt
30 g coconut oil
360 g water
pan: 22 x 11.5 x 7 cm
rest: 120 min
oven: 175 C for 70 min
"""


def changed(text: str, line: str, new: str) -> str:
    """A text with one of its lines exchanged."""
    assert line in text
    return text.replace(line, new)


@pytest.mark.parametrize(
    ("sound", "line", "spoilt"),
    [
        (GLUTEN_COB, "265 g water", "130 g water"),
        (PLUM_LOAF, "10 g baking powder\n", ""),
        (SEED_LOAF, "28 g psyllium husk\n", ""),
    ],
    ids=["gluten dry", "batter without powder", "seeds without husk"],
)
def test_a_sound_formula_is_quiet_and_the_same_with_a_gross_error_is_not(sound, line, spoilt):
    assert not alarm(sound)
    assert alarm(changed(sound, line, spoilt))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (SEED_LOAF, "seed_loaf"),
        (PLUM_LOAF, "muffin"),
        (changed(PLUM_LOAF, "100 g erythritol\n", ""), "tin_loaf"),
        ("Buttermilk round\n400 g plain flour\n5 g baking soda\n330 g buttermilk\noven: 200 C for 40 min", "muffin"),
        ("Mill loaf\n500 g bread flour\n9 g salt\n320 g water\n5 g instant yeast\npan: 22 x 11 x 8 cm", "tin_loaf"),
        ("Cloud cakes\n4 eggs\n100 g cream cheese\nwhites: whipped\noven: 150 C for 25 min", "foam_bread"),
        ("Steamed oat buns\n150 g vital wheat gluten\n6 g instant yeast\n160 g water\nsteam: 14 min", "steamed"),
    ],
)  # fmt: skip
def test_what_a_dough_is_made_of_speaks_for_its_kind(text, expected):
    assert kind(text) == expected
