"""A value's fields are the columns of their names, and read back as they were."""

import time
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from fractions import Fraction
from types import SimpleNamespace

import pytest
from sqlalchemy.dialects import sqlite

from app.errors import Invalid
from app.lengths import Length, Size, mm
from app.money import CURRENCIES, Currency, Money
from app.storage.mapping import Instant, columns_of, value_of


class Wood(StrEnum):
    OAK = "oak"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    shelf: int
    box: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Plank:
    wood: Wood
    length: Length
    place: Place
    price: Money
    share: Fraction
    on: date
    size: Size | None = None
    second: Wood | None = None
    tip: Length | None = None
    marks: tuple[int, ...] = ()


PLANK = Plank(
    wood=Wood.OAK,
    length=mm(2),
    place=Place(shelf=3, box=4),
    price=Money(0, CURRENCIES["EUR"]),
    share=Fraction(1, 3),
    on=date(2026, 3, 2),
)
COLUMNS = {
    "wood": "oak",
    "length": 640_000,
    "shelf": 3,
    "box": 4,
    "price_minor": 0,
    "currency": "EUR",
    "share": Fraction(1, 3),
    "on": date(2026, 3, 2),
    "width": None,
    "height": None,
    "second": None,
    "tip": None,
    "marks": (),
}


def test_a_length_is_grains_an_amount_minor_units_and_a_value_of_values_its_own_columns() -> None:
    """2 mm are 640,000 grains of 1/320,000 mm."""
    assert columns_of(PLANK) == COLUMNS


def test_columns_read_back_as_the_value() -> None:
    assert value_of(Plank, SimpleNamespace(**COLUMNS)) == PLANK
    sized = COLUMNS | {"width": 320_000, "height": 0, "second": "oak", "tip": 0}
    read = value_of(Plank, SimpleNamespace(**sized))
    assert (read.size, read.second, read.tip) == (Size(mm(1), mm(0)), Wood.OAK, mm(0))


def test_what_does_not_go_by_name_is_left_out_and_given() -> None:
    columns = columns_of(PLANK, but=("wood", "place"))
    assert {"wood", "shelf", "box"}.isdisjoint(columns)
    place = Place(shelf=9, box=9)
    read = value_of(Plank, SimpleNamespace(**columns), wood=Wood.OAK, place=place)
    assert read.place == place


def test_a_length_too_fine_is_said_at_its_field() -> None:
    fine = Size(mm(1), mm("1/3"))

    @dataclass(frozen=True)
    class Sheet:
        size: Size

    with pytest.raises(Invalid) as caught:
        columns_of(Sheet(fine))
    assert [fault.path for fault in caught.value.faults] == ["size"]


def test_a_field_without_its_column_is_a_bug() -> None:
    with pytest.raises(AttributeError, match="at"):
        value_of(_Noted, SimpleNamespace(by="Ada"))


@dataclass(frozen=True)
class _Noted:
    at: datetime
    by: str
    money: Currency = CURRENCIES["EUR"]


def test_a_currency_is_its_code() -> None:
    noted = _Noted(datetime(2026, 3, 2, tzinfo=UTC), "Ada")
    assert columns_of(noted)["money"] == "EUR"
    assert value_of(_Noted, SimpleNamespace(**columns_of(noted))) == noted


def test_a_moment_is_read_by_the_clock_of_the_shop(monkeypatch: pytest.MonkeyPatch) -> None:
    """At 23:30 on Monday in a shop five hours behind, it is Tuesday in UTC, and still the Monday of the shop."""
    monkeypatch.setenv("TZ", "EST5")
    time.tzset()
    try:
        dialect, told = sqlite.dialect(), Instant()
        text = told.process_bind_param(datetime(2026, 12, 8, 4, 30, tzinfo=UTC), dialect)
        read = told.process_result_value(text, dialect)
    finally:
        monkeypatch.undo()
        time.tzset()
    assert text == "2026-12-08T04:30:00.000000Z"
    assert read is not None
    assert (read.date(), f"{read:%H:%M}", read.utcoffset()) == (
        date(2026, 12, 7),
        "23:30",
        timedelta(hours=-5),
    )
