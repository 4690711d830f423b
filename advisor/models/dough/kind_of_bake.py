"""Which kind of bake a formula is: from its title, what it makes, how it is shaped and what is done with it.

Every word and every stated field that speaks for a kind adds to the logarithm of its odds; the kind that stands when
nothing speaks has a head start. The shares that follow are a stated likelihood, not a measured one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import exp

from advisor.formula.formula import Formula
from advisor.knowledge_base.ingredient import Role
from advisor.knowledge_base.kind_entries import Kind, MadeOf
from advisor.knowledge_base.knowledge import Knowledge

_MAKES = (
    r"(?:makes?|yields?|gives?|serves?|shape[ds]?|form(?:ed)?|cut|divide[ds]?|into|roll(?:ed)?|bake[ds]?(?:\s+as)?)\b"
    r"[^.\n]{0,24}?\b"
)
_AMOUNT_FIRST = re.compile(r"^\s*[-*•]?\s*[\d½¼¾⅓⅔]+(?![.)]\s)", re.UNICODE)


_IN_BRACKETS = re.compile(r"\([^)]*\)")
_END_OF_OPENING = re.compile(r"[.:;]|\s-\s")
_OPENING_WORDS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenKind:
    """The kind, how likely it is (0..1), and in a few words what it was chosen by."""

    kind: Kind
    likelihood: float
    by: str
    second: Kind | None = None
    """The likeliest other kind."""
    unknown: str = ""
    """The baker's own word, where no kind goes by it."""

    @property
    def stated(self) -> bool:
        """Whether the baker wrote it."""
        return self.by == STATED


STATED = "as written"
_NOTHING = "nothing says otherwise"


def kind_of_bake(formula: Formula, knowledge: Knowledge) -> ChosenKind | None:
    """Choose the kind; `None` where the knowledge has no kinds. What the baker wrote is taken."""
    if not knowledge.kinds:
        return None
    if (stated := kind_named(formula.process.kind, knowledge)) is not None:
        return ChosenKind(kind=stated, likelihood=1.0, by=STATED)
    scores: list[tuple[float, Kind, str]] = []
    first = _usual(knowledge)
    roles = {role for line in formula.lines for role in line.ingredient.roles}
    title = opening_of(formula, knowledge)
    head = _head(title, knowledge)
    for kind in knowledge.kinds.values():
        if not _can_be(kind, roles):
            continue
        found = list(_speaks_for(kind, head, title, formula, knowledge))
        points = sum(weight for weight, _ in found)
        if kind is first and not _out_of_its_shape(formula):
            points += knowledge.coefficient("kind_head_start")
        scores.append((points, kind, max(found)[1] if any(w > 0 for w, _ in found) else _NOTHING))
    scores.sort(key=lambda score: -score[0])
    points, kind, by = scores[0]
    return ChosenKind(
        kind=kind,
        likelihood=1 / sum(exp(p - points) for p, _, _ in scores),
        by=by,
        second=scores[1][1] if len(scores) > 1 else None,
        unknown=formula.process.kind or "",
    )


def kind_named(text: str | None, knowledge: Knowledge) -> Kind | None:
    """The kind that a baker's own word names: its id, its name or a noun of its titles; `None` where none does."""
    if not text:
        return None
    said = " ".join(text.lower().replace("_", " ").replace("-", " ").split())
    for kind in knowledge.kinds.values():
        if said in (kind.id.replace("_", " "), kind.name.lower()):
            return kind
    return _head(said, knowledge)


def _head(title: str, knowledge: Knowledge) -> Kind | None:
    """The kind that a title names: by the last noun of what stands before a comma, and else of the whole."""
    for part in (title.partition(",")[0], title):
        if (
            kind := max(_in_title(part, knowledge), default=(0, None), key=lambda hit: hit[0])[1]
        ) is not None:
            return kind
    return None


def opening_of(formula: Formula, knowledge: Knowledge) -> str:
    """The name of a formula where it names a kind, and else what a running text opens with.

    "Almond crackers: 240 g almond flour, ..." has no title line, and its first words are the title all the same. An
    opening ends at a full stop, a colon, a semicolon or an empty line; what begins with an amount is no title.
    """
    if next(_in_title(formula.name, knowledge), None) is not None:
        return formula.name
    first, _, below = formula.source_text.strip().partition("\n")
    plain = _IN_BRACKETS.sub("", first)
    end = _END_OF_OPENING.search(plain)
    alone = bool(below) and not below.partition("\n")[0].strip()
    opening = plain[: end.start()].strip() if end else plain.strip() if alone else ""
    if not opening or _AMOUNT_FIRST.match(opening) or len(opening.split()) > _OPENING_WORDS:
        return formula.name
    return opening


