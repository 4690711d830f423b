"""Gives the numbers of one sentence their meanings, from left to right, and what it says without a number."""

from __future__ import annotations

import re

from advisor.formula.method.bare_numbers import with_unit
from advisor.formula.method.facts import Fact
from advisor.formula.method.meanings import Word, meaning_of, words_of_work
from advisor.formula.method.told_numbers import Told, numbers_told
from advisor.formula.method.work_words import Meaning
from advisor.formula.process.process_values import Value

_LINK = re.compile(
    r"\b(?:then|reduce|lower|turn|drop|down|another|more|further|flip|again|second|2nd|finish|increase|raise|lid|foil|"
    r"uncover|final|last|after\s+that|and\s+then|follow)\w*",
    re.IGNORECASE,
)
_LID_ON = re.compile(
    r"\b(?:lid\s+on|with\s+(?:the\s+|a\s+|its\s+)?lid|w/\s*lid|lidded|covered)\b", re.IGNORECASE
)
_LID_OFF = re.compile(
    r"\b(?:lid\s+off|without\s+(?:the\s+|a\s+)?lid|uncovered|uncover|remove\s+(?:the\s+)?lid|lid\s+removed|no\s+lid)\b",
    re.I,
)
_STEAM = re.compile(
    r"\b(?:(?:with|w/)\s*(?:plenty\s+of\s+)?steam|steam\s+pan|(?:pan|tray|cup)\s+of\s+(?:hot|boiling|ice\w*)?\s*water|ice\s+cubes)\b",
    re.I,
)
_FOIL = re.compile(r"\b(?:foil|tent(?:ed)?)\b", re.IGNORECASE)
_FAN = re.compile(r"\b(?:fan(?!\s*(?:of|s))|convection)\b", re.IGNORECASE)
_NO_FAN = re.compile(r"\b(?:no|without)\s+fan\b", re.IGNORECASE)
_TOTAL = re.compile(r"\s*(?:min\w*\s+)?(?:in\s+)?(?:total|all\s+(?:together|up|in))", re.IGNORECASE)
_TARGET = re.compile(
    r"\b(?:should|want|wants|until|till|to|target|aim|spec|get|go|need|needs|looking|for)\b", re.IGNORECASE
)
_MEASURED = re.compile(
    r"\b(?:was|said|read|reads|measured|came|pulled|at\s+pull|checked|got|showed|went\s+to|ended)\b", re.I
)
_READ_OFF = re.compile(
    r"\b(?:exit|at\s+(?:the\s+)?end|off\s+the\s+hook|probe[ds]?|pull(?:ed)?|thermometer|poked|today|mine|in\s+the\s+end|afterwards|took|taken|was|came|baked|log)\b",
    re.IGNORECASE,
)
"""Words of a core that was read; one without them is the one to bake to."""
_NEVER = re.compile(r"\b(?:never|not|won'?t|don'?t|can'?t)\b[^.,;]{0,20}$", re.IGNORECASE)
_OR_ELSE = re.compile(r"(?:^|[,;.(]\s*|\s)or\s+(?:[a-z]+\s+){0,6}$", re.IGNORECASE)
_WANTED_DOUGH = re.compile(r"\b(?:should|want(?:ed)?|target|aim|must|ought)\b[^.;]*$", re.IGNORECASE)
_AT_ROOM = re.compile(r"\bat\s+room\s+temp(?:erature)?\b[^.;]{0,24}$", re.IGNORECASE)
_FURTHER = re.compile(r"\b(?:another|a\s+further)\s+(?:about\s+)?$", re.IGNORECASE)
_LAST = re.compile(r"\b(?:last|final)\s+(?:about\s+)?$", re.IGNORECASE)
_UNTIL = re.compile(
    r"\b(?:until|till|til)\s+(?:they\s+|it\s+|it'?s\s+|they'?re\s+|just\s+|about\s+|has\s+|have\s+|nearly\s+|almost\s+)*"
    r"(?P<what>[^\d.,;:()/]{3,40})",
    re.IGNORECASE,
)
_FRIDGE = re.compile(r"\b(?:fridge|refrigerat\w+|retard\w*)\b", re.IGNORECASE)
_NIGHT = re.compile(r"\bover\s?night\b", re.IGNORECASE)
_ENDS = " ,.;:()"
_LASTING = frozenset(["mix", "rest", "proof", "oven", "cool", "boil", "steam"])
"""Works that take a time of their own: "let it rest another 15 min" is a rest, whatever came before."""
_NO_DOUGH = re.compile(
    r"\b(?:stripe|streak|layer|band|line|ring|skin|crust|gummy|dense|wet|rubbery)\b", re.IGNORECASE
)
_NAMES = re.compile(
    r"(?:\b(?:no|nr|run|trial|version|v|p|page|step|week|day|batch|attempt|type|book|handout|year|class|line|lesson)\.?\s*|#)$",
    re.IGNORECASE,
)
_COUNTS = re.compile(
    r"\s*(?:times?|folds?|eggs?|people|persons|friends|kids|of\s+(?:you|us)|things|goes|turns|years?|times|x\b|th\b|nd\b|rd\b|st\b|%|"
    r"kcal|calories|carbs?|net)",
    re.IGNORECASE,
)
_LEAST_TOLD = 3.0
_LONGEST_REST_MIN = 1440.0
_MOST_THICK_CM = 5.0
_BACK_IN = re.compile(r"\bback\s+in(?:to)?\b|\breturn\s+(?:it\s+|them\s+)?to\s+the\s+oven", re.IGNORECASE)
_RISES = re.compile(
    r"\b(?:until|till|til)\b[^.;]{0,30}\b(?:rim|doubled?|top|puffy|risen|twice|size)\b|\bairing\s+cupboard\b",
    re.IGNORECASE,
)
_LEAST_STORED_MIN = 2880.0
"""Minutes from which a time in the fridge keeps a loaf, where nothing says that the dough rises there."""
_LONGEST_MICROWAVE_MIN = 15.0


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
        self.words: tuple[Word, ...] = words_of_work(text)
        self.found: list[Fact] = []
        self.left: list[Told] = []
        self.last: Meaning | None = None
        self._from = 0

    def read(self) -> None:
        """Fill `found`, in the order of the words, and `left`."""
        numbers = numbers_told(self.text)
        for place, told in enumerate(numbers):
            to = numbers[place + 1].start if place + 1 < len(numbers) else len(self.text)
            meaning = meaning_of(told, self.text, self.words, to, (self.last or self.before, self._from))
            meaning = self._after_the_bake(self._more(meaning, told), told, to)
            if meaning == "story" or not self._take(meaning, told, to):
                if told.kind != "bare" or told.degrees or not self._says_no_size(told):
                    self.left.append(told)
                continue
            self.last = meaning
            self._from = told.end
        self._whole()
        self.found.sort(key=lambda fact: fact.start)

    def _says_no_size(self, told: Told) -> bool:
        """Tell whether a bare number is none of the process: one that counts, names or numbers something."""
        if any(w.start <= told.start < w.end for w in self.words) or told.value < _LEAST_TOLD:
            return True
        return bool(_NAMES.search(self.text[: told.start]) or _COUNTS.match(self.text, told.end))

    def _more(self, meaning: Meaning | None, told: Told) -> Meaning | None:
        """Give "30 s more" and "another 25 min" the meaning of the time before; a long microwave is a warm place."""
        if told.kind == "time" and self.last is not None:
            further = re.search(
                r"\b(?:another|a\s+further)\s+(?:about\s+)?$", self.text[: told.start], re.IGNORECASE
            )
            worked = any(w.meaning in _LASTING for w in self.words if self._from <= w.start < told.start)
            worked = worked and self.last != "microwave"
            if (
                (further and not worked)
                or re.match(r"\s+more\b", self.text[told.end :], re.I)
                or " more " in told.text
            ):
                meaning = self.last
        if meaning == "oven" and told.kind == "time" and self._only_a_lid():
            return "story"
        if meaning == "steam" and (self.last == "oven" or any(w.meaning == "oven" for w in self.words)):
            return "oven"  # steam in the oven belongs to a step of the bake
        if meaning == "microwave" and told.value > _LONGEST_MICROWAVE_MIN:
            return "proof"
        return meaning

    def _only_a_lid(self) -> bool:
        """Tell whether a lid is that of a steamer, so that its time is no bake."""
        ovens = [
            w for w in self.words if w.meaning == "oven" and "lid" not in self.text[w.start : w.end].lower()
        ]
        return (
            "lid" in self.text.lower()
            and not ovens
            and self.last != "oven"
            and any(w.meaning == "steam" for w in self.words)
        )

    def _after_the_bake(self, meaning: Meaning | None, told: Told, to: int) -> Meaning | None:
        if meaning == "cool in pan" and self.last == "proof" and not self.baked:
            return "proof"  # it rises in its tin
        run = self.text[self._from : to]
        if meaning in ("rest", "cool") and _BACK_IN.search(self.text, told.end):
            return "rest"
        if meaning in ("rest", "cool") and (self.baked or meaning == "cool"):
            in_pan = re.search(
                r"\b(?:in|on)\s+(?:the\s+|its\s+|their\s+)?(?:pans?|tins?|dish|mou?lds?)\b", run, re.I
            )
            rack = re.search(r"\b(?:rack|before)\b", run, re.I)
            return "cool in pan" if in_pan and not rack else "cool"
        if meaning == "rest" and told.kind == "time" and not self.baked and _RISES.search(self.text):
            return "proof"  # "leave an hour and a quarter till double"
        if meaning == "proof" and told.kind == "time" and told.value >= _LEAST_STORED_MIN:
            rises = re.search(r"\b(?:proof|prove|rise|dough|retard|bulk|ferment)", self.text, re.I)
            if self.baked or not rises:
                return "store"
        if meaning == "proof" and told.kind == "time" and _OR_ELSE.search(self.text[self._from : told.start]):
            return "story"  # one of two ways
        if told.kind == "time" and told.value >= _LONGEST_REST_MIN and meaning not in ("proof", "cool"):
            return "store" if self.baked or meaning == "store" else meaning
        return meaning

    def _add(self, topic: str, what: str, value: Value, told: Told, *said: str) -> None:
        text = told.text.strip(_ENDS)
        in_front = self.text[self._from : told.start]
        self.found.append(
            Fact(
                topic=topic, what=what, value=value, text=text, said=(*((told.said,) if told.said else ()), *said),
                linked=bool(_LINK.search(in_front)) or any(f.topic == topic for f in self.found),
                sentence=self.number, source=self.text, start=told.start, end=told.end,
            )
        )  # fmt: skip

    def _take(self, meaning: Meaning | None, told: Told, to: int) -> bool:
        if meaning is None:
            return False
        if told.kind == "bare":
            return self._bare(meaning, told, to)
        if told.kind == "time":
            never = _NEVER.search(self.text[max(0, told.start - 14) : told.start])
            return not never and self._time(meaning, told, to)
        if told.kind == "heat":
            return self._heat(meaning, told, told.value, to)
        field = {"thickness": "thickness_cm", "height": "height_after_cm", "weight": "weight_after_g",
                 "piece": "piece_g", "altitude": "altitude_m"}.get(meaning)  # fmt: skip
        no_dough = told.value > _MOST_THICK_CM or _NO_DOUGH.search(self.text[: told.start])
        if field is None or (field == "thickness_cm" and no_dough):
            return False
        self._add(field, field, told.value, told)
        return True

    def _time(self, meaning: Meaning, told: Told, to: int) -> bool:
        if meaning == "griddle" and self._boils(told):
            self._add(
                "boil_min",
                "boil_min",
                2 * told.value,
                told,
                f"'{told.text}' a side is boiled twice as long in all",
            )
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
                if "more" in told.text or _FURTHER.search(self.text[: told.start]):
                    self.found.remove(boiled)
                    self._add(field, field, boiled.value + told.value, told)
                return True  # "1 minute total (30 sec a side)"
            if meaning == "tent" and _LAST.search(self.text[: told.start]):
                self._add("oven", "foil at last", told.value, told)
                return True
            self._add(field, field, told.value, told)
        elif meaning == "oven" and _TOTAL.match(self.text[told.end : to]):
            self._add("oven", "total", told.value, told)
        elif meaning == "oven":
            self._lid(told, to)
            last = _LAST.search(self.text[: told.start])
            self._add("oven", "last minutes" if last else "minutes", told.value, told)
        elif meaning in ("mix", "rest", "proof"):
            self._add(meaning, "minutes", told.value, told)
        else:
            return False
        return True

    def _boils(self, told: Told) -> bool:
        """Tell whether a time a side is one in the pot: the pot is told last before it."""
        before = [w for w in self.words if w.start < told.start and w.meaning in ("boil", "griddle")]
        return bool(before) and before[-1].meaning == "boil"

    def _lid(self, told: Told, to: int) -> None:
        run = self.text[self._from : told.start] + " " + self.text[told.end : to]
        near = self.text[told.end : min(to, told.end + 14)]
        before = front = self.text[self._from : told.start]
        if re.search(r"[.,;]", near[:2]):  # behind the comma it belongs to the next number, if there is one
            near, before = before, near if to == len(self.text) else ""
        for part in (near, before):
            on, off = _LID_ON.search(part), _LID_OFF.search(part)
            if off or on:
                self._add("oven", "lid", not off, told)
                break
        if _STEAM.search(run):
            self._add("oven", "steam", True, told)
        if _FOIL.search(front) and any(f.topic == "oven" for f in self.found):
            self._add("oven", "foil", True, told)

    def _heat(self, meaning: Meaning, told: Told, celsius: float, to: int, *said: str) -> bool:
        if _NEVER.search(self.text[max(0, told.start - 40) : told.start]):
            return False
        if meaning in ("oven", "proof"):
            self._add(meaning, "celsius", celsius, told, *said)
        elif meaning == "core":
            known = "target_core_c" if self._is_wanted(told) else "core_measured_c"
            self._add(known, known, celsius, told, *said)
        elif meaning == "dough" and any(f.topic == "dough_measured_c" for f in self.found):
            self._add("dough_wanted_c", "dough_wanted_c", celsius, told, *said)  # "27.5 C (target 27)"
        elif meaning == "room" and self.last == "proof" and _AT_ROOM.search(self.text[: told.start]):
            self._add("room_c", "room_c", celsius, told, *said)
            self._add("proof", "celsius", celsius, told)
        elif meaning == "dough" and _WANTED_DOUGH.search(self.text[self._from : told.start]):
            self._add("dough_wanted_c", "dough_wanted_c", celsius, told, *said)
        else:
            fields: dict[str, str] = {
                "preheat": "preheat_c", "room": "room_c", "dough": "dough_measured_c", "griddle": "griddle_c",
                "dough wanted": "dough_wanted_c", "water": "water_c",
            }  # fmt: skip
            if (field := fields.get(meaning)) is None:
                return False
            self._add(field, field, celsius, told, *said)
        return True

    def _is_wanted(self, told: Told) -> bool:
        """Tell whether a core is one to bake to, and not one that was read: the word nearest before it tells."""
        before = self.text[self._from : told.start]
        marks = [(at.start(), True) for at in _TARGET.finditer(before)]
        marks += [(at.start(), False) for at in _MEASURED.finditer(before)]
        if marks:
            return max(marks)[1]
        return not _READ_OFF.search(self.text)

    def _bare(self, meaning: Meaning, told: Told, to: int) -> bool:
        if any(w.start <= told.start < w.end for w in self.words):
            return False  # the 2 of "speed 2"
        word = [w for w in self.words if w.end <= told.start]
        read = with_unit(told, meaning, self.text, word[-1].end if word else 0, self.fahrenheit)
        if read is None:
            return False
        if read.kind == "time":
            return self._time(meaning, read, to)
        return self._heat(meaning, read, read.value, to)

    def _whole(self) -> None:
        """Take what a sentence says without a number: a fan, a fridge, until doubled."""
        works = {w.meaning for w in self.words}
        inside = numbers_told(self.text)  # "200 C / 180 fan" is an oven of either kind
        fans = [f for f in _FAN.finditer(self.text) if not any(t.start < f.start() < t.end for t in inside)]
        if "oven" in works | {self.last} and fans:
            fan = fans[0]
            self._say("oven", "fan", not _NO_FAN.search(self.text), fan)
        if self.last in ("store",) or "proof" not in works or self.baked:
            return
        if until := _UNTIL.search(self.text):
            self._say("proof", "until", " ".join(until["what"].lower().split()[:6]), until)
        night = _NIGHT.search(self.text)
        if any(f.topic == "rest" for f in self.found) and not any(f.topic == "proof" for f in self.found):
            return  # a rest in the fridge
        if (fridge := _FRIDGE.search(self.text)) and not _OR_ELSE.search(self.text[: fridge.start()]):
            self._say("proof", "place", "fridge", fridge)
        if night and not _OR_ELSE.search(self.text[: night.start()]):
            self._say("proof", "until", "overnight", night)

    def _say(self, topic: str, what: str, value: Value, at: re.Match[str]) -> None:
        self.found.append(
            Fact(
                topic=topic, what=what, value=value, text=at.group().strip(_ENDS), linked=True, sentence=self.number,
                source=self.text, start=at.start(), end=at.end(),
            )
        )  # fmt: skip
