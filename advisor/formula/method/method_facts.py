"""What a sentence of a method says of the process beyond doubt: oven, bake, kneading, proof, rest, cooling."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from advisor.formula.faults import LineFault
from advisor.formula.lines.sentences import sentences_of
from advisor.formula.process.process_values import Value, Words

Topic = Literal["oven", "mix", "proof", "rest", "cooled in pan", "pan", "rolls"]
_PLACE = re.compile(r"(?<![\w.])(?=[~]?[0-9¼½¾⅓⅔])")
_OTHER_OVEN = re.compile(
    r"\s*[/(,]\s*(?:gas(?:\s*mark)?\s*[0-9]+|(?:[0-9]{2,3}\s*[°º]?\s*c?\s*)fan(?:\s+oven)?|"
    r"fan\s*[0-9]{2,3}\s*[°º]?\s*c?)\b\s*\)?",
    re.IGNORECASE,
)
_BARE_HEAT = re.compile(
    r"(?<![\w./])(?P<low>[1-5][0-9]{2})(?:\s?[-–]\s?(?P<high>[1-5][0-9]{2}))?(?:\s*(?:°|º|degrees?\b|deg\b))?"
    r"(?=\s*(?:$|[,.;)]|for\b|x\b|until\b|till\b|fan\b|[0-9]))",
    re.IGNORECASE,
)
_OVEN_WORD = re.compile(r"\b(?:bake|baked|baking|oven|preheat|pre-heat|roast|cook)\b", re.IGNORECASE)
_BAKE_WORD = re.compile(r"\b(?:bake|roast)\b", re.IGNORECASE)
_NOT_THIS_TIME = re.compile(
    r"\b(?:after|tent|leave|turn|cover|rest|cool|check|rotate|open|another|more|before|then|let|uncover|rise|prove|"
    r"proof|knead|sit|stand|every|last|microwave)\b",
    re.IGNORECASE,
)
_KNEAD = re.compile(r"\bknead\b", re.IGNORECASE)
_PROOF = re.compile(
    r"\b(?:rise|proof|prove|ferment)\b(?!\s+(?:the\s+|your\s+)?yeast)|\b(?:let|leave)\s+(?:\w+\s+)?to\s+rise\b",
    re.IGNORECASE,
)
_SHAPED = re.compile(
    r"\b(?:shape|knock back|knock it back|punch down|deflate|second rise|second proof)\b", re.IGNORECASE
)
_REST = re.compile(r"\b(?:rest|sit|stand)\b", re.IGNORECASE)
_AFTER_BAKING = re.compile(r"\b(?:before|until)\s+(?:slic|cut|serv|eat)|\b(?:slic|cool)", re.IGNORECASE)
_COOL = re.compile(r"\bcool\b(?:\s+\w+){0,3}?\s+in\s+(?:the\s+|its\s+)?(?:tin|pan)\b", re.IGNORECASE)
_COOL_BEFORE = re.compile(r"\b(?:cool|oven|out)\b", re.IGNORECASE)
_MORE_TIME = re.compile(r"\b(?:another|a further|then)\b[^.;]{0,40}", re.IGNORECASE)
_COOLED = re.compile(r"\b(?:cool|rest|slice)", re.IGNORECASE)
_ENDS = " ,.;:()"
_LEAST_F = 260.0
"""A bare number above this is Fahrenheit: no loaf is baked at so many degrees Celsius."""
SAME_C = 6.0
"""Two temperatures in C and F of one card differ by so much where they were rounded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One fact of the process: its topic, the fields, the words it was read from, what was assumed."""

    topic: Topic
    fields: Mapping[str, Value]
    text: str
    said: tuple[str, ...] = ()
    sure: bool = False
    """Whether a temperature stands with its own time, so that it is the one of the bake."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What a sentence says, and what it says in more ways than one."""

    found: tuple[Fact, ...] = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    value: float
    start: int
    end: int
    said: tuple[str, ...] = ()


