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

WHITE_LOAF = """White sandwich bread
500 g bread flour
315 g water
9 g salt
6 g instant yeast
20 g butter
pan: 22 x 11.5 x 7 cm
mix: 10 min
proof: 60 min at 24 C, then 55 min at 25 C
oven: 215 C for 32 min
"""

RINGS = """Boiled rings
600 g strong bread flour
335 g water
11 g salt
5 g instant yeast
pieces: 8
mix: 10 min
proof: 60 min at 22 C, then 660 min at 4 C
boil: 1 min
oven: 225 C for 18 min
"""

SODA_ROUND = """Soda bread
300 g wholemeal flour
150 g plain flour
6 g baking soda
7 g salt
380 g buttermilk
pan: free-standing
oven: 200 C for 42 min
"""

TREACLE_BREAD = """Steamed treacle bread
110 g rye flour
110 g wholemeal flour
90 g fine cornmeal
5 g baking soda
4 g salt
320 g buttermilk
110 g molasses
steam: 120 min
"""

MAIZE_MUFFINS = """Maize muffins
150 g plain flour
140 g cornmeal
60 g sugar
12 g baking powder
4 g salt
240 g milk
2 eggs
80 g butter, melted
pieces: 12
pan: muffin tin 12
oven: 200 C for 18 min
"""

TORTILLAS = """Flour tortillas
300 g plain flour
60 g lard
5 g salt
3 g baking powder
165 g water
pieces: 10
mix: 4 min
rest: 30 min
griddle: 50 s a side
"""

CHEESE_CUPS = """Cheese and egg muffins
160 g low-moisture mozzarella
3 eggs
45 g almond flour
4 g psyllium husk powder
4 g baking powder
pieces: 6
pan: muffin tin 6
oven: 190 C for 17 min
"""

EGG_SEED_BRICK = """Seed loaf with egg
140 g sunflower seeds
130 g pumpkin seeds
70 g almonds
50 g ground linseed
40 g sesame seeds
3 eggs
60 g olive oil
6 g salt
pan: 20 x 10 x 7 cm
oven: 163 C for 60 min
"""

MEAL_LOAF = """Almond meal loaf
220 g almond flour
5 eggs
60 g butter, melted
80 g yoghurt
10 g baking powder
4 g salt
pan: 20 x 10 x 7 cm
oven: 172 C for 50 min
"""

HUSK_BUNS = """Husk buns
150 g almond flour
40 g psyllium husk powder
11 g baking powder
5 g salt
3 egg whites
15 g cider vinegar
235 g boiling water
pieces: 5
oven: 176 C for 55 min
"""

SCOOPED_BUNS = """Sunflower buns
190 g sunflower meal
14 g psyllium husk
9 g baking powder
4 g salt
4 eggs
95 g yoghurt
15 g oil
pieces: 8
oven: 180 C for 26 min
"""

FLAX_LOAF = """Flax loaf
230 g ground flaxseed
13 g baking powder
5 g salt
5 eggs
125 g water
40 g olive oil
pan: 20 x 10 x 7 cm
oven: 175 C for 52 min
"""

SOUR_CREAM_CUPS = """Almond and sour cream muffins
240 g almond flour
2 g baking soda
4 g salt
4 eggs
90 g sour cream
50 g butter, melted
pieces: 10
pan: muffin tin 12
oven: 177 C for 23 min
"""

TAHINI_LOAF = """Tahini loaf
250 g tahini
5 eggs
30 g lemon juice
3 g baking soda
4 g salt
pan: 20 x 10 x 7 cm
oven: 175 C for 40 min
"""

CASEIN_BUNS = """Casein buns
60 g micellar casein
115 g almond flour
8 g psyllium husk
10 g baking powder
4 g salt
150 g Greek yoghurt
3 eggs
20 g butter
pieces: 6
oven: 180 C for 29 min
"""

PLAIN_TIN = """Coconut loaf
85 g coconut flour
6 eggs
95 g butter, melted
100 g milk
8 g baking powder
4 g salt
pan: tin
oven: 175 C for 46 min
"""

FOCACCIA = """Gluten focaccia
130 g vital wheat gluten
80 g almond flour
35 g oat fibre
5 g salt
6 g instant yeast
5 g sugar
1 egg
205 g water
25 g olive oil
pan: flat 23 x 23 cm
mix: 4 min
proof: 50 min at 28 C
oven: 205 C for 25 min
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
        (WHITE_LOAF, "for 32 min", "for 19 min"),
        (RINGS, "5 g instant yeast\n", ""),
        (SODA_ROUND, "6 g baking soda", "14 g baking soda"),
        (TREACLE_BREAD, "5 g baking soda", "15 g baking soda"),
        (MAIZE_MUFFINS, "4 g salt", "13 g salt"),
        (TORTILLAS, "60 g lard", "170 g lard"),
        (TORTILLAS, "50 s a side", "10 min a side"),
        (CHEESE_CUPS, "3 eggs", "9 eggs"),
        (EGG_SEED_BRICK, "3 eggs\n", ""),
        (MEAL_LOAF, "172 C for 50", "215 C for 50"),
        (MEAL_LOAF, "10 g baking powder", "30 g baking powder"),
        (FOCACCIA, "for 25 min", "for 50 min"),
        (GLUTEN_COB, "7 g salt", "16 g salt"),
        (HUSK_BUNS, "for 55 min", "for 33 min"),
        (SCOOPED_BUNS, "for 26 min", "for 11 min"),
        (FLAX_LOAF, "for 52 min", "for 31 min"),
        (SOUR_CREAM_CUPS, "2 g baking soda", "6 g baking soda"),
        (TAHINI_LOAF, "250 g tahini", "90 g tahini"),
        (CASEIN_BUNS, "3 eggs\n", ""),
        (PLAIN_TIN, "for 46 min", "for 28 min"),
    ],
    ids=[
        "gluten dry",
        "batter without powder",
        "seeds without husk",
        "white loaf half baked",
        "rings without yeast",
        "soda doubled",
        "soda trebled in steam",
        "muffins salted thrice",
        "tortillas of lard",
        "tortillas dried out",
        "cheese batter all egg",
        "seeds without egg",
        "meal loaf scorched",
        "powder trebled",
        "focaccia dried out",
        "gluten salted twice",
        "husk gel out too soon",
        "little husk, raw inside",
        "flax loaf half baked",
        "soda trebled in nut meal",
        "tahini left short",
        "casein without egg",
        "a tin of no given length",
    ],
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
