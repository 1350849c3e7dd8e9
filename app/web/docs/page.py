"""The page that describes the JSON. It is read off the app's own OpenAPI, so that it cannot say anything else."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from app.web.kit.templating import Page

Schema = Mapping[str, Any]

FORM = "multipart/form-data"

DEEPEST = 6
"""Fields within fields; the contract has three levels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldRow:
    """One field of a request.

    path: dotted, with [] for each element of a list.
    """

    path: str
    type: str
    needed: bool
    default: str
    about: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestExample:
    """A request with its answer, which is empty where this shop cannot answer it."""

    request: str
    answer: str

    @classmethod
    def of(cls, request: object, answer: object = None) -> "RequestExample":
        """Make an example of a request and its answer, both as readable JSON."""
        return cls(request=as_text(request), answer="" if answer is None else as_text(answer))


@dataclass(frozen=True, slots=True, kw_only=True)
class Endpoint:
    """One address of the JSON with what it takes."""

    id: str
    method: str
    path: str
    title: str
    about: str
    fields: tuple[FieldRow, ...]
    example: RequestExample | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DocsPage(Page):
    """The page that describes the JSON.

    refusal: an example of the one shape of errors.
    """

    title: str = "JSON"
    endpoints: tuple[Endpoint, ...]
    refusal: str

    @property
    def addresses(self) -> tuple[tuple[str, str], ...]:
        """Every address once, with the id of its first endpoint."""
        firsts: dict[str, str] = {}
        for each in self.endpoints:
            firsts.setdefault(each.path, each.id)
        return tuple(firsts.items())


REFUSAL = {
    "error": {
        "code": "invalid",
        "message": "“16x” has no second side; a width and a height such as 16x20 is read.",
        "fields": [{"path": "artwork.size", "message": "…", "code": "invalid"}],
    }
}


def as_text(value: object) -> str:
    """Write a value as readable JSON."""
    return json.dumps(value, indent=1, ensure_ascii=False)


def endpoints(openapi: Schema, examples: Mapping[str, RequestExample]) -> tuple[Endpoint, ...]:
    """Return every address under /api, in the order in which the app was put together."""
    return tuple(
        _endpoint(openapi, method, path, said, examples.get(path))
        for path, methods in openapi["paths"].items()
        if path.startswith("/api/")
        for method, said in methods.items()
    )


def _endpoint(
    openapi: Schema, method: str, path: str, said: Schema, example: RequestExample | None
) -> Endpoint:
    kinds = said.get("requestBody", {}).get("content", {})
    schema = (kinds.get("application/json") or kinds.get(FORM) or {}).get("schema")
    asked = [each for each in said.get("parameters", ()) if each["in"] == "query"]
    parameters: Schema = {
        "properties": {each["name"]: {**each["schema"], **_about(each)} for each in asked},
        "required": [each["name"] for each in asked if each.get("required")],
    }
    return Endpoint(
        id=_id(method, path),
        method=method.upper(),
        path=path,
        title=said.get("summary", path),
        about=said.get("description", ""),
        fields=tuple(_fields(openapi, schema or parameters, "")),
        example=example,
    )


def _id(method: str, path: str) -> str:
    """Return what an endpoint is called within the page: by its address, and its method where that only reads or removes."""
    words = path.strip("/").translate({ord("/"): "-", ord("{"): None, ord("}"): None})
    return words if method == "post" else f"{words}-{method}"


def _about(parameter: Schema) -> Schema:
    return {"description": parameter["description"]} if "description" in parameter else {}


def _fields(openapi: Schema, schema: Schema, before: str, depth: int = 0) -> Iterator[FieldRow]:
    """Return the fields of an object and of the objects within it."""
    whole = _resolved(openapi, schema)
    needed = whole.get("required", ())
    for name, field in whole.get("properties", {}).items():
        path = f"{before}{name}"
        inner, many = _inner(openapi, field)
        yield FieldRow(
            path=path,
            type=_type(openapi, field),
            needed=name in needed,
            default=_default(field),
            about=field.get("description", "") or (inner or {}).get("description", ""),
        )
        if inner is not None and depth < DEEPEST:
            yield from _fields(openapi, inner, f"{path}{'[]' if many else ''}.", depth + 1)


def _resolved(openapi: Schema, schema: Schema) -> Schema:
    """Return a schema with its reference followed."""
    if "$ref" not in schema:
        return schema
    named: Schema = openapi["components"]["schemas"][schema["$ref"].rpartition("/")[2]]
    return {**named, **{key: value for key, value in schema.items() if key != "$ref"}}


def _choices(openapi: Schema, field: Schema) -> list[Schema]:
    """Return the schemas that a field may have, without null."""
    whole = _resolved(openapi, field)
    parts = whole.get("anyOf") or whole.get("allOf")
    if parts is None:
        return [] if whole.get("type") == "null" else [whole]
    return [each for part in parts for each in _choices(openapi, part)]


def _inner(openapi: Schema, field: Schema) -> tuple[Schema | None, bool]:
    """Return the object in a field, if there is one, and whether it is an element of a list."""
    for part in _choices(openapi, field):
        if "properties" in part:
            return part, False
        if part.get("type") == "array":
            item = _resolved(openapi, part.get("items", {}))
            return (item, True) if "properties" in item else (None, False)
    return None, False


def _type(openapi: Schema, field: Schema) -> str:
    return " or ".join(dict.fromkeys(_type_of(openapi, part) for part in _choices(openapi, field)))


def _type_of(openapi: Schema, part: Schema) -> str:
    if "enum" in part:
        return " | ".join(json.dumps(value) for value in part["enum"])
    if part.get("type") == "array":
        most = f", at most {part['maxItems']}" if "maxItems" in part else ""
        return f"list{most}"
    if part.get("format") == "binary" or "contentMediaType" in part:
        return "file"
    words = {"string": "text", "integer": "whole number", "boolean": "true | false"}
    kind = str(part.get("type", "anything"))
    return words.get(kind, kind)


def _default(field: Schema) -> str:
    if "default" not in field or field["default"] in (None, []):
        return ""
    return json.dumps(field["default"])
