"""Bakes as hypothesis draws them: names, marks and symptoms of the Brindlemoor canteen's test kitchen, odd letters."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from advisor.trial_record.bake import Amount, Bake, CameOut, Foreseen, Scores
from advisor.trial_record.record import Wanted

SYMPTOMS = ("flat_loaf", "dense_crumb", "gummy_centre", "overflow")
LEVERS = (None, "cut-water", "longer-bake")
# Names of the Brindlemoor canteen's test kitchen. Two of them are one name to the record, which takes A for a.
NAMES = ("Seeded loaf", "SEEDED LOAF", "Käsebrötchen 100 %", "plain_bun")
ODD = (
    "'", "=1+1", "- #", "\r\n", "\x85", "\u2028", "\ufeff", "é", "\u0301", "\u202eleft", "👩‍🍳", "100%",
    "\\_", "\x1b[1m",
)  # fmt: skip
WORDS = (
    *ODD, "", "seeded", "WATER", "dense crumb", "Gummy-Centre", "cut-w", "2026-05-0", "T", "ä", "Ä", "%", "_", "\\",
)  # fmt: skip
LETTERS = st.characters(exclude_categories=["Cs"], exclude_characters="\0")
TEXTS = st.sampled_from(ODD) | st.text(LETTERS, max_size=12)
# Few days and marks, so that many bakes are alike in them.
DATES = ("0001-01-01", "2026-05-01", "2026-05-02", "2026-05-02T07:30", "2026-05-02T23:59")
DAYS = st.sampled_from(DATES)
MARKS = st.sampled_from([None, 1, 5])
CHANCES = st.floats(0, 1)
FORESEEN = st.builds(
    Foreseen, cause=st.none() | st.just("excess_water"), cause_probability=st.none() | CHANCES, single=st.booleans(),
    core_c=st.none() | st.floats(20, 120), oven_offset_c=st.none() | st.floats(-30, 30),
    risk=st.dictionaries(st.sampled_from(SYMPTOMS), st.tuples(st.none() | CHANCES, CHANCES)),
)  # fmt: skip
WANTED = st.fixed_dictionaries(
    {},
    optional={
        "words": st.lists(st.sampled_from(WORDS), min_size=1, max_size=2).map(tuple),
        "saw": st.sampled_from(SYMPTOMS).map(lambda symptom: (symptom,)),
        "followed": st.sampled_from(LEVERS),
        "since": DAYS,
        "until": DAYS,
    },
).map(lambda parts: Wanted(**parts))
# Each word and day alone, which many parts drawn together would seldom let decide.
SINGLY = (*(Wanted(words=(word,)) for word in WORDS), *(Wanted(since=day, until=day) for day in DATES))
WRONG = (
    {"scores": Scores(crumb=6)},
    {"notes": "\ud800"},
    {"baked_on": "soon"},
    {"formula": " "},
    {"photo": "a\0b"},
)


@st.composite
def bakes(draw: st.DrawFn) -> Bake:
    name, grams = draw(st.sampled_from(NAMES)), draw(st.sampled_from([50.0, 50.5]))
    looked_for = draw(st.dictionaries(st.sampled_from(SYMPTOMS), st.booleans()))
    seen = tuple(symptom for symptom, was_seen in looked_for.items() if was_seen)
    return Bake(
        formula=name,
        formula_text=f"{name}\n100 g water\n{grams} g psyllium powder\n",
        baked_on=draw(DAYS),
        amounts=(
            Amount(ingredient="water", name="water", grams=100.0),
            Amount(ingredient="psyllium_powder", name="psyllium powder", grams=grams),
        ),
        steps={"slices": "16", "oven": "175 C for 70 min"},
        seen=seen + seen,
        absent=tuple(symptom for symptom in looked_for if symptom not in seen),
        scores=Scores(volume=draw(MARKS), crumb=draw(MARKS), taste=draw(MARKS)),
        came_out=CameOut(height_cm=draw(st.none() | st.floats(0.1, 100))),
        photo=draw(st.none() | TEXTS),
        lots=draw(st.dictionaries(st.sampled_from(["water", "psyllium_powder"]), TEXTS)),
        notes=draw(st.none() | TEXTS),
        followed=draw(st.sampled_from(LEVERS)),
        foreseen=draw(st.none() | FORESEEN),
    )


def as_kept(bake: Bake) -> Bake:
    """What is documented of a bake that is kept: symptoms once and in order, empty texts as none."""
    return replace(
        bake,
        seen=tuple(sorted(set(bake.seen))),
        absent=tuple(sorted(bake.absent)),
        photo=bake.photo or None,
        notes=bake.notes or None,
        lots={name: lot for name, lot in bake.lots.items() if lot},
    )
