"""Turns one file into typed entries, and every way that can fail into findings with file and line."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.strict_yaml import Document, read_yaml

E = TypeVar("E", bound=BaseModel)
_MUST_BE = {
    "tuple_type": "must be a list, such as [one, two]",
    "dict_type": "must be key: value, a line each",
    "model_type": "must be key: value, a line each",
    "string_type": "must be a text; put quotes around it",
    "float_type": "must be a number",
    "int_type": "must be a whole number",
    "bool_type": "must be true or false",
}
"""What was expected, for what a person may well write otherwise."""


def _known_keys(model: type[BaseModel], where: tuple[int | str, ...]) -> list[str]:
    """Names that the innermost model on a path accepts, as written in YAML."""
    for part in where[:-1]:
        annotation = model.model_fields.get(str(part))
        inner = annotation.annotation if annotation else None
        candidates = [inner, *getattr(inner, "__args__", ())]
        model = next((c for c in candidates if isinstance(c, type) and issubclass(c, BaseModel)), model)
    return [info.alias or name for name, info in model.model_fields.items()]


def _sentence(error: ErrorDetails, model: type[BaseModel]) -> str:
    where = error["loc"]
    path = ".".join(str(p) for p in where)
    if error["type"] == "extra_forbidden":
        known = _known_keys(model, where)
        near = nearest(str(where[-1]), known, 1)
        hint = f"did you mean '{near[0]}'?" if near else f"known keys: {', '.join(known)}"
        return f"the key '{path}' is not known; {hint}"
    if error["type"] == "missing":
        return f"the key '{path}' is missing"
    message = _MUST_BE.get(error["type"]) or str(error["msg"]).removeprefix("Value error, ")
    return f"{path}: {message}" if path else message


def read_entries(path: Path, shown: str, model: type[E]) -> tuple[tuple[E, int], ...]:
    """Read a file that holds a list of entries of one kind; give each with its line.

    Raises:
        KnowledgeFault: naming file, entry and line of every entry that does not fit.
    """
    document = read_yaml(path, shown)
    if not isinstance(document.data, list):
        raise KnowledgeFault(
            (Finding(file=shown, line=1, check="shape", message="must be a list of entries (- id: ...)"),)
        )
    found: list[tuple[E, int]] = []
    faults: list[Finding] = []
    for index, raw in enumerate(document.data):
        try:
            found.append((model.model_validate(raw), document.line_of((index,))))
        except ValidationError as error:
            faults += _findings(error, model, document, index, shown)
    if faults:
        raise KnowledgeFault(tuple(faults))
    return tuple(found)


def read_entry(document: Document, shown: str, model: type[E]) -> E:
    """Read a document that holds one entry.

    Raises:
        KnowledgeFault: naming every key that does not fit, with its line.
    """
    if not isinstance(document.data, dict):
        message = "must be one entry: key and value, a line each"
        raise KnowledgeFault((Finding(file=shown, line=1, check="shape", message=message),))
    try:
        return model.model_validate(document.data)
    except ValidationError as error:
        raise KnowledgeFault(
            tuple(
                Finding(
                    file=shown,
                    line=document.line_of(item["loc"]),
                    check="shape",
                    message=_sentence(item, model),
                )
                for item in error.errors(include_url=False, include_context=False, include_input=False)
            )
        ) from None


def _findings(
    error: ValidationError, model: type[BaseModel], document: Document, index: int, shown: str
) -> list[Finding]:
    data = document.data
    raw = data[index] if isinstance(data, list) else None
    label = ""
    if isinstance(raw, dict):
        label = str(
            raw.get("id") or raw.get("key") or raw.get("word") or raw.get("from") or f"entry {index + 1}"
        )
    out = []
    for item in error.errors(include_url=False, include_context=False, include_input=False):
        line = document.line_of((index, *item["loc"]))
        out.append(
            Finding(file=shown, line=line, check="shape", message=f"{label}: {_sentence(item, model)}")
        )
    return out
