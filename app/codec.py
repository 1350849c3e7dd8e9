"""Frozen domain values as JSON that is read back years later, exact to the last digit.

Every field is written, those at their default too: a default that changes later must not change what
was frozen. A field that did not exist yet takes its default when it is read; one that nobody knows is
refused, for a misspelt name would silently take its default.
"""

import json
from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from typing import Any

from pydantic import ConfigDict, TypeAdapter, ValidationError

from app.errors import Invalid

SCHEMA = 4
"""The form in which records are written now. It goes up when a field of any of them is renamed or changes
its meaning, together with a step of its codec."""

UNREADABLE = "unreadable-record"

_EXACTLY = ConfigDict(extra="forbid", strict=True)

type Step = Callable[[Any], Any]


class Codec[T]:
    """Writes and reads one type of value.

    name: under which the value stands beside the number of its form. steps: from the form of that
    number to the next one, where the two differ.
    """

    def __init__(self, name: str, type_: Any, steps: Mapping[int, Step] | None = None) -> None:
        self._name = name
        self._type = type_
        self._steps = steps or {}
        self._made: TypeAdapter[tuple[T]] | None = None

    @property
    def _adapter(self) -> TypeAdapter[tuple[T]]:
        # Made at its first use: building one takes longer than a page may take to start. In a tuple,
        # since what is said of unknown fields cannot be said of a dataclass from outside.
        if self._made is None:
            self._made = TypeAdapter(tuple[self._type], config=_EXACTLY)  # type: ignore[name-defined]
        return self._made

    def write(self, value: T) -> str:
        """The value as JSON, with the number of its form; equal values are equal text."""
        return f"{self._head}{_json(self._adapter.dump_python((value,))[0])}}}"

    def read(self, text: str) -> T:
        """The value of a JSON of this form or an older one.

        Raises: Invalid where it is none, where the form is newer than this program, or where a rule
        of the value is broken.
        """
        try:
            return self._adapter.validate_json(f"[{self._body(text)}]")[0]
        except ValidationError as error:
            first = error.errors(include_url=False)[0]
            raise _unreadable(".".join(map(str, first["loc"][1:])), first["msg"]) from error
        except (ValueError, TypeError, LookupError, ArithmeticError, RecursionError) as error:
            raise _unreadable("", str(error) or type(error).__name__) from error

    @property
    def _head(self) -> str:
        return f'{{"schema":{SCHEMA},"{self._name}":'

    def _body(self, text: str) -> str:
        """The JSON of the value alone, in the form of now. Raises: ValueError and its like."""
        if text.startswith(self._head):
            return text[len(self._head) :].rstrip().removesuffix("}")
        whole = json.loads(text)
        if not isinstance(whole, dict):
            raise TypeError("it is no object")
        schema, plain = whole.pop("schema"), whole.pop(self._name)
        if whole:
            raise ValueError(f"nothing is known of {', '.join(whole)}")
        if schema > SCHEMA:
            raise ValueError(f"its form {schema} is newer than this program ({SCHEMA})")
        for number in range(schema, SCHEMA):
            plain = self._steps.get(number, _as_it_is)(plain)
        return _json(plain)


def _unreadable(path: str, why: str) -> Invalid:
    where = f" at {path}" if path else ""
    return Invalid.at(path, f"The record cannot be read{where}: {why}.", UNREADABLE)


def _as_it_is(plain: Any) -> Any:
    return plain


def _json(plain: Any) -> str:
    return json.dumps(plain, default=_written, ensure_ascii=False, separators=(",", ":"))


def _written(value: object) -> object:
    """What JSON has no form for. A set has no order of its own: it is written sorted."""
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} has no form in a snapshot")
