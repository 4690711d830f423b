"""Answers about the making that a baker gives by laying what was done beside the formula: amounts, times, pan, order.

Written after the first run of the slips, with the questions that it answers. What differs from the formula is read from
the case's own answers; where they name no difference, it was made as written.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from advisor import load_knowledge
from advisor.diagnosis.slip_hypotheses import part_of
from advisor.formula.formula import Formula

Said = Mapping[str, str]

_AMOUNTS = r"weigh again|amounts|bags and jars|second time"
_SAME = (
    r"\bsame\b|as (written|on)\b|all (right|there)|checks|checked|nothing|no difference|match|correct|agrees"
)
_OFF = r"card says|so twice|so i used|sealed|instead|missed|still (in|on)|unopened|left out|never|forgot|half|double"
_PART_WORDS = (
    ("binder", r"psyllium|flax|linseed|chia|xanthan|guar|\bgum"), ("gluten", r"gluten|whey|protein|casein"),
    ("egg", r"\begg|\bwhites"), ("liquid", r"water|milk|\bjug|yog|buttermilk|quark"),
    ("cheese", r"cheese|mozzarella"), ("fat", r"butter|\boil|lard|ghee"), ("salt", r"\bsalt"),
    ("sweetener", r"sugar|erythritol|sweetener|honey|allulose|xylitol"),
    ("yeast", r"yeast|sachet"), ("powder", r"baking powder|raising|\bsoda|bicarb"),
    ("fibre", r"fibre|fiber|\bbran"), ("meal", r"flour|meal|almond|coconut|nuts?\b"), ("seed", r"seeds?\b"),
)  # fmt: skip
_COUNTED = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_DURATION = re.compile(r"(\d+(?:\.\d+)?) ?(h\b|hours?|min\w*)|\b(an hour|half an hour|one hour)")
_AREA = re.compile(r"(\d+(?:\.\d+)?) ?x ?(\d+(?:\.\d+)?)")


def _answer(said: Said, asked: str) -> str | None:
    return next((answer for question, answer in said.items() if re.search(asked, question)), None)


def weighed_again(said: Said, formula: Formula) -> str | None:
    """Name the part of the dough of which another amount went in."""
    answer = _answer(said, _AMOUNTS)
    if answer is None:
        return None
    if re.search(_SAME, answer) and not re.search(_OFF, answer):
        return "as_written"
    places = [(found.start(), part) for part, words in _PART_WORDS if (found := re.search(words, answer))]
    return min(places)[1] if places else None


def how_much(said: Said, formula: Formula) -> str | None:
    """Say whether nothing, half or twice of it went in, by the words or by its grams in the formula."""
    answer, part = _answer(said, _AMOUNTS), weighed_again(said, formula)
    if answer is None or part in (None, "as_written"):
        return None
    if re.search(r"sealed|unopened|still (in|on)|never|missed|left out|forgot|untouched|none", answer):
        return "nothing"
    if re.search(r"twice|double", answer):
        return "twice"
    if re.search(r"\bhalf\b", answer):
        return "half"
    for number, word in enumerate(_COUNTED, 1):
        answer = re.sub(rf"\b{word}\b", str(number), answer)
    numbers = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", answer)]
    if card := re.search(r"card says (\d+)", answer):
        written = {float(card[1])}
    else:
        knowledge = load_knowledge()
        written = {line.grams for line in formula.lines if part == part_of(line, knowledge)}
    shares = [number / grams for number in numbers for grams in written]
    if any(abs(share - 2.0) < 0.1 for share in shares):
        return "twice"
    return "half" if any(abs(share - 0.5) < 0.05 for share in shares) else None


def _minutes(text: str) -> float | None:
    total, found = 0.0, False
    for number, unit, words in _DURATION.findall(text):
        found = True
        if words:
            total += 30.0 if words.startswith("half") else 60.0
        else:
            total += float(number) * (60.0 if unit.startswith("h") else 1.0)
    return total if found else None


def sliced_when(said: Said, formula: Formula) -> str | None:
    """Say how warm it was when it was cut, by the word or by the minutes."""
    answer = _answer(said, r"\bcut\b|slice|cool before")
    if answer is None:
        return None
    if re.search(r"\bcold\b|overnight|next (day|morning)", answer):
        return "cold"
    minutes = _minutes(re.sub(r"\bten min", "10 min", answer))
    if minutes is not None:
        return "hot" if minutes < 20 else "warm" if minutes < 60 else "cold"
    if re.search(r"straight|at once|steam|\bhot\b", answer):
        return "hot"
    return "warm" if re.search(r"warm", answer) else None


def _beside(minutes: float | None, written: float | None) -> str:
    if minutes is None or not written:
        return "as_written"
    return "shorter" if minutes < 0.6 * written else "longer" if minutes > 1.5 * written else "as_written"


def stood_time(said: Said, formula: Formula) -> str | None:
    """Compare how long it stood with its rests and rises."""
    answer = _answer(said, r"stand before|its time before|proof or rest|how long .*(rise|rest|proof|stand)")
    if answer is None:
        return None
    if re.search(r"straight in|within \d+ min", answer) and not formula.process.proof_min:
        return "as_written"
    written = (formula.process.proof_min or 0.0) + (formula.process.rest_min or 0.0)
    return _beside(_minutes(answer.split(",")[0]) or _minutes(answer), written)


def baked_time(said: Said, formula: Formula) -> str | None:
    """Compare how long it was in the oven."""
    answer = _answer(
        said, r"how long did it cook|minutes did it bake|long was it in the oven|how long .*bake"
    )
    return None if answer is None else _beside(_minutes(answer), formula.process.bake_min)


def pan_used(said: Said, formula: Formula) -> str | None:
    """Compare the area of what it was baked in, or how many there were."""
    answer = _answer(said, r"which tin|what tin|tray did|pan did|which pan")
    if answer is None:
        return None
    told = _AREA.search(answer)
    process = formula.process
    if told is not None and process.pan_length_cm and process.pan_width_cm:
        share = float(told[1]) * float(told[2]) / (process.pan_length_cm * process.pan_width_cm)
        if share < 0.8 or share > 1.25:
            return "smaller" if share < 0.8 else "larger"
    if re.search(r"^(just )?one\b.*(everything|all)|all (of it )?(on|in) (the )?one", answer):
        return "smaller"
    return "as_written"


def order_kept(said: Said, formula: Formula) -> str | None:
    """Say what went in otherwise than a sound order would have it."""
    answer = _answer(said, r"order|went in first")
    if answer is None:
        return None
    if re.search(r"egg[^.]*microwav|egg[^.]*(boiling|hot) (milk|water|butter) first", answer):
        return "egg_hot"
    if re.search(
        r"^(psyllium|gum|xanthan)[^.]*(water|liquid)[^.]*first|(into|onto) the (water|liquid)[^.]*psyllium",
        answer,
    ):
        return "binder_wet"
    if re.search(r"^gluten[^.]*water|water on the gluten", answer):
        return "gluten_wet"
    if re.search(r"(oil|butter|fat)[^.;]*(with|on|into|onto) the dry", answer):
        return "fat_first"
    return "as_written"


COMPARED: Mapping[str, Callable[[Said, Formula], str | None]] = {
    "weighed_again": weighed_again, "how_much": how_much, "stood_time": stood_time, "baked_time": baked_time,
    "sliced_when": sliced_when,
    "pan_used": pan_used, "order_kept": order_kept,
}  # fmt: skip
