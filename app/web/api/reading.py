"""From parts of a request to values of the domain: each field is the member of its name.

Lengths are read, and every unreadable one is gathered before the rules are asked. What does not go by name is said
where it is read.
"""

from collections.abc import Callable, Mapping
from copy import copy
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import cache
from typing import Any, get_args, get_type_hints

from app.errors import FaultCollector, Invalid, quoted
from app.lengths import ZERO, Length, Unit, parse_length
from app.web.api.requests_lengths import RequestModel


class RequestReader:
    """Reads the parts of a request. unit: of its bare lengths.

    lengths, costs: all that were read so far.
    """

    def __init__(self, unit: Unit) -> None:
        self.unit = unit
        self.faults = FaultCollector()
        self.lengths: list[Length] = []
        self.costs: list[Fraction] = []

    def in_unit(self, unit: Unit) -> "RequestReader":
        """Return a reader of bare lengths in another unit. What it reads and finds is gathered with the rest."""
        other = copy(self)
        other.unit = unit
        return other

    def part[T](
        self, made: type[T], asked: RequestModel, path: str = "", usual: object = None, **own: Any
    ) -> T:
        """Return a value of the domain from a part of the request; as `fields`."""
        return made(**self.fields(made, asked, path, usual, **own))

    def fields(
        self, made: type, asked: RequestModel, path: str = "", usual: object = None, **own: Any
    ) -> dict[str, Any]:
        """Return the fields of a value. A field that is made of members, as a size of width and height, is read from these.

        usual: has by the same names what stands in for members that are left out. own: fields that do not go by name.
        """
        read = dict(own)
        for name, kind in _kinds(made).items():
            if name in own:
                continue
            if name in type(asked).model_fields:
                said = self._value(kind, getattr(asked, name), _at(path, name), usual)
                read[name] = getattr(usual, name, None) if said is None else said
            elif _is_made_of(kind, type(asked)):
                read[name] = self._together(kind, asked, path)
        return read

    def length(self, path: str, text: str | None, default: Length = ZERO) -> Length:
        """Return a length; the default where nothing was given or nothing can be read."""
        if text is None:
            return default
        try:
            length = parse_length(text, unit=self.unit, path=path, zero_ok=True, negative_ok=True)
        except Invalid as invalid:
            self.faults.take(invalid)
            return default
        self.lengths.append(length)
        return length

    def _value(self, kind: Any, said: Any, path: str, usual: object) -> Any:
        if said is None:
            return None
        if isinstance(said, tuple):
            (of, _) = get_args(kind)
            return tuple(
                self._value(of, each, _at(path, row), usual) for row, each in enumerate(said)
            )
        if kind is Length:
            return self.length(path, said)
        if kind is Fraction:
            return self._cost(path, said)
        return self.part(kind, said, path, usual) if _has_fields(kind) else kind(said)

    def _together(self, kind: Any, asked: RequestModel, path: str) -> Any:
        """Return a value made of lengths that go together; None where none of them was given."""
        given = [name for name in _kinds(kind) if getattr(asked, name) is not None]
        if not given:
            return None
        missing = _kinds(kind).keys() - given
        for name in missing:
            self.faults.add(
                _at(path, name), f"This field is missing; it goes with {given[0]}.", "missing"
            )
        return self.part(kind, asked, path, **dict.fromkeys(missing, ZERO))

    def _cost(self, path: str, text: str) -> Fraction:
        """Return a cost, which is an exact number as exact lengths are written, without any unit."""
        try:
            cost = Length.of(text.strip(), Unit.MM).mm
        except ValueError:
            self.faults.add(
                path,
                f'{quoted(text)} is no cost; it is a plain number such as "48.50", zero or more.',
            )
            return Fraction(0)
        self.costs.append(cost)
        return cost


def or_faults[T](found: FaultCollector, make: Callable[[], T], under: str = "") -> T | None:
    """Return what is made; None, with its faults noted under a path, where it cannot be."""
    try:
        return make()
    except Invalid as invalid:
        found.take(invalid.under(under) if under else invalid)
        return None


def _at(path: str, name: object) -> str:
    return f"{path}.{name}" if path else str(name)


def _found_kinds(made: type) -> Mapping[str, Any]:
    """Return the type of each field, without the None that may stand there instead."""
    hints = get_type_hints(made)
    return {field.name: _sole(hints[field.name]) for field in fields(made)}


_kinds: Callable[[type], Mapping[str, Any]] = cache(_found_kinds)


def _sole(hint: Any) -> Any:
    others = [each for each in get_args(hint) if each is not type(None)]
    return others[0] if len(others) == 1 else hint


def _is_made_of(kind: Any, asked: type[RequestModel]) -> bool:
    return _has_fields(kind) and set(_kinds(kind)) <= set(asked.model_fields)


def _has_fields(kind: Any) -> bool:
    return is_dataclass(kind)
