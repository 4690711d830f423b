"""Gives the numbers of one sentence their meanings, from left to right, and what it says without a number."""

from __future__ import annotations

import re
from dataclasses import replace

from advisor.formula.method import told_words as words
from advisor.formula.method.bare_numbers import says_no_size, with_unit
from advisor.formula.method.facts import Fact
from advisor.formula.method.meanings import Word, is_only_a_lid, meaning_of, words_of_work
from advisor.formula.method.open_facts import (
    core_is_wanted,
    dough_is_wanted,
    is_brief,
    is_only_left,
    lies_alone,
    says_it_rises,
)
from advisor.formula.method.oven_door import (
    TILL_BAKED,
    before_or_behind,
    beside_a_bake,
    part_of_a_bake,
    side_of_the_door,
)
from advisor.formula.method.told_numbers import Told, numbers_told
from advisor.formula.method.work_words import Meaning
from advisor.formula.process import process_values as sizes
from advisor.formula.process.oven_lines import MOST_OVEN_C
from advisor.formula.process.process_values import Value


class SentenceReader:
    """One sentence while its numbers are given their meanings, from left to right."""

    def __init__(
        self, text: str, number: int, before: Meaning | None, *, baked: bool, fahrenheit: bool | None = None
    ) -> None:
        self.fahrenheit = fahrenheit
        self.text = text
        self.number = number
        self.before = before
        self.baked = baked
        self.works: tuple[Word, ...] = words_of_work(text)
        self.found, self.left = list[Fact](), list[Told]()
        self.last: Meaning | None = None
        self._from = 0
        self._lone = False

    def read(self) -> None:
        """Fill `found`, in the order of the words, and `left`."""
        numbers = numbers_told(self.text)
        for place, told in enumerate(numbers):
            to = numbers[place + 1].start if place + 1 < len(numbers) else len(self.text)
            meaning = meaning_of(told, self.text, self.works, to, (self.last or self.before, self._from))
            baked = self.baked or any((f.topic, f.what) == ("oven", "minutes") for f in self.found)
            meaning = side_of_the_door(
                self._more(meaning, told), told, self.text, self.works, self.last, self._from, to,
                baked=self.baked, found=self.found,
            )  # fmt: skip
            meaning = before_or_behind(
                meaning, told, self.text, self.works, self.last, self._from, to, baked=baked
            )
            self._lone = lies_alone(meaning, told, self.text, self.works, self.last, baked=self.baked)
            meaning = "rest" if self._lone else meaning
            if meaning is None and not baked and is_brief(told, self.text, self.works):
                meaning = "mix"
            if meaning == "story" or not self._take(meaning, told, to):
                inside = any(w.start <= told.start < w.end for w in self.works)
                if told.kind != "bare" or told.degrees or not (inside or says_no_size(told, self.text)):
                    self.left.append(told)
                continue
            self.last = meaning
            self._from = told.end
        self._whole()
        self.found.sort(key=lambda fact: fact.start)

    def _more(self, meaning: Meaning | None, told: Told) -> Meaning | None:
        """Give "30 s more" and "another 25 min" the meaning of the time before; a long microwave is a warm place."""
        before = self.last or (self.before if self.before in ("oven", "mix") else None)
        if told.kind == "time" and before is not None:
            further = words.FURTHER.search(self.text[: told.start])
            worked = any(w.meaning in words.LASTING for w in self.works if self._from <= w.start < told.start)
            worked = worked and self.last != "microwave"
            if (
                (further and not worked)
                or (words.MORE.match(self.text, told.end) and (self.last or not worked))
                or " more " in told.text
            ):
                meaning = before
        if meaning == "oven" and told.kind == "time" and is_only_a_lid(self.text, self.works, self.last):
            return "story" if any(f.topic == "steam_min" for f in self.found) else "steam"
        if meaning == "steam" and (self.last == "oven" or any(w.meaning == "oven" for w in self.works)):
            return "oven"  # steam in the oven belongs to a step of the bake
        if meaning == "microwave" and told.value > words.LONGEST_MICROWAVE_MIN:
            return "proof"
        return meaning

    def _add(
        self, topic: str, what: str, value: Value, told: Told, *said: str, undecided: bool = False
    ) -> None:
        text = told.text.strip(words.ENDS)
        linked = words.LINK.search(self.text, self._from, told.start) or words.MORE.match(self.text, told.end)
        self.found.append(
            Fact(
                topic=topic, what=what, value=value, text=text, said=(*((told.said,) if told.said else ()), *said),
                linked=bool(linked) or any(f.topic == topic for f in self.found) or self._bakes_on(topic),
                sentence=self.number, source=self.text, start=told.start, end=told.end, open=undecided,
            )
        )  # fmt: skip

    def _bakes_on(self, topic: str) -> bool:
        """Tell whether a sentence behind a bake goes on with it: a heat and its time, and no new "bake"."""
        return topic == "oven" and self.baked and not any(w.meaning == "oven" for w in self.works)

    def _take(self, meaning: Meaning | None, told: Told, to: int) -> bool:
        if meaning is None:
            return False
        if told.kind == "bare":
            return self._bare(meaning, told, to)
        if told.kind == "time":
            never = words.NEVER.search(self.text[max(0, told.start - 14) : told.start])
            return not never and self._time(meaning, told, to)
        if told.kind == "heat":
            return self._heat(meaning, told, told.value, to)
        field = {"thickness": "thickness_cm", "height": "height_after_cm", "weight": "weight_after_g",
                 "piece": "piece_g", "altitude": "altitude_m"}.get(meaning)  # fmt: skip
        in_front = self.text[: told.start]
        is_size = sizes.LEAST_THICK_CM <= told.value <= words.MOST_THICK_CM
        no_dough = self.baked or not is_size or words.NO_DOUGH.search(in_front)
        if field == "height_after_cm" and not self.baked:
            if words.OF_A_TIN.search(in_front):
                return False  # "tin 25 x 11 cm, height 10 cm"
            if words.FLATTENED.search(in_front) and told.value <= words.MOST_THICK_CM:
                field = "thickness_cm"  # "pat in a circle, 1 inch high"
        across = words.ACROSS.match(self.text, told.end)
        no_piece = not words.OF_A_PIECE.search(in_front) and not words.EACH.match(self.text, told.end)
        refused = {
            "thickness_cm": no_dough or words.SLICED.search(in_front),
            "height_after_cm": told.value > sizes.TALLEST_CM
            or words.NOT_BAKED.search(in_front[self._from :]),
            "weight_after_g": not self.baked and words.IN_A_CUP.search(in_front),
            "piece_g": no_piece,
            "altitude_m": told.value > sizes.HIGHEST_M,
        }
        if field is None or (told.kind == "length" and across) or refused.get(field):
            return False
        self._add(field, field, told.value, told, undecided=bool(words.LOAF.match(self.text, told.end)))
        return True

    def _time(self, meaning: Meaning, told: Told, to: int) -> bool:
        if told.value > (sizes.LONGEST_KEPT_MIN if meaning == "store" else sizes.LONGEST_MIN):
            return False
        if meaning == "griddle" and self._boils(told):
            twice = f"'{told.text}' a side is boiled twice as long in all"
            self._add("boil_min", "boil_min", 2 * told.value, told, twice)
            return True
        fields = {
            "griddle": "griddle_side_min", "boil": "boil_min", "steam": "steam_min", "microwave": "microwave_min",
            "cool": "sliced_after_min", "cool in pan": "cooled_in_pan_min", "store": "stored_min",
            "tent": "tented_at_min", "open": "opened_at_min",
        }  # fmt: skip
        if field := fields.get(meaning):
            known = next((f for f in self.found if f.topic == field == "microwave_min"), None)
            if known is not None and isinstance(known.value, float):
                self.found.remove(known)
                self._add(field, field, known.value + told.value, told)
                return True
            boiled = next((f for f in self.found if f.topic == field == "boil_min"), None)
            if boiled is not None and isinstance(boiled.value, float):
                if "more" in told.text or words.FURTHER.search(self.text[: told.start]):
                    self.found.remove(boiled)
                    self._add(field, field, boiled.value + told.value, told)
                return True  # "1 minute total (30 sec a side)"
            if meaning == "tent" and words.LAST.search(self.text[: told.start]):
                self._add("oven", "foil at last", told.value, told)
                return True
            self._add(field, field, told.value, told)
        elif meaning == "oven" and words.TOTAL.match(self.text[told.end : to]):
            self._add("oven", "total", told.value, told)
        elif meaning == "oven":
            self._lid(told, to)
            part = part_of_a_bake(told, self.text, self.found)
            self._add("oven", f"{part}minutes", told.value, told)
        elif meaning in ("mix", "rest", "proof"):
            rests = [w.start for w in self.works if w.meaning == "rest" and w.start < told.start]
            left = bool(rests) and is_only_left(self.text[rests[-1] : to])
            before = self.found[-1] if self.found else None
            goes_on = before is not None and before.topic == "proof" and not before.open
            rises = goes_on or says_it_rises(self.text[self._from : told.end + 20])
            undecided = left or self._lone if meaning == "rest" else meaning == "proof" and not rises
            self._add(meaning, "minutes", told.value, told, undecided=undecided)
        else:
            return False
        return True

    def _boils(self, told: Told) -> bool:
        """Tell whether a time a side is one in the pot: the pot is told last before it."""
        before = [w for w in self.works if w.start < told.start and w.meaning in ("boil", "griddle")]
        return before[-1].meaning == "boil" if before else self.before == "boil"

    def _lid(self, told: Told, to: int) -> None:
        bakes = any(f.topic == "oven" for f in self.found)
        for what, value in beside_a_bake(told, self.text, self.found, self._from, to):
            if what != "foil" or bakes:
                self._add("oven", what, value, told)

    def _heat(self, meaning: Meaning, told: Told, celsius: float, to: int, *said: str) -> bool:
        if words.NEVER.search(self.text[max(0, told.start - 40) : told.start]):
            return False
        if celsius > MOST_OVEN_C:  # no more than a line of its own would take
            return False
        if meaning in ("oven", "proof", "rest"):
            self._add(meaning, "celsius", celsius, told, *said, undecided=meaning == "rest")
        elif meaning == "core":
            wanted = core_is_wanted(self.text[self._from : told.start], told.text, self.text)
            known = "core_measured_c" if wanted is False else "target_core_c"
            self._add(known, known, celsius, told, *said, undecided=wanted is None)
        elif meaning == "dough" and any(f.topic == "dough_measured_c" for f in self.found):
            self._add("dough_wanted_c", "dough_wanted_c", celsius, told, *said)  # "27.5 C (target 27)"
        elif meaning == "dough wanted" and (open_one := self._open_dough(celsius)):
            self.found.remove(open_one)
            read = replace(open_one, topic="dough_measured_c", what="dough_measured_c", open=False)
            self.found.append(read)  # "DT 28 C (target 26)"
            self._add("dough_wanted_c", "dough_wanted_c", celsius, told, *said)
        elif meaning == "room" and self.last == "proof" and words.AT_ROOM.search(self.text[: told.start]):
            self._add("room_c", "room_c", celsius, told, *said)
            self._add("proof", "celsius", celsius, told)
        elif (
            meaning == "dough"
            and (wanted := dough_is_wanted(self.text[self._from : told.start], self.text)) is not False
        ):
            self._add("dough_wanted_c", "dough_wanted_c", celsius, told, *said, undecided=wanted is None)
        else:
            fields: dict[str, str] = {
                "preheat": "preheat_c", "room": "room_c", "dough": "dough_measured_c", "griddle": "griddle_c",
                "dough wanted": "dough_wanted_c", "water": "water_c",
            }  # fmt: skip
            if (field := fields.get(meaning)) is None:
                return False
            self._add(field, field, celsius, told, *said)
        return True

    def _open_dough(self, celsius: float) -> Fact | None:
        """Give the heat of a dough that this sentence told, where another is told as the one to aim at."""
        told = [f for f in self.found if f.topic == "dough_wanted_c" and f.open and f.value != celsius]
        return told[-1] if told else None

    def _bare(self, meaning: Meaning, told: Told, to: int) -> bool:
        if any(w.start <= told.start < w.end for w in self.works):
            return False  # the 2 of "speed 2"
        word = [w for w in self.works if w.end <= told.start]
        read = with_unit(told, meaning, self.text, word[-1].end if word else 0, self.fahrenheit)
        if read is None:
            return False
        if read.kind == "time":
            return self._time(meaning, read, to)
        return self._heat(meaning, read, read.value, to)

    def _whole(self) -> None:
        """Take what a sentence says without a number: a fan, a fridge, until doubled."""
        works = {w.meaning for w in self.works}
        inside = numbers_told(self.text)  # "200 C / 180 fan" is an oven of either kind
        fans = [
            f for f in words.FAN.finditer(self.text) if not any(t.start < f.start() < t.end for t in inside)
        ]
        if "oven" in works | {self.last} and fans:
            fan = fans[0]
            self._say("oven", "fan", not words.NO_FAN.search(self.text), fan)
        if self.last in ("store",) or "proof" not in works or self.baked:
            return
        if (until := words.UNTIL.search(self.text)) and not TILL_BAKED.search(self.text):
            self._say("proof", "until", " ".join(until["what"].lower().split()[:6]), until)
        if any(f.topic == "rest" for f in self.found) and not any(f.topic == "proof" for f in self.found):
            return  # a rest in the fridge
        if (fridge := words.FRIDGE.search(self.text)) and not words.OR_ELSE.search(
            self.text[: fridge.start()]
        ):
            self._say("proof", "place", "fridge", fridge)
        night = words.NIGHT.search(self.text)
        if night and not words.OR_ELSE.search(self.text[: night.start()]):
            self._say("proof", "until", "overnight", night)

    def _say(self, topic: str, what: str, value: Value, at: re.Match[str]) -> None:
        self.found.append(
            Fact(
                topic=topic, what=what, value=value, text=at.group().strip(words.ENDS), linked=True,
                sentence=self.number, source=self.text, start=at.start(), end=at.end(),
                open=topic == "proof" and not says_it_rises(self.text),
            )
        )  # fmt: skip
