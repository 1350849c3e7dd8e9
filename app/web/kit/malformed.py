"""Says in our own words and codes how a request does not fit its model.

Owns the sentences for fields that are missing, unknown, of another type or out of bounds. The validator
only says which of these it was; neither its words nor its codes reach a program that calls us.
"""

import re
from collections.abc import Mapping
from typing import Any, get_args

from pydantic import BaseModel

from app.counting import counted
from app.errors import Fault, quoted

type Location = tuple[object, ...]

MISSING = "missing"
UNKNOWN = "unknown"
WRONG_TYPE = "wrong-type"
NO_CHOICE = "not-a-choice"
OUT_OF_BOUNDS = "out-of-bounds"
NOT_JSON = "not-json"
MORE_UNKNOWN = "more_unknown"
"""The validator's word for unknown fields of an object beyond those that are named."""

_TEXT = "text is wanted"
_OBJECT = "an object with its fields is wanted"

WANTED: Mapping[str, str] = {
    "string": _TEXT,
    "length": _TEXT,
    "int": "a whole number is wanted",
    "bool": "true or false is wanted",
    "tuple": "a list is wanted",
    "list": "a list is wanted",
    "model": _OBJECT,
    "dict": _OBJECT,
}
"""What would do, by the first of the validator's words for a wrong type."""

BOUNDS: Mapping[str, str] = {
    "greater_than_equal": "is {given}; at least {ge} is wanted",
    "less_than_equal": "is {given}; at most {le} is allowed",
    "too_long": "has {count} {what}; at most {max_length} are read",
    "too_short": "has {count} {what}; at least {min_length} are wanted",
}
"""What a value is and what it may be, by the validator's word for what is out of bounds."""


def fault_of(item: Mapping[str, Any], model: type[BaseModel] | None) -> Fault:
    """Put one error of the validator into a fault. model: of the whole body, where there is one."""
    place = tuple(part for part in item["loc"] if part not in ("body", "query", "path"))
    kind = str(item["type"])
    if kind == "json_invalid":
        return Fault(path="", message=_not_json(place), code=NOT_JSON)
    path = ".".join(quoted(str(part))[1:-1] for part in place)
    code, message = _said(kind, item, path, model)
    return Fault(path=path, message=message, code=code)


def _said(
    kind: str, item: Mapping[str, Any], path: str, model: type[BaseModel] | None
) -> tuple[str, str]:
    given, bounds = item.get("input"), item.get("ctx", {})
    if kind == "missing":
        return MISSING, _missing(path, _around(item["loc"], model))
    if kind == MORE_UNKNOWN:
        return UNKNOWN, _more_unknown(path, bounds["more"])
    if kind == "extra_forbidden":
        return UNKNOWN, _unknown(path, _around(item["loc"], model))
    bound = BOUNDS.get(kind.removeprefix("string_"))
    if bound:
        count = len(given) if isinstance(given, str | list | tuple) else "other"
        what = "characters" if isinstance(given, str) else "entries"
        said = bound.format(given=_shown(given), count=count, what=what, **bounds)
        return OUT_OF_BOUNDS, f"{_subject(path)} {said}."
    wanted = WANTED.get(kind.partition("_")[0])
    if wanted:
        return WRONG_TYPE, _wrong_type(path, given, wanted)
    return _no_choice(kind, path, given, bounds)


def _no_choice(kind: str, path: str, given: object, bounds: Mapping[str, Any]) -> tuple[str, str]:
    if kind in ("literal_error", "enum"):
        allowed = re.sub(r"'([^']*)'", r"“\1”", str(bounds["expected"]))
        return NO_CHOICE, f"{_subject(path)} is {_shown(given)}; allowed is {allowed}."
    return "invalid", f"{_subject(path)} is {_shown(given)}, which cannot be read here."


def _subject(path: str) -> str:
    return path or "The request"


def _not_json(place: Location) -> str:
    at = f" from character {place[-1] + 1} on" if place and isinstance(place[-1], int) else ""
    return f"The request is not readable JSON{at}."


def _missing(path: str, owner: type[BaseModel] | None) -> str:
    if not path:
        return "The request is empty; a JSON object with its fields is wanted."
    needed = [n for n, field in owner.model_fields.items() if field.is_required()] if owner else []
    inside = path.rpartition(".")[0] or "the request"
    wanted = f"{inside} needs {_listed(needed)}" if needed else "it must be given"
    return f"The field {path} is missing; {wanted}."


def _unknown(path: str, owner: type[BaseModel] | None) -> str:
    inside = path.rpartition(".")[0] or "the request"
    known = f"; {inside} may have {_listed(list(owner.model_fields))}" if owner else ""
    return f"The field {path} is not known{known}."


def _more_unknown(path: str, count: int) -> str:
    return f"{counted(count, 'further field')} of {path or 'the request'} are not known either."


def _wrong_type(path: str, given: object, wanted: str) -> str:
    example = ""
    if wanted == _TEXT and isinstance(given, int | float) and not isinstance(given, bool):
        example = f': "{given}"'
    return f"{_subject(path)} is {_kind_of(given)}, but {wanted}{example}."


def _kind_of(given: object) -> str:
    """Say in words what a value of JSON is."""
    match given:
        case None:
            return "null"
        case bool():
            return "true" if given else "false"
        case int() | float():
            return f"a number, {given}"
        case str():
            return f"the text {quoted(given)}"
        case list() | tuple():
            return "a list"
    return "an object"


def _shown(given: object) -> str:
    return quoted(given) if isinstance(given, str) else _kind_of(given).removeprefix("a number, ")


def _listed(names: list[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def _around(location: Location, model: type[BaseModel] | None) -> type[BaseModel] | None:
    """Return the model that a field belongs to, or would belong to; None where it cannot be told."""
    for part in location[:-1]:
        if model is None:
            return None
        if isinstance(part, int) or part == "body":
            continue
        field = model.model_fields.get(str(part))
        model = _model_in(field.annotation) if field else None
    return model


def _model_in(annotation: object) -> type[BaseModel] | None:
    """Return the one model within an annotation, as in `tuple[Mat, ...]` or `Size | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next(filter(None, map(_model_in, get_args(annotation))), None)
