"""Pans as sentences name them: "a 2 lb loaf tin", "a 9 x 5 inch pan", "a 23 x 13 cm tin", "a loaf pan"."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from advisor.knowledge_base.measured import PanSize

_N = r"[0-9]{1,3}(?:\.[0-9]+|\s?½|\s?¼|\s?¾|\s1/2)?"
_UNIT = r"\s*(?:-\s*)?(?:(?P<{0}>cm|mm|inch(?:es)?|in\b|\"|″))?"
_BY = r"\s*(?:x|×|by)\s*"
_NOUN = r"(?P<noun>(?:loaf\s+|bread\s+)?(?:tins?|pans?|dish|tray|mou?lds?|pullman|form))\b"
_POUNDS = re.compile(
    rf"(?<![\w.])(?P<n>[0-9](?:\.[0-9])?|one|two|three|half)\s*-?\s*(?:lbs?|pounds?)\b\.?(?:\s*\([^()]{{1,12}}\))?[\s-]*(?:\w+\s+){{0,2}}?{_NOUN}"
    r"|\b(?:tin|pan)\b\s*[,(:]\s*(?P<behind>[0-9](?:\.[0-9])?|one|two|three)\s*-?\s*(?:lbs?|pounds?)\b",
    re.IGNORECASE,
)
_GRAMS = re.compile(
    r"(?<![\w.])(?P<g>[1-9][0-9]{2,3})\s*g(?:rams?)?\s+(?:loaf\s+|bread\s+)?(?:tin|loaf\s+pan)\b",
    re.IGNORECASE,
)
_A_POUND_G = 453.59237
_LENGTHS = re.compile(
    rf"(?<![\w.])(?P<a>{_N}){_UNIT.format('u1')}{_BY}(?P<b>{_N}){_UNIT.format('u2')}"
    rf"(?:{_BY}(?P<c>{_N}){_UNIT.format('u3')})?[\s-]*(?:[a-z]+[\s-]+){{0,3}}?{_NOUN}",
    re.IGNORECASE,
)
_BARE_LENGTHS = re.compile(
    rf"(?:\b(?P<where>in|into|of|a|an|the|is|was|pans?|tins?|trays?|sheets?|dish|mould|form|buttered|greased|ungreased|oiled|lined|"
    rf"about|old)\s*[:,]?\s*\(?|(?P<opened>\()|sheet\s+|^|(?<=[.;:,—–-])\s|(?<=[a-z])\s)"
    rf"(?P<a>{_N}){_UNIT.format('u1')}{_BY}(?P<b>{_N}){_UNIT.format('u2')}"
    rf"(?:{_BY}(?P<c>{_N}){_UNIT.format('u3')})?(?P<noun>)(?:\s+ones?)?\s*(?=$|[.,;:()—–]|with\b|(?:lined|greased|oiled)\b|and\b|for\b)",
    re.IGNORECASE,
)
_ROLLED = re.compile(r"\b(?:roll(?:ed)?|stretch(?:ed)?|pat(?:ted)?|rectangle)\b[^.;]{0,20}$", re.IGNORECASE)
_ROUND = re.compile(
    rf"(?<![\w.])(?P<a>{_N})\s*-?\s*(?P<unit>cm|inch(?:es)?|in\b|\"|″)\s*-?\s*(?:[a-z]+\s+){{0,2}}?"
    r"(?P<noun>springform|square\s+(?:tin|pan|dish)|round\s+(?:tin|pan)|cake\s+(?:tin|pan)|round|skillet|circle|disc)\b",
    re.IGNORECASE,
)
_SHAPE = r"(?P<noun>round|square|spring\s?form|cake)"
_ACROSS = rf"(?P<a>{_N})\s*-?\s*(?P<unit>cm|inch(?:es)?|in\b|\"|″)"
_NO_SECOND = r"(?!\s*(?:x|×|by\b|high|deep|tall|long))"
_SHAPED = (
    re.compile(
        rf"\b{_SHAPE}\s+(?:\w+\s+)?{_ACROSS}\s*-?\s*(?:\w+\s+)?(?:tins?|pans?|dish|form|mou?ld)\b",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b{_SHAPE}\s+(?:tin|pan|dish|form|mou?ld)\s*[,(:]?\s*(?:of\s+|about\s+)?{_ACROSS}{_NO_SECOND}",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?P<noun>(?:tin|pan|form|mou?ld)\s+diameter)\s*[,(:]?\s*(?:is\s+|about\s+)?{_ACROSS}",
        re.IGNORECASE,
    ),
)
"""A round or square pan whose shape stands in front of its size: "a greased round 7 inch tin", "tin diameter 18 cm"."""
_LONG_AND_WIDE = re.compile(
    rf"(?<![\w.])(?P<a>{_N})\s*(?P<u1>cm|inch(?:es)?|in\b)?\s*long\s*,?\s*(?:and|by|x|,)?\s*(?P<b>{_N})\s*(?P<u2>cm|inch(?:es)?|in\b)?\s*(?:wide|across)"
    rf"(?:\s*,?\s*(?:and|by|x|,)?\s*(?P<c>{_N})\s*(?P<u3>cm|inch(?:es)?|in\b)?\s*(?:high|deep|tall))?(?P<noun>)",
    re.IGNORECASE,
)
_LOAF_LENGTHS = re.compile(
    rf"(?<![\w.])(?P<a>{_N}){_UNIT.format('u1')}{_BY}(?P<b>{_N}){_UNIT.format('u2')}(?P<c>(?!))?(?P<u3>(?!))?[\s-]*(?P<noun>loaf)\b",
    re.IGNORECASE,
)
_VOLUME = (
    r"(?P<{0}>[0-9](?:[.,][0-9]{{1,2}}|\s?½|\s1/2)?|[0-9]{{3,4}}(?=\s?ml)|½|one|two)"
    r"\s*-?\s*(?P<{0}u>ml|l|lit(?:re|er)s?|quart)\b"
)
_HOLDS = re.compile(
    rf"(?<![\w.,]){_VOLUME.format('v')}\s*-?\s*(?:\w+\s+)?(?:tins?|pans?|forms?|mou?lds?)\b|"
    rf"\b(?:tins?|pans?|forms?|mou?lds?)\b(?!\s+(?:of|with)\s)[^.;0-9]{{0,24}}?(?<![\w.,]){_VOLUME.format('w')}",
    re.IGNORECASE,
)
"""A tin by what it holds: "a greased 1 litre tin", "forms, 1 1/2 litres each"."""
_LONG = re.compile(
    rf"\b(?:loaf|bread|long|box)?\s*tin\b[^.;0-9x×]{{0,16}}(?P<a>{_N})\s*(?P<unit>cm|inch(?:es)?|in)\s+long\b|"
    rf"(?<![\w.])(?P<b>{_N})\s*-?\s*(?P<of>cm|inch(?:es)?|in)\s+(?:loaf|bread|box)\s+tin\b",
    re.IGNORECASE,
)
"""A loaf tin of which nothing but the length is told."""
_IN_WORDS = {"½": 0.5, "half": 0.5, "one": 1.0, "two": 2.0, "three": 3.0}
_LEAST_L, _MOST_L, _QUART_L = 0.3, 5.0, 0.946
"""The US quart is 0.946 L (NIST Handbook 44, appendix C)."""
_CUPS = re.compile(
    r"\b(?P<n>[0-9]{1,2})[\s-]+(?:cups?[\s-]+)?(?:hole[\s-]+)?(?:silicone\s+)?(?:muffin|bun|cupcake)\s+(?:tins?|pans?|cups|cases|"
    r"mou?lds?)\b",
    re.IGNORECASE,
)
_TIN = re.compile(r"\s+(?:springform|tin|pan|skillet|cake)", re.IGNORECASE)
_SHEET = re.compile(r"\b(?:sheet(?:\s+pan)?|tray|parchment)\b", re.IGNORECASE)
_LOAF_TIN = re.compile(r"(?:loaf|bread)\s+(?:tin|pan)\b", re.IGNORECASE)
_IN = 2.54
_IN_THE = re.compile(r"\bin\s+(?:the|an?|my|your|one)\b", re.IGNORECASE)
_MOST_ROWS = 5.0
"""Two bare numbers up to here count rows of rolls: no tin is named by a length of five inches."""
_LARGEST_IN = 18.0
"""Two bare numbers up to here are inches: no loaf tin is 18 cm long and half as wide by a name of two numbers."""
_LEAST_WIDE_IN, _LEAST_LONG_IN = 3.0, 7.0
"""Inches from which two bare numbers are a tin wherever they stand: "fold in, 9x5 lined"."""
_LARGEST_TIN_CM3 = 4500.0
"""No loaf tin of three bare numbers holds more, so that its numbers were centimetres."""
_LARGEST_CM = 60.0
_WITHIN = 0.06


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPan:
    """The pan of a sentence, its sizes as fields of a process, and what was assumed of them."""

    text: str
    fields: Mapping[str, float | str]
    said: str = ""


def pan_in(text: str, sizes: Mapping[str, PanSize]) -> NamedPan | None:
    """Find the pan that a text names; without sizes where they are not known."""
    stated = [m for m in (_LENGTHS.search(text), _bare_lengths(text)) if m and m["c"]]
    if stated and not _ROLLED.search(text[: stated[0].start("a")]) and (pan := _of_lengths(stated[0], sizes)):
        return pan  # its own measures say more than a name
    if found := _POUNDS.search(text):
        named = _of_pounds(found.group(), _number(found["n"] or found["behind"]), sizes)
        own = _bare_lengths(text)
        pan = _of_lengths(own, sizes) if own and -1 <= own.start("a") - found.end() < 5 else None
        if own and pan:
            across = {k: v for k, v in pan.fields.items() if k in ("pan_length_cm", "pan_width_cm")}
            text_of = text[found.start() : own.end() + (text[own.end() :][:1] == ")")]
            return NamedPan(text=text_of, fields={**named.fields, **_as_stated(own, across)}, said=named.said)
        return named
    if found := _GRAMS.search(text):
        return _of_pounds(found.group(), float(found["g"]) / _A_POUND_G, sizes)
    if found := _LENGTHS.search(text) or _LONG_AND_WIDE.search(text) or _LOAF_LENGTHS.search(text):
        return _of_lengths(found, sizes)
    if (found := _bare_lengths(text)) and not _ROLLED.search(text[: found.start("a")]):
        sheet = _SHEET.search(text[: found.start("a")])
        return _of_lengths(
            found, sizes, flat=bool(sheet) and min(_number(found["a"]), _number(found["b"])) > 6
        )
    if found := next((m for p in (*_SHAPED, _ROUND) if (m := p.search(text))), None):
        return _of_diameter(found)
    if found := _CUPS.search(text):
        return NamedPan(text=found.group(), fields={"pan_kind": "round", "pan_cups": int(found["n"])})
    if (found := _HOLDS.search(text)) and (pan := _of_volume(found, sizes)):
        return pan
    if found := _LONG.search(text):
        long_cm = _number(found["a"] or found["b"]) * (
            1.0 if (found["unit"] or found["of"]).lower() == "cm" else _IN
        )
        return _like_a_tin(found.group(), sizes, lambda p: p.length_cm, long_cm, 1.0)
    if found := _LOAF_TIN.search(text):
        return NamedPan(text=found.group(), fields={"pan_kind": "tin"})
    return None


def _of_volume(found: re.Match[str], sizes: Mapping[str, PanSize]) -> NamedPan | None:
    """Give a loaf tin of a volume the shape of the usual tin that holds nearly as much."""
    written, unit = (found["v"], found["vu"]) if found["v"] else (found["w"], found["wu"])
    number = _number(written.replace(",", "."))
    size = 0.001 if unit.lower() == "ml" else _QUART_L if unit.lower() == "quart" else 1.0
    litres = number * size
    if not _LEAST_L <= litres <= _MOST_L:
        return None
    return _like_a_tin(
        found.group(), sizes, lambda p: p.length_cm * p.width_cm * p.height_cm / 1000, litres, 1 / 3
    )


def _like_a_tin(
    text: str, sizes: Mapping[str, PanSize], size_of: Callable[[PanSize], float], size: float, power: float
) -> NamedPan:
    """Give a loaf tin of one known size the shape of the usual tin that is nearest to it in that size."""
    tins = [p for p in sizes.values() if p.kind == "tin"]
    if not tins:
        return NamedPan(text=text, fields={"pan_kind": "tin"})
    near = min(tins, key=lambda p: abs(size_of(p) - size))
    by = (size / size_of(near)) ** power
    lengths = {
        "pan_length_cm": near.length_cm,
        "pan_width_cm": near.width_cm,
        "pan_height_cm": near.height_cm,
    }
    fields = {field: round(length * by, 1) for field, length in lengths.items()}
    return NamedPan(text=text, fields={"pan_kind": "tin", **fields}, said="of the usual shape of loaf tins")


def _bare_lengths(text: str) -> re.Match[str] | None:
    """Find lengths without the word of a pan; behind no word of a place they have to be those of a loaf tin."""
    for found in _BARE_LENGTHS.finditer(text):
        least, most = sorted((_number(found["a"]), _number(found["b"])))
        placed = (
            found["where"]
            or found["opened"]
            or found["c"]
            or ((found["u1"] or found["u2"]) and least >= _LEAST_WIDE_IN)
        )
        if placed or (least >= _LEAST_WIDE_IN and _LEAST_LONG_IN <= most <= _LARGEST_IN):
            return found
    return None


def _of_pounds(text: str, pounds: float, sizes: Mapping[str, PanSize]) -> NamedPan:
    """Give a loaf tin that is named after the dough it holds; 450 g and 900 g tins are those of 1 and 2 lb."""
    known = [p for p in sizes.values() if p.pounds and abs(p.pounds - pounds) <= _WITHIN * pounds]
    return _of_size(text, known[0] if known else None)


def _of_size(text: str, named: PanSize | None) -> NamedPan:
    if named is None:
        return NamedPan(text=text, fields={"pan_kind": "tin"})
    fields: dict[str, float | str] = {
        "pan_kind": named.kind,
        "pan_length_cm": named.length_cm,
        "pan_width_cm": named.width_cm,
    }
    if named.kind != "flat":
        fields["pan_height_cm"] = named.height_cm
    return NamedPan(text=text, fields=fields, said="its usual measures, which differ a little by maker")


def _as_stated(found: re.Match[str], across: Mapping[str, float | str]) -> dict[str, float | str]:
    """Give the lengths as they are stated, and not those of the usual tin nearest to them."""
    unit = (found["u3"] or found["u2"] or found["u1"] or "").lower()
    values = [_number(found["a"]), _number(found["b"])]
    if not unit and max(values) <= _LARGEST_IN:
        unit = "in"
    size = 0.1 if unit == "mm" else _IN if unit.startswith(("in", '"', "″")) else 1.0
    return {"pan_length_cm": max(values) * size, "pan_width_cm": min(values) * size} if across else {}


def _number(text: str) -> float:
    if (alone := _IN_WORDS.get(text.lower())) is not None:
        return alone
    for mark, part in (("½", 0.5), ("¼", 0.25), ("¾", 0.75), (" 1/2", 0.5)):
        if mark in text:
            return float(text.replace(mark, "").strip()) + part
    return float(text)


def _of_diameter(found: re.Match[str]) -> NamedPan | None:
    across = _number(found["a"]) * (1.0 if found["unit"].lower() == "cm" else _IN)
    if not 4 <= across <= 60:
        return None
    noun = found["noun"].lower()
    round_tin = (
        "diameter" in noun
        or found.re in _SHAPED
        or noun not in ("round", "circle", "disc")
        or _TIN.match(found.string, found.end())
    )
    kind = "flat" if noun.startswith("square") or not round_tin else "round"
    return NamedPan(
        text=found.group(), fields={"pan_kind": kind, "pan_length_cm": across, "pan_width_cm": across}
    )


def _of_lengths(found: re.Match[str], sizes: Mapping[str, PanSize], *, flat: bool = False) -> NamedPan | None:
    values = [_number(found[key]) for key in ("a", "b", "c") if found[key]]
    unit = (found["u3"] or found["u2"] or found["u1"] or "").lower()
    said = ""
    if unit == "in" and _IN_THE.search(found.group()):
        unit = ""
    if not unit:
        if len(values) == 2 and max(values) <= _MOST_ROWS:
            return None  # "set 3 x 4 in the greased tin" is how the rolls lie
        holds = values[0] * values[1] * values[2] * _IN**3 if len(values) == 3 else 0.0
        large = max(values) > _LARGEST_IN or holds > _LARGEST_TIN_CM3
        if max(values) > _LARGEST_CM:
            return None
        unit, said = ("cm", "taken as centimetres") if large else ("in", "taken as inches")
    size = 1.0 if unit == "cm" else 0.1 if unit == "mm" else _IN
    lengths = [v * size for v in values]
    if not all(1 <= v <= 200 for v in lengths):
        return None
    flat = flat or (not found["noun"].lower().startswith(("loaf", "bread")) and min(lengths[:2]) > 14)
    if len(lengths) == 3 and not flat:
        fields = dict(zip(("pan_length_cm", "pan_width_cm", "pan_height_cm"), lengths, strict=True))
        return NamedPan(text=found.group(), fields={"pan_kind": "tin", **fields}, said=said)
    for named in sizes.values():
        known = sorted((named.length_cm, named.width_cm))
        given = sorted(lengths[:2])
        if all(abs(k - g) <= _WITHIN * k for k, g in zip(known, given, strict=True)):
            pan = _of_size(found.group(), named)
            return NamedPan(text=pan.text, fields=pan.fields, said=f"{said}; {pan.said}".lstrip("; "))
    if flat:
        return NamedPan(
            text=found.group(),
            fields={"pan_kind": "flat", "pan_length_cm": max(lengths[:2]), "pan_width_cm": min(lengths[:2])},
            said=said,
        )
    across = {"pan_length_cm": max(lengths[:2]), "pan_width_cm": min(lengths[:2])}
    return NamedPan(
        text=found.group(),
        fields={"pan_kind": "tin", **across},
        said=f"{said}; its height is not said".lstrip("; "),
    )
