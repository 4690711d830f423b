"""Documents: schemas that say what every key means, and that what is written reads back as the same."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from pathlib import Path
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

import jsonschema
import pytest
import yaml
from case_files import demo
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from laws import examples

from advisor import load_knowledge
from advisor.formula.writing.as_yaml import write_formula_yaml
from advisor.formula.yaml_lines import yaml_lines
from advisor.interface.desk.bakers_answers import Told
from advisor.rendering.documents.kinds import KINDS, PRINTED
from advisor.rendering.documents.known import FindingsDocument, FindingShape, KnownIngredientShape
from advisor.rendering.documents.schemas import schema_of
from advisor.rendering.documents.writing import adapter, plain, rounded

KNOWLEDGE = load_knowledge()
SCHEMAS = {kind: schema_of(kind) for kind in KINDS}
DRAWN = sorted(set(PRINTED) - {"ingredients"})
"""Ingredients are checked as they are read, so that one drawn at random is none: all that are known are tried."""


def keys_of(schema: object, path: str = "") -> Iterator[tuple[str, dict[str, object]]]:
    """Every key that a schema names, at any depth, with what it says of it."""
    if isinstance(schema, dict):
        for name, said in schema.get("properties", {}).items():
            yield f"{path}/{name}", said
        for name, inner in schema.items():
            yield from keys_of(inner, f"{path}/{name}")
    elif isinstance(schema, list):
        for inner in schema:
            yield from keys_of(inner, path)


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_is_one_and_names_itself(kind):
    jsonschema.Draft202012Validator.check_schema(SCHEMAS[kind])
    assert f"dough-advisor {kind}" == SCHEMAS[kind]["title"]
    assert "https://json-schema.org/draft/2020-12/schema" == SCHEMAS[kind]["$schema"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_says_what_it_is(kind):
    keys = dict(keys_of(SCHEMAS[kind]))
    assert keys
    assert [] == [name for name, said in keys.items() if len(str(said.get("description", ""))) < 3]


@pytest.mark.parametrize("kind", PRINTED)
def test_what_is_printed_holds_all_its_keys_and_no_other(kind):
    parts = [SCHEMAS[kind], *SCHEMAS[kind].get("$defs", {}).values()]
    for part in parts:
        if "properties" in part:
            assert part["additionalProperties"] is False
            assert list(part["properties"]) == part["required"]


LETTERS = st.text('ab\n"é☃', max_size=4)
NUMBERS = st.integers(1, 10**6).map(lambda n: n / 10**6)
"""Such as any field takes: above 0, at most 1, with as many digits as are written."""


def values(hint: Any, inside_of: tuple[object, ...] = (), least: int = 0) -> st.SearchStrategy[Any]:
    """Values of a type of the documents, small ones: a list or a mapping holds at most two."""
    origin, parts = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return values(parts[0], inside_of, 1 if "MinLen" in repr(parts[1:]) else 0)
    if origin is Literal:
        return st.sampled_from(parts)
    if origin in (Union, UnionType):
        return st.one_of([values(one, inside_of) for one in parts])
    if origin is tuple and parts[-1] is not Ellipsis:
        return st.tuples(*(values(one, inside_of) for one in parts))
    if origin is tuple:
        # A proof holds proofs: one inside another is enough.
        if inside_of.count(parts[0]) > 1:
            return st.just(())
        return st.lists(values(parts[0], inside_of), min_size=least, max_size=2).map(tuple)
    if origin is Mapping:
        return st.dictionaries(LETTERS, values(parts[1], inside_of), max_size=2)
    if is_dataclass(hint):
        hints = get_type_hints(hint, include_extras=True)
        return st.builds(hint, **{name: values(one, (*inside_of, hint)) for name, one in hints.items()})
    plain_ones = {
        str: LETTERS,
        float: NUMBERS,
        bool: st.booleans(),
        int: st.integers(1, 5),
        type(None): st.none(),
    }
    return plain_ones[hint]


@pytest.mark.parametrize("kind", DRAWN)
def test_what_is_written_fits_its_schema_and_reads_back_as_the_same(kind):
    shape = PRINTED[kind]()
    reader, checker = adapter(shape), jsonschema.Draft202012Validator(SCHEMAS[kind])

    @examples(15, suppress_health_check=list(HealthCheck))
    @given(values(shape))
    def holds(document):
        written = json.dumps(plain(document), allow_nan=False)
        checker.validate(json.loads(written))
        assert document == reader.validate_json(written)

    holds()


def test_every_ingredient_reads_back_as_the_same():
    reader = adapter(KnownIngredientShape)
    for entry in KNOWLEDGE.ingredients.values():
        shape = KnownIngredientShape(own=False, entry=entry, all_sources=())
        assert shape == reader.validate_json(reader.dump_json(shape, by_alias=True))


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (1 / 3, 0.333333), (-1e-9, 0.0), (math.nan, None), (math.inf, None), (3, 3), (True, True),
        ({"a": [math.nan, 2.00000049]}, {"a": [None, 2.0]}), ("nan", "nan"),
    ],
)  # fmt: skip
def test_numbers_are_written_to_six_digits_and_never_as_what_json_does_not_know(value, expected):
    found = rounded(value)
    assert expected == found
    assert not (isinstance(found, float) and math.copysign(1, found) < 0), "no minus nought"


def test_a_key_that_is_no_key_is_refused():
    written = plain(FindingsDocument(findings=(FindingShape(file="a", line=1, check="c", message="m"),)))
    written["findings"][0]["colour"] = "red"
    with pytest.raises(jsonschema.ValidationError, match="colour"):
        jsonschema.validate(written, SCHEMAS["findings"])


@pytest.mark.parametrize("name", sorted(KNOWLEDGE.formulas))
def test_a_formula_as_it_is_written_fits_the_schema_of_formulas(name):
    jsonschema.validate(yaml.safe_load(write_formula_yaml(demo(name))), SCHEMAS["formula"])


@pytest.mark.parametrize(
    "text",
    [
        "name: a\nlines:\n  - {ingredient: water, grams: 3, colour: red}\n",
        "name: a\nlines: water\n",
        "name: a\nlines:\n  - 3\n",
        "name: a\ncolour: red\nlines:\n  - 3 g water\n",
        "name: a\nlines:\n  - 3 g water\nprocess: {mood: good}\n",
    ],
)
def test_what_the_reader_of_formulas_refuses_the_schema_refuses(text):
    assert yaml_lines(text, "a")[1]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(yaml.safe_load(text), SCHEMAS["formula"])


def test_answers_as_they_are_kept_fit_their_schema():
    told = Told(saw=("gummy_centre",), not_seen=("flat_loaf",), answers={"proof_covered": "no"})
    jsonschema.validate(yaml.safe_load(told.as_file()), SCHEMAS["answers"])
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"seen": []}, SCHEMAS["answers"])


def test_lessons_fit_their_schema():
    files = sorted((Path(__file__).parents[2] / "knowledge" / "lessons").glob("*.yaml"))
    assert files
    for file in files:
        found = yaml.safe_load(file.read_text("utf-8"))
        for lesson in found if isinstance(found, list) else [found]:
            jsonschema.validate(lesson, SCHEMAS["lesson-file"])


def test_limits_fit_their_schema():
    jsonschema.validate({"net_carb_max": 3.0, "avoid": ["milk"], "risk": 0.3}, SCHEMAS["limits"])
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"risk": 3}, SCHEMAS["limits"])