def _each(text: str, take: Callable[[Words], float | None]) -> Iterator[_Place]:
    end = 0
    for place in _PLACE.finditer(text):
        at = place.start()
        if at < end:
            continue
        words = Words(key="", left=text[at:], expected="")
        try:
            value = take(words)
        except LineFault:
            continue
        if value is not None and words.left[:1] == " ":  # it began here, and not further on
            end = len(text) - len(words.left) + 1
            yield _Place(value=value, start=at, end=end, said=tuple(words.said))


def _times(text: str) -> tuple[_Place, ...]:
    return tuple(_each(text, lambda words: words.take_time()))


def _heats(text: str) -> tuple[_Place, ...]:
    return tuple(_each(text, lambda words: words.take_temperature(-40, 600)))


class MethodReader:
    """Reads the sentences of one text in their order: what stands behind the bake is no rest of the dough."""

    def __init__(self) -> None:
        self._baked = False

    def read(self, text: str) -> Facts:
        """Give the facts of a line of sentences; what can be read in two ways is a doubt and no fact."""
        found: list[Fact] = []
        doubts: list[str] = []
        for sentence in sentences_of(text):
            self._oven(sentence, found, doubts)
            self._dough(sentence, found)
        if sum("oven_c" in f.fields for f in found) > 1:
            found = self._one_oven(found, doubts)
        return Facts(found=tuple(found), doubts=tuple(doubts))

    @staticmethod
    def _one_oven(found: list[Fact], doubts: list[str]) -> list[Fact]:
        ovens = [f for f in found if "oven_c" in f.fields]
        if [f.sure for f in ovens] == [False] * (len(ovens) - 1) + [
            True
        ]:  # heated first, then baked for a time
            return [f for f in found if f not in ovens[:-1]]
        doubts.append("more than one oven temperature; write the one that counts as 'oven: 175 C for 70 min'")
        return [f for f in found if f.topic != "oven"]

    def _oven(self, sentence: str, found: list[Fact], doubts: list[str]) -> None:
        plain = _OTHER_OVEN.sub(lambda m: " " * len(m.group()), sentence)
        times = _times(plain)
        heats = [h for h in _heats(plain) if 120 <= h.value <= 300] or self._bare(plain, times, doubts)
        for heat in heats:
            time = self._time_of(plain, heat, times)
            fan = re.match(r"\s*,?\s*\(?\s*(?:fan|convection)\b", plain[heat.end :], re.IGNORECASE)
            fields: dict[str, Value] = {"oven_c": heat.value}
            if fan:
                fields["oven_fan"] = True
            stop = max(heat.end, time.end) if time else heat.end
            start = min(heat.start, time.start) if time else heat.start
            if time is not None:
                self._baked = True
                fields["bake_min"] = time.value
                _more(sentence[time.end :], doubts)
            told = Fact(
                topic="oven",
                fields=fields,
                text=sentence[start:stop].strip(_ENDS),
                said=(*heat.said, *(time.said if time else ())),
                sure=time is not None,
            )
            same = next((f for f in found if _is_same_heat(f, heat.value)), None)
            if same is None or not same.sure:
                if same is not None:
                    found.remove(same)
                found.append(told)
        if heats or not (bake := _BAKE_WORD.search(plain)):
            return
        self._baked = True
        after = next((t for t in times if t.start >= bake.end()), None)
        if after is not None and self._free(plain[bake.end() : after.start]):
            words = sentence[bake.start() : after.end].strip(_ENDS)
            found.append(Fact(topic="oven", fields={"bake_min": after.value}, text=words, said=after.said))

    @staticmethod
    def _bare(text: str, times: tuple[_Place, ...], doubts: list[str]) -> list[_Place]:
        heats = []
        for place in _BARE_HEAT.finditer(text):
            oven = _OVEN_WORD.search(text[max(0, place.start() - 40) : place.start()])
            behind = next((t for t in times if 0 <= t.start - place.end() <= 8), None)
            if oven is None and behind is None:
                continue
            low = float(place["low"])
            value = (low + float(place["high"])) / 2 if place["high"] else low
            if value <= _LEAST_F:
                doubts.append(
                    f"'{place.group()}' has no C or F; write 'oven: {value:g} C' or 'oven: {value:g} F'"
                )
                continue
            said = (f"'{place.group()}' is taken as Fahrenheit",)
            heats.append(_Place(value=(value - 32) / 1.8, start=place.start(), end=place.end(), said=said))
        return heats

    def _time_of(self, text: str, heat: _Place, times: tuple[_Place, ...]) -> _Place | None:
        after = next((t for t in times if t.start >= heat.end), None)
        if after is not None and after.start - heat.end <= 45 and self._free(text[heat.end : after.start]):
            return after
        for time in times:
            before = 0 <= heat.start - time.end <= 20 and self._free(text[time.end : heat.start])
            if (
                before
                and (bake := _BAKE_WORD.search(text[: time.start]))
                and self._free(text[bake.end() : time.start])
            ):
                return time
        return None

    @staticmethod
    def _free(gap: str) -> bool:
        return not _NOT_THIS_TIME.search(gap)

    def _dough(self, sentence: str, found: list[Fact]) -> None:
        times = _times(sentence)

        def time_behind(word: re.Match[str], most: int) -> _Place | None:
            time = next((t for t in times if t.start >= word.end()), None)
            gap = "" if time is None else sentence[word.end() : time.start]
            if time is None or len(gap) > most or not self._free(gap) or _OVEN_WORD.search(gap):
                return None
            return time

        for word in _KNEAD.finditer(sentence):
            if time := time_behind(word, 40):
                text = sentence[word.start() : time.end].strip(_ENDS)
                found.append(Fact(topic="mix", fields={"mix_min": time.value}, text=text, said=time.said))
        for word in _PROOF.finditer(sentence):
            if (time := time_behind(word, 60)) is None:
                continue
            fields: dict[str, Value] = {"proof_min": time.value}
            warm = next(
                (h for h in _heats(sentence) if 0 <= h.start - time.end <= 12 and 1 <= h.value <= 50), None
            )
            if warm is not None:
                fields["proof_c"] = warm.value
            text = sentence[word.start() : (warm or time).end].strip(_ENDS)
            found.append(Fact(topic="proof", fields=fields, text=text, said=time.said))
        for word in _COOL.finditer(sentence):
            if time := time_behind(word, 25):
                fields = {"cooled_in_pan_min": time.value}
                text = sentence[word.start() : time.end].strip(_ENDS)
                found.append(Fact(topic="cooled in pan", fields=fields, text=text, said=time.said))
        for word in _REST.finditer(sentence):
            time = time_behind(word, 30)
            cooling = _COOL_BEFORE.search(sentence[: word.start()]) or _AFTER_BAKING.search(
                sentence[word.start() :]
            )
            if time is None or self._baked or cooling:
                continue
            text = sentence[word.start() : time.end].strip(_ENDS)
            found.append(Fact(topic="rest", fields={"rest_min": time.value}, text=text, said=time.said))


def _is_same_heat(fact: Fact, celsius: float) -> bool:
    known = fact.fields.get("oven_c")
    return isinstance(known, float) and abs(known - celsius) < SAME_C


def _more(text: str, doubts: list[str]) -> None:
    more = _MORE_TIME.search(text)
    if more is None or _COOLED.search(more.group()):
        return
    if time := next(iter(_times(more.group())), None):
        doubts.append(f"'{more.group()[: time.end].strip(_ENDS)}' behind the bake is not counted with it")


def shaped_behind_proof(text: str) -> bool:
    """Tell whether a dough is shaped or knocked back after its rise, so that a second rise may follow."""
    proof = _PROOF.search(text)
    return bool(proof and _SHAPED.search(text, proof.end()))
