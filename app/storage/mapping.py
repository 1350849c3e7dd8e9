"""Rows of tables, and how a value of the domain is one: each field is the column of its name.

A field that is itself made of fields stands in the columns of these, a size in width and height. An amount
stands in minor units, `<field>_minor`, with its `currency` beside it; a length in grains, a choice as its
word. Other types are converted by their column. What does not go by name is said where it is kept.
"""

import json
from collections.abc import Callable, Collection, Mapping
from dataclasses import fields, is_dataclass
from datetime import UTC, date, datetime
from enum import StrEnum
from fractions import Fraction
from functools import cache, partial
from operator import attrgetter
from typing import Any, NamedTuple, get_args, get_type_hints

from sqlalchemy import Integer, Text, TypeDecorator
from sqlalchemy.engine import Dialect
from sqlalchemy.orm import DeclarativeBase

from app.lengths import Length, from_grains, to_grains
from app.money import CURRENCIES, Currency, Money

type Columns = dict[str, Any]


class Day(TypeDecorator[date]):
    """A calendar day as "2026-11-25"."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: date | None, dialect: Dialect) -> str | None:
        """Return the day as text."""
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, dialect: Dialect) -> date | None:
        """Return the day of the text."""
        return None if value is None else date.fromisoformat(value)


class Instant(TypeDecorator[datetime]):
    """A moment in UTC as "2026-11-25T09:30:00.000000Z", so that text sorts as time does.

    It is read in the time zone of this machine, as the shop's clock shows it: its hour and its day are the shop's.
    A datetime without a zone is refused with ValueError: it could be any moment of a day.
    """

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        """Return the moment as text."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment is stored with its time zone")
        return value.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")

    def process_result_value(self, value: str | None, dialect: Dialect) -> datetime | None:
        """Return the moment of the text, as the clock of this machine shows it."""
        return None if value is None else datetime.fromisoformat(value).astimezone()


class Flag(TypeDecorator[bool]):
    """Yes or no as 1 or 0; a STRICT table has no BOOLEAN."""

    impl = Integer
    cache_ok = True

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> int | None:
        """Return 1 for true and 0 for false."""
        return None if value is None else int(value)

    def process_result_value(self, value: int | None, dialect: Dialect) -> bool | None:
        """Return whether the number is 1."""
        return None if value is None else bool(value)


class Share(TypeDecorator[Fraction]):
    """An exact number as "1/8"."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Fraction | None, dialect: Dialect) -> str | None:
        """Return the number as text."""
        return None if value is None else str(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Fraction | None:
        """Return the number of the text."""
        return None if value is None else Fraction(value)


class JsonList(TypeDecorator[list[Any]]):
    """A short list as JSON."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: list[Any] | None, dialect: Dialect) -> str | None:
        """Return the list as JSON."""
        return None if value is None else json.dumps(value, ensure_ascii=False)

    def process_result_value(self, value: str | None, dialect: Dialect) -> list[Any] | None:
        """Return the list of the JSON."""
        return None if value is None else json.loads(value)


class TextOrNull(TypeDecorator[str]):
    """A text, "" as NULL: so that it may be unique wherever there is one."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """Return the text; NULL for none."""
        return value or None

    def process_result_value(self, value: str | None, dialect: Dialect) -> str:
        """Return the text; "" for NULL."""
        return value or ""


class Row(DeclarativeBase):
    """A row; its columns by the types of Python.

    Columns, keys and indexes are said in its class and in the migrations, and a test holds the two equal. The
    rules within a row (CHECK), the triggers and the word indexes stand in the migrations alone.
    """

    type_annotation_map = {  # noqa: RUF012 - the name and form that SQLAlchemy asks for
        str: Text,
        bool: Flag,
        date: Day,
        datetime: Instant,
        Fraction: Share,
        list[Any]: JsonList,
    }


STRICT = {"sqlite_strict": True}
KEYED = {"sqlite_strict": True, "sqlite_with_rowid": False}


type Reader = Callable[[Any], Any]


class _Field(NamedTuple):
    """A field of a value, its columns, and how it is read from a row."""

    name: str
    columns: tuple[str, ...]
    read: Reader


def _found_fields(type_: Any) -> tuple[_Field, ...]:
    hints = get_type_hints(type_)
    return tuple(_field(each.name, hints[each.name]) for each in fields(type_) if each.init)


_fields: Callable[[Any], tuple[_Field, ...]] = cache(_found_fields)


def _sole(hint: Any) -> Any:
    """Return the type of a hint, without the None that may stand there instead."""
    others = [each for each in get_args(hint) if each is not type(None)]
    return others[0] if len(others) == 1 and type(None) in get_args(hint) else hint


def _field(name: str, hint: Any) -> _Field:
    type_ = _sole(hint)
    columns: tuple[str, ...] = (name,)
    read = _converting(name, type_)
    if type_ is Money:
        columns, read = (f"{name}_minor", "currency"), _amount_of(f"{name}_minor")
    elif read is None and isinstance(type_, type) and is_dataclass(type_):
        columns = tuple(column for each in _fields(type_) for column in each.columns)
        read = partial(value_of, type_)
    if read is None:
        return _Field(name, columns, attrgetter(name))
    return _Field(name, columns, read if type_ is hint else _unless_null(columns[0], read))


def _converting(name: str, type_: Any) -> Reader | None:
    """Tell how what stands in one column in another form is read; None where it is not in another form."""
    convert: Reader
    if type_ is Length:
        convert = from_grains
    elif type_ is Currency:
        convert = CURRENCIES.__getitem__
    elif isinstance(type_, type) and issubclass(type_, StrEnum):
        convert = type_
    else:
        return None
    return lambda row: convert(getattr(row, name))


def _amount_of(column: str) -> Reader:
    return lambda row: Money(getattr(row, column), CURRENCIES[row.currency])


def _unless_null(column: str, read: Reader) -> Reader:
    return lambda row: None if getattr(row, column) is None else read(row)


def columns_of(value: Any, *, but: Collection[str] = (), path: str = "") -> Columns:
    """Return the columns of a value by name.

    but: fields that do not go by name.

    Raises: Invalid at the name of the field, or at the path, where a length is too fine to be kept.
    """
    found: Columns = {}
    for field in _fields(type(value)):
        if field.name not in but:
            found |= _written(field, getattr(value, field.name), path or field.name)
    return found


def _written(field: _Field, value: Any, path: str) -> Columns:
    match value:
        case None:
            found: Columns = dict.fromkeys(field.columns)
        case Money():
            found = {f"{field.name}_minor": value.minor, "currency": value.currency.code}
        case Length():
            found = {field.name: to_grains(value, path=path)}
        case Currency():
            found = {field.name: value.code}
        case StrEnum():
            found = {field.name: value.value}
        case _ if is_dataclass(value):
            found = columns_of(value, path=path)
        case _:
            found = {field.name: value}
    return found


def names_of_columns(type_: type[Any], *, but: Collection[str] = ()) -> tuple[str, ...]:
    """Return the names of the columns that `value_of` reads. but: fields that do not go by name."""
    named = (field for field in _fields(type_) if field.name not in but)
    return tuple(dict.fromkeys(column for field in named for column in field.columns))


def value_of[T](type_: type[T], row: Any, **given: Any) -> T:
    """Return the value that a row stands for.

    given: fields that do not go by name.
    """
    named = {field.name: field.read(row) for field in _fields(type_) if field.name not in given}
    return type_(**named, **given)


def write(row: Row, columns: Mapping[str, Any]) -> None:
    """Put columns into a row that is kept already."""
    for name, value in columns.items():
        setattr(row, name, value)
