"""What a case of `blind_slips.py` answers to the assistant's own questions, matched by words.

A case carries plain questions with truthful answers. `slip_answers.yaml` says for each of our questions how a plain
question about the same thing reads, and which words of its answer stand for which of our answers; what no words fit is
"not known". Both were written before any case had been seen. Questions about the making came after the first run; their
answers are compared with what the formula says (`slip_compared.py`).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import yaml
from slip_compared import COMPARED

from advisor.diagnosis.phrases import PhraseReader
from advisor.formula.formula import Formula


@dataclass(frozen=True, slots=True, kw_only=True)
class Matched:
    """How a plain question about the same thing reads, and the words that stand for each of our answers."""

    asked: str
    answers: tuple[tuple[str, str], ...]


def _read() -> dict[str, Matched]:
    entries = yaml.safe_load(Path(__file__).with_suffix(".yaml").read_text("utf-8"))
    return {
        question: Matched(
            asked=entry["asked"],
            answers=tuple((one["words"], one["answer"]) for one in entry.get("answers", ())),
        )
        for question, entry in entries.items()
    }


KEY = _read()
_NUMBER = re.compile(r"(\d+(?:\.\d+)?)")
_OVEN_TRUE_C = 8.0
"""Degrees off the dial that still pass for true."""

TOPICS: Mapping[str, str] = {
    "crust": r"crust|colour|color|brown|top|outside",
    "crumb": r"crumb|slice|inside|middle|texture",
    "shape": r"height|rise|risen|tall|volume|sink|sank|fell|shape|side|top",
    "dough": r"dough|batter|feel|felt|consisten",
    "taste": r"taste|smell|flavou?r",
}
"""Plain questions about one side of the loaf: what is not said in answer to one was not there."""

SIDE_OF = {
    "dough": ("runny_dough", "stiff_dough", "springs_back"),
    "crust": (
        "pale_crust", "dark_crust", "thick_crust", "tough_crust", "split_crust", "wrinkled_top", "shelled_top",
        "not_crisp",
    ),
    "shape": ("flat_loaf", "collapse_in_oven", "collapse_on_cooling", "side_cave_in", "overflow"),
    "taste": (
        "soapy_taste", "too_salty", "sour_taste", "eggy_taste", "bitter_taste", "yeasty_off_taste", "weak_aroma",
        "ammonia_smell",
    ),
}  # fmt: skip
"""All other symptoms are of the crumb."""


def side_of(symptom: str) -> str:
    """Give the side of the loaf on which a symptom is seen."""
    return next((side for side, names in SIDE_OF.items() if symptom in names), "crumb")


class Answers:
    """The plain questions and truthful answers of one case, asked by our own questions."""

    def __init__(self, said: Mapping[str, str], formula: Formula, reader: PhraseReader):
        self._said = {question.lower(): str(answer).lower() for question, answer in said.items()}
        self._formula = formula
        self._oven_c = formula.process.oven_c
        self._reader = reader

    def to_question(self, question: str) -> str | None:
        """Give the id of our answer that the case gives, or None."""
        if question in COMPARED:
            return COMPARED[question](self._said, self._formula)
        matched = KEY.get(question)
        if matched is None:
            return None
        for asked, answer in self._said.items():
            if not re.search(matched.asked, asked):
                continue
            found = self._measured(question, answer) or next(
                (name for words, name in matched.answers if re.search(words, answer)), None
            )
            if found is not None:
                return found
        return None

    def _measured(self, question: str, answer: str) -> str | None:
        numbers = [float(n) for n in _NUMBER.findall(answer)]
        if question == "oven_checked" and re.search(r"\d ?f\b", answer):
            numbers = [(n - 32) / 1.8 for n in numbers]
        if question == "core_temperature":
            if not numbers or re.search(r"not measured|didn.?t|no thermometer|no probe", answer):
                return "not_measured" if re.search(r"not|no\b|didn", answer) else None
            core = (numbers[0] - 32) / 1.8 if numbers[0] > 130 else numbers[0]
            return "below_80" if core < 80 else "from_80_to_92" if core <= 92 else "above_92"
        if question == "oven_checked":
            if re.search(
                r"not checked|no thermometer|didn.?t check|never checked|don.?t have|haven.?t", answer
            ):
                return "not_checked"
            if re.search(r"cool(er)?|low(er)?|under|below|short of|less", answer) and not re.search(
                r"\bnot\b", answer
            ):
                return "cooler"
            if re.search(r"hot(ter)?\b|high(er)?|over\b|above|more than", answer) and not re.search(
                r"\bnot\b", answer
            ):
                return "hotter"
            heat = [n for n in numbers if n >= 100]
            if len(heat) >= 2 and re.search(r"dial|set", answer):
                # "150 on the thermometer with the dial at 175": what is called the dial is not the reading.
                at_dial = re.search(r"(?:dial|set)\D{0,20}(\d{3})", answer) or re.search(
                    r"(\d{3})\D{0,12}(?:dial|set)", answer
                )
                dial = float(at_dial[1]) if at_dial else heat[1]
                read = next((n for n in heat if n != dial), dial)
            elif heat and self._oven_c is not None:
                read, dial = heat[0], self._oven_c
            else:
                return (
                    "true_to_dial"
                    if re.search(
                        r"true|right|accurate|spot|correct|same|agree|as set|match|fine|within", answer
                    )
                    else None
                )
            return (
                "cooler"
                if read < dial - _OVEN_TRUE_C
                else "hotter"
                if read > dial + _OVEN_TRUE_C
                else "true_to_dial"
            )
        return None

    def to_symptom(self, symptom: str) -> bool | None:
        """Say whether the case's loaf shows a symptom; None where it does not say."""
        topic = TOPICS[side_of(symptom)]
        about = [(q, a) for q, a in self._said.items() if re.search(topic, q)]
        for question, answer in about:
            for said in (answer, f"{question} {answer}"):
                heard = self._reader.hear(said)
                if symptom in heard.taken:
                    return True
                if symptom in heard.denied:
                    return False
        return False if about else None
