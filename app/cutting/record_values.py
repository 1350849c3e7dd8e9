"""The single values of records: text, whole numbers, exact numbers and lengths, there and back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, NoReturn, Self

from app.errors import Invalid, quoted
from app.lengths import Length, Size, Unit, exact_text

UNREADABLE = "unreadable-record"


def number_text(number: Fraction) -> str:
    """An exact number, as a length of so many millimetres is written: "2.5", "1/3"."""
    return exact_text(Length(number), Unit.MM)


@dataclass(frozen=True, slots=True)
class RecordWriter:
    """Writes lengths in the unit of a question."""

    unit: Unit

    def lengths(self, **lengths: Length) -> dict[str, str]:
        """Each length by its name."""
        return {name: exact_text(length, self.unit) for name, length in lengths.items()}

    def size(self, size: Size) -> dict[str, str]:
        """Width and height."""
        return self.lengths(width=size.width, height=size.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """An object of a record. Whatever is asked of it and not there, or of another type, is refused.

    Raises everywhere: Invalid at the path of the value.
    """

    values: Mapping[str, Any]
    path: str = ""
    unit: Unit = Unit.MM

    @classmethod
    def of(cls, record: object, path: str = "", unit: Unit = Unit.MM) -> Self:
        """The object that a record is."""
        if not isinstance(record, dict):
            raise _unreadable(path, "is no object")
        return cls(values=record, path=path, unit=unit)

    def with_unit(self, unit: Unit) -> Self:
        """The same with its lengths in a unit."""
        return replace(self, unit=unit)

    def refuse(self, name: str, why: str) -> NoReturn:
        """Raise that a value cannot be read."""
        raise _unreadable(self._at(name), why)

    def value(self, name: str) -> object:
        """Whatever is there."""
        if name not in self.values:
            self.refuse(name, "is missing")
        return self.values[name]

    def text(self, name: str) -> str:
        """A text."""
        value = self.value(name)
        return value if isinstance(value, str) else self.refuse(name, "is no text")

    def choice(self, name: str, choices: Iterable[str]) -> str:
        """One of some words."""
        value = self.text(name)
        return value if value in tuple(choices) else self.refuse(name, f"is {quoted(value)}")

    def flag(self, name: str) -> bool:
        """True or false."""
        value = self.value(name)
        return value if isinstance(value, bool) else self.refuse(name, "is neither true nor false")

    def whole(self, name: str) -> int:
        """A whole number."""
        value = self.value(name)
        if isinstance(value, int) and not isinstance(value, bool):
            return value
        return self.refuse(name, "is no whole number")

    def optional_whole(self, name: str) -> int | None:
        """A whole number or nothing."""
        return None if self.value(name) is None else self.whole(name)

    def number(self, name: str) -> Fraction:
        """An exact number."""
        return self._exact(name, Unit.MM).mm

    def length(self, name: str) -> Length:
        """A length in the unit of the question."""
        return self._exact(name, self.unit)

    def size(self) -> Size:
        """Width and height."""
        return Size(self.length("width"), self.length("height"))

    def optional(self, name: str) -> Self | None:
        """An object within this one, or nothing."""
        value = self.value(name)
        return None if value is None else self.of(value, self._at(name), self.unit)

    def each(self, name: str) -> tuple[Self, ...]:
        """The objects of a list."""
        values = self.value(name)
        if not isinstance(values, list):
            self.refuse(name, "is no list")
        return tuple(
            self.of(value, f"{self._at(name)}.{index}", self.unit)
            for index, value in enumerate(values)
        )

    def _exact(self, name: str, unit: Unit) -> Length:
        text = self.text(name)
        try:
            return Length.of(text, unit)
        except ValueError:
            return self.refuse(name, f"is {quoted(text)}, which is no exact number")

    def _at(self, name: str) -> str:
        return f"{self.path}.{name}" if self.path else name


def _unreadable(path: str, why: str) -> Invalid:
    return Invalid.at(path, f"The record cannot be read: {path or 'it'} {why}.", UNREADABLE)