def _can_be(kind: Kind, roles: set[Role]) -> bool:
    return (not kind.needs_role or not roles.isdisjoint(kind.needs_role)) and roles.isdisjoint(
        kind.without_role
    )


def _speaks_for(
    kind: Kind, head: Kind | None, title: str, formula: Formula, knowledge: Knowledge
) -> Iterator[tuple[float, str]]:
    """Weights for a kind, each with what speaks for it; `head` is the kind that the title names."""
    c, p = knowledge.coefficient, formula.process
    if head is kind and not (kind is _usual(knowledge) and _out_of_its_shape(formula)):
        yield c("kind_title_weight"), "from the title"
    elif head is not kind and any(_places(title, kind.title)):
        yield c("kind_title_beside_weight"), "from the title"
    told = _told(formula.source_text, formula.name)
    if _tells_that_it_makes(told, kind.title):
        yield c("kind_makes_weight"), "from what it makes"
    if any(_places(told, kind.method)) or any(_places(title, kind.method)):
        yield c("kind_method_weight"), "from the method"
    if p.pan_kind in kind.shapes:
        yield c("kind_shape_weight"), "from its shape"
    if any(getattr(p, name) not in (None, False, ()) for name in kind.process):
        # What is cooked in steam alone is of that kind, whatever its title calls it.
        weight = "kind_title_weight" if kind.heat == "steamed" and p.oven_c is None else "kind_process_weight"
        yield c(weight), "from how it is baked"
    for made in kind.made_of:
        if _is_made_of(made, formula):
            yield made.weight, "from what it is made of"


def _usual(knowledge: Knowledge) -> Kind:
    """The kind that stands where nothing speaks for another: a loaf, which is in a tin unless it is said not to be."""
    return next(iter(knowledge.kinds.values()))


def _out_of_its_shape(formula: Formula) -> bool:
    """Whether it is said to bake without a tin: free on a stone, as rolls on a tray, or spread on one."""
    return formula.process.pan_kind in ("free_standing", "rolls", "flat")


def _is_made_of(made: MadeOf, formula: Formula) -> bool:
    """Whether enough of a dough's dry weight is of some roles or traits, with others beside them or without."""
    dry = having = 0.0
    beside = not made.beside
    for line in formula.lines:
        named = {*line.ingredient.roles, *line.all_traits}
        if not named.isdisjoint(made.without):
            return False
        beside = beside or not named.isdisjoint(made.beside)
        solids = line.grams * (100 - line.ingredient.per_100g.water) / 100
        dry += solids
        having += 0.0 if named.isdisjoint(made.of) else solids
    return beside and having > made.above * dry


def _in_title(title: str, knowledge: Knowledge) -> Iterator[tuple[int, Kind]]:
    """Kinds named in a title with the place of their last noun: in English the last one says what a thing is.

    A noun inside a longer one ("muffin" in "english muffin") does not count.
    """
    found = [
        (start, end, kind) for kind in knowledge.kinds.values() for start, end in _places(title, kind.title)
    ]
    for start, end, kind in found:
        if not any(s <= start and end <= e and (s, e) != (start, end) for s, e, _ in found):
            yield end, kind


@lru_cache(maxsize=4096)
def _places(text: str, words: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
    return tuple(found.span() for found in _pattern(words).finditer(text)) if words and text else ()


@lru_cache(maxsize=256)
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(words, key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(_loose, longest_first))})(?:e?s)?\b", re.IGNORECASE)


@lru_cache(maxsize=256)
def _makes(words: tuple[str, ...]) -> re.Pattern[str]:
    # "Shape into two loaf tins" tells of the tin and not of what comes out of it.
    return re.compile(
        rf"\b{_MAKES}(?:{'|'.join(map(_loose, words))})(?:e?s)?\b(?!\s+(?:tin|pan|mou?ld)s?\b)", re.IGNORECASE
    )


def _loose(word: str) -> str:
    """A word whose blanks may be hyphens or nothing, and many of it: flat bread, flat-bread, flatbread; loaves."""
    loose = r"[\s-]*".join(re.escape(part) for part in word.split())
    return re.sub(r"loaf$", "loa(?:f|ve)", loose)


@lru_cache(maxsize=4096)
def _tells_that_it_makes(text: str, words: tuple[str, ...]) -> bool:
    return bool(words) and _makes(words).search(text) is not None


@lru_cache(maxsize=512)
def _told(text: str, title: str) -> str:
    """What a text says beside its title and its lines that begin with an amount."""
    lines = (line for line in text.splitlines() if line.strip() != title and not _AMOUNT_FIRST.match(line))
    return "\n".join(lines)
